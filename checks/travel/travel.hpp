// checks/travel/travel.hpp: `travel`: does anything foul over the whole stroke and the whole tilt envelope?
//
// Every pair of bodies that move against each other is swept by the clearance engine from travel 0 to where the stroke
// ends (closed, or the first jack's end). Bounds are certified, so "clear" means at every travel and every tilt in the
// envelope, not at samples.
#pragma once

#include "checks/check_list.hpp"

#include <vector>

namespace evenclose {

/// What every pair's least clearance is held to, mm. The two mold halves are meant to come as near as the stack is
/// thick: for them it is half the pressed stack, where that is less (the cavity check judges the gap itself).
[[nodiscard]] double wanted_clearance_mm(const Setup& setup, const Assembly& assembly, const PairProfile& pair);

/// Pairs farther apart than this are only told to be "farther than": 25 mm, or a little over the running clearance where
/// a shop asks for more.
[[nodiscard]] double interest_mm(const Limits& limits);

/// Sweeps all moving pairs. Threads: works on several pairs at once; the answer does not depend on how many.
/// When `progress` is cancelled the profiles not done have Contact::cancelled.
[[nodiscard]] std::vector<PairProfile> measure_travel(const Setup& setup, const Assembly& assembly, Progress& progress);

/// A mold half and a body that does not move against it, which cannot stand where they are drawn: one is in the other.
struct StandingFoul {
    std::size_t half = 0, other = 0; // into Assembly::bodies
    Contact contact = Contact::foul;
    Vec3 at_mm{0.0};                 // at travel 0
};
[[nodiscard]] std::vector<StandingFoul> standing_fouls(const Assembly& assembly, Progress& progress);

/// A way to free a fouling pair, found by trying: the shortest shift along X or Y of one body that gives the wanted
/// clearance over the whole stroke.
struct Shift {
    std::size_t body = 0; // which body is moved: the mold where one is involved, else the one that stands still
    Vec3 by_mm{0.0};
    bool found = false;
};
[[nodiscard]] Shift shift_that_frees(const Setup& setup, const Assembly& assembly, const PairProfile& pair,
                                     Progress& progress);

/// A finding for each pair that comes within the interest distance, worst first, and one for all the others together.
/// go: at or above the wanted clearance; marginal: above 0; no-go: they touch, or one is inside the other.
[[nodiscard]] std::vector<Finding> judge(const std::vector<PairProfile>& profiles, const Setup& setup,
                                         const Assembly& assembly, Progress& progress);
[[nodiscard]] Finding judge(const StandingFoul& foul, const Assembly& assembly);

} // namespace evenclose
