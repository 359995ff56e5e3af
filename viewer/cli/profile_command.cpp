#include "checks/check_list.hpp"
#include "checks/report/json_report.hpp"
#include "checks/report/profile_csv.hpp"
#include "scene/documents/atomic_write.hpp"
#include "viewer/cli/checked.hpp"
#include "viewer/cli/commands.hpp"
#include "viewer/cli/loaded_setup.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <ostream>

namespace evenclose {

int run_profile(const ProfileCommand& command, std::ostream& out, std::ostream& err) {
    const std::optional<Loaded<Setup>> loaded = setup_or_faults(command.setup, err);
    if (!loaded) {
        return kExitUnusable;
    }
    const Setup& setup = *loaded->value;
    const Assembly assembly = assemble(setup);
    const CheckResults results =
        checked(setup, assembly, {{"travel", "level"}, command.jobs}, "sweeping the travel", err);
    const std::string csv = profile_csv(assembly, results);
    if (command.output.empty() || command.output == "-") {
        out << csv;
        return kExitGo;
    }
    if (const std::optional<std::string> fault = write_file_atomically(command.output, csv)) {
        err << "evenclose: " << *fault << "\n";
        return kExitUnusable;
    }
    if (command.json) {
        out << json_report(setup, results, loaded->notes);
    } else {
        out << fmt::format("{}: {} pairs over {} of travel, {} rows\n", command.output, results.profiles.size(),
                           show_length(assembly.last.mm, UnitSystem::metric),
                           std::max(std::count(csv.begin(), csv.end(), '\n') - 1, 0L));
    }
    return kExitGo;
}

} // namespace evenclose
