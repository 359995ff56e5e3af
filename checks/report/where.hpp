// checks/report/where.hpp: the place of a finding in words.
#pragma once

#include "checks/finding.hpp"
#include "scene/units/units.hpp"

#include <string>

namespace evenclose {

/// "x 120 mm, y 0 mm, z 640 mm, at travel 51.4 mm to 75 mm"; only what there is.   Threads: pure, any.
[[nodiscard]] std::string where_of(const Finding& finding, UnitSystem units);

} // namespace evenclose
