#include "checks/check_list.hpp"

#include "checks/bend/bend.hpp"
#include "checks/cavity/cavity.hpp"
#include "checks/daylight/daylight.hpp"
#include "checks/deck.hpp"
#include "checks/frame/frame_check.hpp"
#include "checks/hands/hands.hpp"
#include "checks/level/level.hpp"
#include "checks/load_in/load_in.hpp"
#include "checks/mesh/mesh_check.hpp"
#include "checks/opening_view.hpp"
#include "checks/plan/time_check.hpp"
#include "checks/pressure/pressure.hpp"
#include "checks/print/print.hpp"
#include "checks/release/release.hpp"
#include "checks/seat/seat.hpp"
#include "checks/stack/stack.hpp"
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

/// Asks each opening, or one of those that are alike, and says of which it is told.
Findings
each_opening(const Setup& setup, const Assembly& assembly, bool with_platens, Progress& progress,
             const std::function<Findings(const OpeningView&, const std::vector<std::size_t>&, Progress&)>& ask) {
    Findings all;
    const std::vector<std::vector<std::size_t>> groups = alike(setup, with_platens);
    for (std::size_t i = 0; i < groups.size() && !progress.cancelled(); ++i) {
        const auto share = [&](std::size_t done) {
            return static_cast<double>(done) / static_cast<double>(groups.size());
        };
        Progress part(progress, share(i), share(i + 1));
        Findings findings = ask(view_of(setup, assembly, groups[i].front()), groups[i], part);
        tell_of(findings, assembly, groups[i]);
        std::move(findings.begin(), findings.end(), std::back_inserter(all));
    }
    return all;
}

Findings each_opening(const Setup& setup, const Assembly& assembly, bool with_platens,
                      const std::function<Findings(const OpeningView&)>& ask) {
    Progress progress;
    return each_opening(setup, assembly, with_platens, progress,
                        [&](const OpeningView& view, const std::vector<std::size_t>&, Progress&) { return ask(view); });
}

/// For each opening by itself, wherever it stands.
Findings every_opening(const Setup& setup, const Assembly& assembly,
                       const std::function<Findings(const OpeningView&)>& ask) {
    Findings all;
    for (std::size_t i = 0; i < setup.openings.size(); ++i) {
        Findings findings = ask(view_of(setup, assembly, i));
        tell_of(findings, assembly, {i});
        std::move(findings.begin(), findings.end(), std::back_inserter(all));
    }
    return all;
}

/// Whose deck bends the press most (the smallest), and which shows a tilt most (the longest).
std::size_t smallest_deck(const Setup& setup) {
    const auto area = [&](const Opening& opening) {
        const Vec2 size = deck_plan(setup, opening).size_mm;
        return size.x * size.y;
    };
    const auto least = std::min_element(setup.openings.begin(), setup.openings.end(),
                                        [&](const Opening& a, const Opening& b) { return area(a) < area(b); });
    return static_cast<std::size_t>(least - setup.openings.begin());
}
std::size_t longest_deck(const Setup& setup) {
    const auto length = [&](const Opening& opening) { return deck_plan(setup, opening).size_mm.x; };
    const auto most = std::max_element(setup.openings.begin(), setup.openings.end(),
                                       [&](const Opening& a, const Opening& b) { return length(a) < length(b); });
    return static_cast<std::size_t>(most - setup.openings.begin());
}

/// Computed once a run: other checks ask for it too.
const std::shared_ptr<const FrameMeasure>& framed(const Setup& setup, const Assembly& assembly, CheckResults& results) {
    if (results.frame == nullptr) {
        const Setup one = stack_as_one(setup, assembly, smallest_deck(setup));
        results.frame =
            std::make_shared<const FrameMeasure>(measure_frame(one, assembly, measure_pressure(one, assembly)));
    }
    return results.frame;
}

