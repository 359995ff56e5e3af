#include "checks/check_list.hpp"
#include "checks/report/json_report.hpp"
#include "checks/report/text_report.hpp"
#include "viewer/cli/checked.hpp"
#include "viewer/cli/commands.hpp"
#include "viewer/cli/loaded_setup.hpp"

#include <ostream>

namespace evenclose {

int run_check(const CheckCommand& command, std::ostream& out, std::ostream& err) {
    const std::optional<Loaded<Setup>> loaded = setup_or_faults(command.setup, err);
    if (!loaded) {
        return kExitUnusable;
    }
    Setup setup = *loaded->value;
    if (!close_with(setup, command.force, err)) {
        return kExitUsage;
    }
    const Assembly assembly = assemble(setup);
    const CheckResults results = checked(setup, assembly, {command.only, command.jobs}, "checking", err);
    out << (command.json ? json_report(setup, results, loaded->notes)
                         : text_report(setup, results, loaded->notes, {command.units, 100}));
    return worst_of(results.findings) == Verdict::no_go ? kExitNoGo : kExitGo;
}

} // namespace evenclose
