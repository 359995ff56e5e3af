// checks/report/value_words.hpp: a finding's number in words.
#pragma once

#include "scene/units/units.hpp"

#include <string>

namespace evenclose {

/// "12.5 mm", "28 kN", "1.50 mrad (0.086 deg)", "42 %", "4". `unit` as in Finding.   Threads: pure, any.
[[nodiscard]] std::string value_words(double value, const std::string& unit, UnitSystem units);

} // namespace evenclose
