// checks/plan/taller_press.hpp: a press with its head raised, its jacks longer and stronger, and all else as it was.
//
// Raised: head, and every end of a member or guide post that lies higher than the head's underside, less a little. What
// stands below and ends above grows, what lies wholly above goes along; a brace that crosses that height is turned a little.
// Longer: stroke and closed height of every screw and every cylinder, so it parks higher by as much. A scissor's stroke is
// its links', a hose's its diameter: there is no such jack, and a table of measured heights is of the jacks that stand
// there.
#pragma once

#include "checks/plan/stacking.hpp"
#include "scene/press/press.hpp"

#include <string>
#include <variant>

namespace evenclose {

/// What lies higher than this goes up with the head: 1 mm below its underside, so that what is fastened there goes too.
[[nodiscard]] inline double goes_up_from_mm(const Press& press) { return press.head_underside_z_mm - 1; }

/// Why the press cannot be changed so; empty if it can.
[[nodiscard]] std::string no_such_press(const Press& press, const PressChange& change);

/// `stronger`: every rated load times this, 1 or more.   Needs: no_such_press() is empty.
[[nodiscard]] Press taller(const Press& press, const PressChange& change, double stronger = 1);

} // namespace evenclose
