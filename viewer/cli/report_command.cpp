#include "checks/check_list.hpp"
#include "checks/report/html_report.hpp"
#include "checks/report/json_report.hpp"
#include "checks/report/report_page.hpp"
#include "scene/documents/atomic_write.hpp"
#include "viewer/cli/checked.hpp"
#include "viewer/cli/commands.hpp"
#include "viewer/cli/loaded_setup.hpp"
#include "viewer/cli/today.hpp"
#include "viewer/report/pdf_report.hpp"
#include "viewer/report/report_pictures.hpp"
#include "viewer/version.hpp"

#include <fmt/format.h>

#include <exception>
#include <filesystem>
#include <ostream>

namespace evenclose {

int run_report(const ReportCommand& command, std::ostream& out, std::ostream& err) {
    const std::filesystem::path file(command.output);
    const bool pdf = file.extension() == ".pdf";
    if (!pdf && file.extension() != ".html" && file.extension() != ".htm") {
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
        ReportPage page = report_page(setup, assembly, results, loaded->notes, command.units);
        page.made_on = today();
        page.made_by = fmt::format("evenclose {}", version());
        if (command.pictures) {
            page.pictures = report_pictures(setup, assembly, results, command.units);
        }
        const std::string bytes =
            pdf ? pdf_report(page, command.paper == "letter" ? Paper::letter : Paper::a4) : html_report(page);
        if (const std::optional<std::string> fault = write_file_atomically(file, bytes)) {
            err << "evenclose: " << *fault << "\n";
            return kExitUnusable;
        }
        if (command.json) {
            out << json_report(setup, results, loaded->notes);
        } else {
            out << fmt::format("{}: {}, {} ({} pictures, {} kB)\n", command.output, setup.name,
                               name_of(worst_of(results.findings)), page.pictures.size(), bytes.size() / 1000);
        }
    } catch (const std::exception& fault) {
        err << fmt::format("evenclose: {}{}\n", fault.what(),
                           command.pictures ? "; --no-pictures makes the report without them" : "");
        return kExitUnusable;
    }
    return worst_of(results.findings) == Verdict::no_go ? kExitNoGo : kExitGo;
}

} // namespace evenclose
