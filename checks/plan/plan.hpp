// checks/plan/plan.hpp: the plan for the next press: how many openings go in as it stands, and which ways there are to press
// more, each as a set-up that the checks have accepted.
//
// Openings: openings.hpp. Ways: choices.hpp lists them all; each that stays is made into a set-up, the press raised as far as
// it takes (to a whole millimetre), and checked like any other. What the checks refuse is not offered, and why is told.
#pragma once

#include "checks/plan/choices.hpp"
#include "checks/plan/openings.hpp"

#include <optional>
#include <string>
#include <vector>

namespace evenclose {

struct PlanRequest {
    PlanBasis basis;
    Target target;
    int more_helpers = 2; // at most, beside those there are
    int jobs = 0;
};

/// A way that the checks accept.
struct OfferedChoice {
    Choice choice;
    std::string name;                                  // "3-openings-4-molds-2-people": of the files that hold it
    double head_underside_mm = 0, frame_height_mm = 0; // as raised; the frame's highest point
    double stroke_mm = 0;                              // of the jacks, needed with the reserve
    double force_N = 0;                                // that the jacks bear, all together: closing force and weights
    double stronger = 1;                               // rated loads times this
    double platen_mm = 0;                              // thickness of intermediate platens; 0: none
    Verdict verdict = Verdict::go;
    bool press_changed = false;
    Setup setup;
};

struct RefusedChoice {
    int openings = 0;
    std::string why;             // a jack that cannot be longer ...
    std::optional<Finding> stop; // ... or what the checks say
};

struct Plan {
    OpeningsThatFit fit;
    Setup one_more;                     // what `fit.stop` is about; no opening in it where kMostOpenings fit
    std::vector<OfferedChoice> offered; // none of them better in every way than another; those that meet the target
    std::vector<RefusedChoice> refused; // by openings
    std::optional<OfferedChoice> least; // that meets the target: the lowest frame
    std::size_t looked_at = 0;          // ways
    std::vector<std::string> missing;   // what is not known of time: without it decks a week are not told
};

/// Needs: molds loaded.   Threads: pure, any.
[[nodiscard]] Plan make_plan(const PlanRequest& request, Progress& progress);

} // namespace evenclose
