#include "checks/fit/fit.hpp"
#include "checks/report/fit_report.hpp"
#include "viewer/cli/commands.hpp"
#include "viewer/cli/loaded_setup.hpp"
#include "viewer/cli/mold_files.hpp"
#include "viewer/cli/progress_line.hpp"

#include <algorithm>
#include <ostream>

namespace evenclose {

int run_fit(const FitCommand& command, std::ostream& out, std::ostream& err) {
    const std::optional<Setup> like = empty_setup(command.press, command.like, err);
    const auto files = mold_files(command.molds, err);
    if (!like || !files) {
        return kExitUnusable;
    }
    Progress progress;
    std::vector<Fit> fits;
    {
        const ProgressLine line(progress, "fitting", err);
        fits = fit_all(*like, *files, command.jobs, progress);
    }
    out << (command.json  ? fit_json(*like, fits)
            : command.csv ? fit_csv(fits)
                          : fit_text(*like, fits, {command.units, 120}));
    if (std::any_of(fits.begin(), fits.end(), [](const Fit& fit) { return !fit.faults.empty(); })) {
        return kExitUnusable;
    }
    const auto stopped = [](const Fit& fit) { return fit.verdict == Verdict::no_go; };
    return std::any_of(fits.begin(), fits.end(), stopped) ? kExitNoGo : kExitGo;
}

} // namespace evenclose
