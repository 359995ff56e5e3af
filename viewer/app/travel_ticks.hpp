// viewer/app/travel_ticks.hpp: the marks of a rule along the travel, in round millimetres or in inches and their halves.
//
// Threads: pure, any.
#pragma once

#include "scene/motion/ride.hpp"
#include "scene/units/units.hpp"

#include <string>
#include <vector>

namespace evenclose {

struct TravelTick {
    Travel at;
    bool named = false; // long, with its number
    std::string text;   // "150", "2", "3/4"; without the unit
};

/// Ticks from 0 to `to`, in order, 0 always named. Named ones are at least `spacing` apart where `length` (same unit,
/// pixels for instance) is the rule's whole length; the finer ones between them at least a fifth of that.
/// Needs: to > 0, length > 0, spacing > 0.
[[nodiscard]] std::vector<TravelTick> travel_ticks(Travel to, double length, double spacing, UnitSystem units);

} // namespace evenclose
