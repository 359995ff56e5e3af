// checks/plan/bottleneck.hpp: what holds a shop's week back, found by trying: one more of each, and the week simulated anew.
#pragma once

#include "checks/plan/schedule.hpp"

#include <string>
#include <vector>

namespace evenclose {

struct Gain {
    std::string what;        // "mold", "opening", "opening with its mold", "helper", "press", "rack", "hour a day"
    double decks_a_week = 0; // with it
    double gain = 0;         // what it brings; below 0 it costs (see schedule.hpp)
};

/// One more of each that there can be more of, the greatest gain first, equal ones in the order above. One more opening
/// takes the mold of the last one.
/// Needs: what simulate() needs; `now` is its answer, and possible.
[[nodiscard]] std::vector<Gain> gains(const ShopPlan& shop, const Schedule& now);

/// What is worth most; none if one more of nothing brings as much as a deck in ten weeks: the hours are all used.
[[nodiscard]] const Gain* bottleneck(const std::vector<Gain>& gains);

} // namespace evenclose