/// The cavity of one opening, and what bending of the press adds: the platen's in the lowest, the head's in the
/// topmost, as an intermediate platen that is pressed from both sides alike does not bend.
Findings cavity_of(const OpeningView& view, const std::vector<std::size_t>& openings, const Setup& setup,
                   const Assembly& assembly, CheckResults& results, Progress& progress) {
    auto measure = std::make_shared<const CavityMeasure>(measure_cavity(view.setup, view.assembly, {}, progress));
    for (const std::size_t opening : openings) {
        results.cavities[opening] = measure;
    }
    Findings findings = judge(*measure, view.setup, view.assembly);
    tell_of(findings, assembly, openings);
    const FrameMeasure& frame = *framed(setup, assembly, results);
    if (!frame.computed() || !measure->not_measured.empty() || measure->halves.slip != HalfSlip::none) {
        return findings;
    }
    const BendCost most = frame.costs.empty() ? BendCost{} : frame.costs.front();
    const Setup one = stack_as_one(setup, assembly, openings.front());
    for (const std::size_t opening : openings) {
        const bool lowest = opening == 0;
        const bool topmost = opening + 1 == setup.openings.size();
        if (!lowest && !topmost) {
            continue;
        }
        const GapSummary gaps =
            bent(*measure, lowest ? lower_bent(frame, one) : DisplacementField{},
                 topmost ? upper_bent(frame, one) : DisplacementField{}, setup.limits.cavity_tolerance_mm);
        Findings told{judge_bent(*measure, gaps, frame.force_N, most.parts, most.mm, view.setup, view.assembly)};
        tell_of(told, assembly, {opening});
        findings.push_back(std::move(told.front()));
    }
    return findings;
}

/// A mesh is looked at once, whoever uses it.
Findings told_of_all_that_share(Findings findings, const Assembly& assembly) {
    if (assembly.openings.size() < 2) {
        return findings;
    }
    for (Finding& finding : findings) {
        for (const Body& body : assembly.bodies) {
            const auto named = std::find_if(assembly.bodies.begin(), assembly.bodies.end(), [&](const Body& other) {
                return !finding.bodies.empty() && other.name == finding.bodies.front();
            });
            if (body.opening && named != assembly.bodies.end() && body.mesh == named->mesh) {
                finding.openings.push_back(*body.opening);
            }
        }
    }
    return findings;
}

/// Of one opening, and of those alike; computed once a run.
const BendMeasure& bent_faces(const OpeningView& view, const std::vector<std::size_t>& openings, const Setup& setup,
                              CheckResults& results, Progress& progress) {
    results.bends.resize(setup.openings.size());
    if (results.bends[openings.front()] == nullptr) {
        const auto measure = std::make_shared<const BendMeasure>(measure_bend(view.setup, view.assembly, progress));
        for (const std::size_t opening : openings) {
            results.bends[opening] = measure;
        }
        results.bend = results.bends.front();
    }
    return *results.bends[openings.front()];
}

/// In one opening, with the weight of all above it.
PressureMeasure pressed(const Setup& setup, const Assembly& assembly, std::size_t opening) {
    PressureMeasure measure = measure_pressure(stack_as_one(setup, assembly, opening), assembly);
    measure.bears_more(weight_over_N(setup, assembly, opening));
    return measure;
}

