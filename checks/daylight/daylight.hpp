// checks/daylight/daylight.hpp: `daylight`: is there room between the platens, when open, to bring the mold in?
//
// The mold comes in as a loose sandwich: the flat, unbent stack lies on the highest places of the lower half, the upper
// half's lowest places lie on the stack. So the sandwich is as high as both halves and the loose stack together, which
// is more than the shut height whenever the faces are not flat. What is left of the daylight is room for hands and for
// lifting the mold over the platen's edge.
#pragma once

#include "checks/finding.hpp"
#include "scene/motion/assembly.hpp"

namespace evenclose {

struct DaylightMeasure {
    double daylight_mm = 0;            // least over the platen under the tilt that the press may have when open
    double lower_mm = 0, upper_mm = 0; // heights of the halves
    double loose_stack_mm = 0;
    double sandwich_mm = 0; // the three together
    double room_mm = 0;     // daylight less sandwich
    Vec3 at_mm{0.0};        // middle of the opening, between sandwich and head
};

/// Needs: a set-up with everything loaded, and its assembly.
[[nodiscard]] DaylightMeasure measure_daylight(const Setup& setup, const Assembly& assembly);

/// go: room >= loading clearance; marginal: room >= 0; no-go: the sandwich is higher than the daylight.
[[nodiscard]] Finding judge(const DaylightMeasure& measure, const Setup& setup);

} // namespace evenclose
