// scene/units/duration.hpp: reads and shows times as a shop and a data sheet write them. Inside everything is s.
#pragma once

#include "scene/units/units.hpp"

#include <string>
#include <string_view>

namespace evenclose {

/// `20`, `20 min`, `90 s`, `1.5 h`, `1 h 30 min`, `2 days`. A bare number is minutes. Never negative, NaN or infinite.
[[nodiscard]] Read<double> read_duration_s(std::string_view text);

/// "45 s", "12 min", "12.5 min", "1 h 30 min", "49 h".   Needs: finite.
[[nodiscard]] std::string show_duration(double s);

/// "20 C", to a tenth; "68 F".
[[nodiscard]] std::string show_temperature(double celsius, UnitSystem system);

} // namespace evenclose
