#include "checks/check_list.hpp"

#include "checks/bend/bend.hpp"
#include "checks/cavity/cavity.hpp"
#include "checks/daylight/daylight.hpp"
#include "checks/frame/frame_check.hpp"
#include "checks/hands/hands.hpp"
#include "checks/level/level.hpp"
#include "checks/load_in/load_in.hpp"
#include "checks/mesh/mesh_check.hpp"
#include "checks/pressure/pressure.hpp"
#include "checks/print/print.hpp"
#include "checks/release/release.hpp"
#include "checks/seat/seat.hpp"
#include "checks/stroke/drives.hpp"
#include "checks/stroke/stroke.hpp"
#include "checks/travel/travel.hpp"

#include <tbb/global_control.h>

#include <algorithm>
#include <functional>
#include <iterator>
#include <optional>

namespace evenclose {
namespace {

using Findings = std::vector<Finding>;

struct Runner {
    CheckEntry entry;
    double work; // share of a whole run's time, roughly: only for progress
    std::function<Findings(const Setup&, const Assembly&, CheckResults&, Progress&)> run;
};

/// Computed once a run: other checks ask for it too.
const std::shared_ptr<const FrameMeasure>& framed(const Setup& setup, const Assembly& assembly, CheckResults& results) {
    if (results.frame == nullptr) {
        results.frame =
            std::make_shared<const FrameMeasure>(measure_frame(setup, assembly, measure_pressure(setup, assembly)));
    }
    return results.frame;
}

const std::shared_ptr<const BendMeasure>& bent_faces(const Setup& setup, const Assembly& assembly,
                                                     CheckResults& results, Progress& progress) {
    if (results.bend == nullptr) {
        results.bend = std::make_shared<const BendMeasure>(measure_bend(setup, assembly, progress));
    }
    return results.bend;
}

const std::vector<Runner>& runners() {
    static const std::vector<Runner> list{
        {{"mesh", "are the meshes closed, oriented, free of self-intersection, of a plausible size?"},
         0.2,
         [](const Setup& setup, const Assembly& assembly, CheckResults&, Progress& progress) {
             return check_meshes(setup, assembly, progress);
         }},
        {{"seat", "does each half lie flat and wholly on its platen, pressed between the jacks?"},
         0.02,
         [](const Setup& setup, const Assembly& assembly, CheckResults&, Progress&) {
             return check_seat(setup, assembly);
         }},
        {{"load-in", "does the mold slide into place past posts, jacks and head?"},
         0.2,
         [](const Setup& setup, const Assembly& assembly, CheckResults&, Progress& progress) {
             return check_load_in(setup, assembly, progress);
         }},
        {{"daylight", "is there room to bring the mold in when the press is open?"},
         0.01,
         [](const Setup& setup, const Assembly& assembly, CheckResults&, Progress&) {
             return Findings{judge(measure_daylight(setup, assembly), setup)};
         }},
        {{"stroke", "does it close on the stack before any jack ends?"},
         0.01,
         [](const Setup& setup, const Assembly& assembly, CheckResults& results, Progress&) {
             Findings findings{judge(measure_stroke(setup, assembly), setup)};
             const DrivesMeasure drives = measure_drives(setup, assembly);
             results.jacks = drives.jacks;
             for (Finding& finding : judge(drives, setup, assembly)) {
                 findings.push_back(std::move(finding));
             }
             return findings;
         }},
        {{"travel", "does anything foul over the full stroke and tilt?"},
         0.75,
         [](const Setup& setup, const Assembly& assembly, CheckResults& results, Progress& progress) {
             Findings findings;
             for (const StandingFoul& foul : standing_fouls(assembly, progress)) {
                 findings.push_back(judge(foul, assembly));
             }
             results.profiles = measure_travel(setup, assembly, progress);
             for (Finding& finding : judge(results.profiles, setup, assembly, progress)) {
                 findings.push_back(std::move(finding));
             }
             return findings;
         }},
        {{"level", "how far does the platen tilt, and do the guides bind?"},
         0.01,
         [](const Setup& setup, const Assembly& assembly, CheckResults& results, Progress&) {
             results.level = level_curves(setup, assembly);
             Findings findings = judge(measure_level(setup, assembly), setup, assembly);
             if (const FrameMeasure& frame = *framed(setup, assembly, results); frame.computed()) {
                 findings.push_back(judge_level(frame, setup, assembly));
             }
             return findings;
         }},
        {{"cavity", "does the closed mold leave the stack's thickness everywhere?"},
         0.1,
         [](const Setup& setup, const Assembly& assembly, CheckResults& results, Progress& progress) {
             auto measure = std::make_shared<const CavityMeasure>(measure_cavity(setup, assembly, {}, progress));
             results.cavity = measure;
             Findings findings = judge(*measure, setup, assembly);
             const FrameMeasure& frame = *framed(setup, assembly, results);
             if (frame.computed() && measure->not_measured.empty() && measure->halves.slip == HalfSlip::none) {
                 const GapSummary gaps = bent(*measure, lower_bent(frame, setup), upper_bent(frame, setup),
                                              setup.limits.cavity_tolerance_mm);
                 const BendCost most = frame.costs.empty() ? BendCost{} : frame.costs.front();
                 findings.push_back(judge_bent(*measure, gaps, frame.force_N, most.parts, most.mm, setup, assembly));
             }
             return findings;
         }},
        {{"bend", "will the plies follow the forming faces, and how far does the deck spring back?"},
         0.1,
         [](const Setup& setup, const Assembly& assembly, CheckResults& results, Progress& progress) {
             return judge(*bent_faces(setup, assembly, results, progress), setup, assembly);
         }},
        {{"release", "do the halves come off the deck: no undercut, enough draft?"},
         0.05,
         [](const Setup& setup, const Assembly& assembly, CheckResults&, Progress& progress) {
             return judge(measure_release(setup, assembly, progress), setup, assembly);
         }},
        {{"print", "in how many pieces is the mold printed, what does it weigh, does its fill bear the pressing?"},
         0.02,
         [](const Setup& setup, const Assembly& assembly, CheckResults& results, Progress& progress) {
             return judge(measure_print(setup, assembly, measure_pressure(setup, assembly),
                                        *bent_faces(setup, assembly, results, progress)),
                          setup, assembly);
         }},
        {{"pressure", "is the force over the deck what the glue asks for, and do the jacks bear it?"},
         0.01,
         [](const Setup& setup, const Assembly& assembly, CheckResults&, Progress&) {
             return judge(measure_pressure(setup, assembly), setup, assembly);
         }},
        {{"frame", "does the press bear its own closing force, and what does its bending cost?"},
         0.3,
         [](const Setup& setup, const Assembly& assembly, CheckResults& results, Progress&) {
             return judge(*framed(setup, assembly, results), setup, assembly);
         }},
        {{"hands", "which closing gaps could catch somebody?"},
         0.1,
         [](const Setup&, const Assembly& assembly, CheckResults&, Progress& progress) {
             return judge(measure_hands(assembly, progress), assembly);
         }},
    };
    return list;
}

bool wanted(const CheckRequest& request, const char* id) {
    return request.only.empty() || std::find(request.only.begin(), request.only.end(), id) != request.only.end();
}

} // namespace

const std::vector<CheckEntry>& check_entries() {
    static const std::vector<CheckEntry> entries = [] {
        std::vector<CheckEntry> list;
        std::transform(runners().begin(), runners().end(), std::back_inserter(list),
                       [](const Runner& runner) { return runner.entry; });
        return list;
    }();
    return entries;
}

CheckResults run_checks(const Setup& setup, const Assembly& assembly, const CheckRequest& request, Progress& progress) {
    std::optional<tbb::global_control> at_most;
    if (request.jobs > 0) {
        at_most.emplace(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(request.jobs));
    }
    double all_work = 0;
    for (const Runner& runner : runners()) {
        all_work += wanted(request, runner.entry.id) ? runner.work : 0.0;
    }
    CheckResults results;
    double done = 0;
    for (const Runner& runner : runners()) {
        if (!wanted(request, runner.entry.id) || progress.cancelled()) {
            continue;
        }
        Progress part(progress, done / all_work, (done + runner.work) / all_work);
        Findings findings = runner.run(setup, assembly, results, part);
        std::move(findings.begin(), findings.end(), std::back_inserter(results.findings));
        done += runner.work;
        progress.tell(done / all_work);
    }
    sort_worst_first(results.findings);
    results.cancelled = progress.cancelled();
    return results;
}

} // namespace evenclose