const std::vector<Runner>& runners() {
    static const std::vector<Runner> list{
        {{"mesh", "are the meshes closed, oriented, free of self-intersection, of a plausible size?"},
         0.2,
         [](const Setup& setup, const Assembly& assembly, CheckResults&, Progress& progress) {
             return told_of_all_that_share(check_meshes(setup, assembly, progress), assembly);
         }},
        {{"seat", "does each half lie flat and wholly on its platen, pressed between the jacks?"},
         0.02,
         [](const Setup& setup, const Assembly& assembly, CheckResults&, Progress&) {
             return each_opening(setup, assembly, true,
                                 [](const OpeningView& view) { return check_seat(view.setup, view.assembly); });
         }},
        {{"load-in", "does the mold slide into place past posts, jacks and head?"},
         0.2,
         [](const Setup& setup, const Assembly& assembly, CheckResults&, Progress& progress) {
             Progress quiet(progress, 0, 0);
             std::size_t done = 0;
             return every_opening(setup, assembly, [&](const OpeningView& view) {
                 Findings findings = check_load_in(view.setup, view.assembly, quiet);
                 progress.tell(static_cast<double>(++done) / static_cast<double>(setup.openings.size()));
                 return findings;
             });
         }},
        {{"daylight", "is there room to bring the mold in when the press is open?"},
         0.01,
         [](const Setup& setup, const Assembly& assembly, CheckResults&, Progress&) {
             return every_opening(setup, assembly, [](const OpeningView& view) {
                 return Findings{judge(measure_daylight(view.setup, view.assembly), view.setup)};
             });
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
             const Setup one = stack_as_one(setup, assembly, longest_deck(setup));
             results.level = level_curves(one, assembly);
             Findings findings = judge(measure_level(one, assembly), one, assembly);
             if (const FrameMeasure& frame = *framed(setup, assembly, results); frame.computed()) {
                 findings.push_back(judge_level(frame, one, assembly));
             }
             return findings;
         }},
        {{"cavity", "does the closed mold leave the stack's thickness everywhere?"},
         0.1,
         [](const Setup& setup, const Assembly& assembly, CheckResults& results, Progress& progress) {
             results.cavities.resize(setup.openings.size());
             Findings all;
             for (const std::vector<std::size_t>& openings : alike(setup, false)) {
                 const OpeningView view = view_of(setup, assembly, openings.front());
                 Findings findings = cavity_of(view, openings, setup, assembly, results, progress);
                 std::move(findings.begin(), findings.end(), std::back_inserter(all));
             }
             results.cavity = results.cavities.front();
             return all;
         }},
        {{"bend", "will the plies follow the forming faces, and how far does the deck spring back?"},
         0.1,
         [](const Setup& setup, const Assembly& assembly, CheckResults& results, Progress& progress) {
             return each_opening(
                 setup, assembly, false, progress,
                 [&](const OpeningView& view, const std::vector<std::size_t>& openings, Progress& part) {
                     return judge(bent_faces(view, openings, setup, results, part), view.setup, view.assembly);
                 });
         }},
        {{"release", "do the halves come off the deck: no undercut, enough draft?"},
         0.05,
         [](const Setup& setup, const Assembly& assembly, CheckResults&, Progress& progress) {
             return each_opening(setup, assembly, false, progress,
                                 [](const OpeningView& view, const std::vector<std::size_t>&, Progress& part) {
                                     return judge(measure_release(view.setup, view.assembly, part), view.setup,
                                                  view.assembly);
                                 });
         }},
        {{"print", "in how many pieces is the mold printed, what does it weigh, does its fill bear the pressing?"},
         0.02,
         [](const Setup& setup, const Assembly& assembly, CheckResults& results, Progress& progress) {
             return each_opening(
                 setup, assembly, false, progress,
                 [&](const OpeningView& view, const std::vector<std::size_t>& openings, Progress& part) {
                     return judge(measure_print(view.setup, view.assembly, pressed(setup, assembly, openings.front()),
                                                bent_faces(view, openings, setup, results, part)),
                                  view.setup, view.assembly);
                 });
         }},
        {{"pressure", "is the force over the deck what the glue asks for, and do the jacks bear it?"},
         0.01,
         [](const Setup& setup, const Assembly& assembly, CheckResults&, Progress&) {
             Findings all;
             for (std::size_t i = 0; i < setup.openings.size(); ++i) {
                 const Setup one = stack_as_one(setup, assembly, i);
                 Findings findings = judge(pressed(setup, assembly, i), one, assembly);
                 if (setup.openings.size() > 1) {
                     for (Finding& finding : findings) {
                         finding.openings = {i};
                     }
                 }
                 std::move(findings.begin(), findings.end(), std::back_inserter(all));
             }
             return all;
         }},
        {{"frame", "does the press bear its own closing force, and what does its bending cost?"},
         0.3,
         [](const Setup& setup, const Assembly& assembly, CheckResults& results, Progress&) {
             return judge(*framed(setup, assembly, results), stack_as_one(setup, assembly, smallest_deck(setup)),
                          assembly);
         }},
        {{"stack", "do several openings over one another work together: order, force, errors, bending, hands?"},
         0.01,
         [](const Setup& setup, const Assembly& assembly, CheckResults&, Progress&) {
             return setup.openings.size() < 2 ? Findings{} : judge(measure_stack(setup, assembly), setup, assembly);
         }},
        {{"time", "is all under pressure before the glue has had its time, and how many decks a week come of it?"},
         0.01,
         [](const Setup& setup, const Assembly&, CheckResults& results, Progress&) {
             results.time = std::make_shared<const TimeMeasure>(measure_time(setup));
             return judge(*results.time);
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
        if (setup.openings.size() > 1) {
            findings = put_together(std::move(findings));
        }
        const bool stopped = request.until_no_go && worst_of(findings) == Verdict::no_go;
        std::move(findings.begin(), findings.end(), std::back_inserter(results.findings));
        done += runner.work;
        progress.tell(done / all_work);
        if (stopped) {
            break;
        }
    }
    sort_worst_first(results.findings);
    results.cancelled = progress.cancelled();
    return results;
}

} // namespace evenclose
