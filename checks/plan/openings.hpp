// checks/plan/openings.hpp: how many openings a press takes, and the very reason why it takes no more.
//
// For every number of openings a set-up is made and the checks of check_list.hpp are asked, the same that `evenclose check`
// asks; what stops one more is their no-go. The search ends where the daylight, with no room left for hands, is less than the
// molds and platens are thick: every larger number needs more, so none of them fits. That is the proof; up to there every
// number is tried.
#pragma once

#include "checks/finding.hpp"
#include "checks/plan/stacking.hpp"
#include "checks/progress.hpp"
#include "scene/setup/setup.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

struct MoldAtHand {
    std::string file; // for the set-up: how its document names it
    std::shared_ptr<const Mold> mold;
};

struct PlanBasis {
    Setup like; // press, limits, closing force, temperature, crew, shop, costs; its openings are not looked at
    std::vector<MoldAtHand> molds; // opening k takes molds[k % size], from the bottom up
    IntermediatePlaten platen;     // each of them; where it rests is worked out
};

/// With so many openings. Intermediate platens rest where each opening has its loose sandwich and an even share of what
/// daylight is left over; unless the press has rests for them all.
/// Needs: 1 to kMostOpenings; a mold.
[[nodiscard]] Setup stacked(const PlanBasis& basis, int openings);

[[nodiscard]] StackedMold stacked_mold(const Mold& mold);
/// What the tilt of the open press takes from the daylight over the molds at hand, as `daylight` counts it; at worst.
[[nodiscard]] double lost_to_tilt_mm(const PlanBasis& basis);
/// As the press stands, without a mold in it.
[[nodiscard]] PressRoom room_of(const Press& press);

/// All that `check` asks but `hands`, which warns and never stops. Up to the first no-go.
[[nodiscard]] std::vector<Finding> asked_of(const Setup& setup, Progress& progress);

struct OpeningsThatFit {
    int most = 0;                  // 0: not even one
    std::optional<Finding> stop;   // of one more; none only where kMostOpenings fit
    Verdict verdict = Verdict::go; // of the most that fit
};

/// Threads: pure, any; `progress` may be cancelled from another, the answer is worthless then.
[[nodiscard]] OpeningsThatFit openings_that_fit(const PlanBasis& basis, Progress& progress);

} // namespace evenclose
