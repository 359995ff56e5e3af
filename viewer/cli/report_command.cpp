#include "checks/check_list.hpp"
#include "checks/report/json_report.hpp"
#include "viewer/cli/checked.hpp"
#include "viewer/cli/commands.hpp"
#include "viewer/cli/loaded_setup.hpp"
#include "viewer/report/write_report.hpp"

#include <fmt/format.h>

#include <exception>
#include <ostream>

namespace evenclose {

int run_report(const ReportCommand& command, std::ostream& out, std::ostream& err) {
    if (!ends_as_report(command.output)) {
        err << fmt::format("evenclose: -o {}: a report is written as .html or .pdf\n", command.output);
        return kExitUsage;
    }
    const std::optional<Loaded<Setup>> loaded = setup_or_faults(command.setup, err);
    if (!loaded) {
        return kExitUnusable;
    }
    const Setup& setup = *loaded->value;
    const Assembly assembly = assemble(setup);
    const CheckResults results = checked(setup, assembly, {{}, command.jobs}, "checking", err);
    try {
        const WrittenReport written = write_report(
            setup, assembly, results, loaded->notes,
            {command.output, command.units, command.pictures, command.paper == "letter" ? Paper::letter : Paper::a4});
        if (command.json) {
            out << json_report(setup, results, loaded->notes);
        } else {
            out << fmt::format("{}: {}, {} ({} pictures, {} kB)\n", command.output, setup.name,
                               name_of(worst_of(results.findings)), written.pictures, written.bytes / 1000);
        }
    } catch (const std::exception& fault) {
        err << fmt::format("evenclose: {}{}\n", fault.what(),
                           command.pictures ? "; --no-pictures makes the report without them" : "");
        return kExitUnusable;
    }
    return worst_of(results.findings) == Verdict::no_go ? kExitNoGo : kExitGo;
}

} // namespace evenclose
