#include "checks/report/value_words.hpp"

#include "scene/units/duration.hpp"

#include <fmt/format.h>

#include <cmath>

namespace evenclose {

std::string value_words(double value, const std::string& unit, UnitSystem units) {
    if (unit == "mm") {
        return show_length(value, units);
    }
    if (unit == "N") {
        return show_force(value, units);
    }
    if (unit == "MPa") {
        return show_pressure(value, units);
    }
    if (unit == "rad") {
        return show_angle(value);
    }
    if (unit == "kg") {
        return show_mass(value, units);
    }
    if (unit == "s") {
        return show_duration(value);
    }
    if (unit == "N mm") {
        return units == UnitSystem::inch ? fmt::format("{:.1f} lbf ft", value / kNmmPerPoundFoot)
                                         : fmt::format("{:.1f} N m", value / 1000);
    }
    const std::string number = value == std::round(value) ? fmt::format("{:.0f}", value) : fmt::format("{:.3g}", value);
    return unit.empty() ? number : number + " " + unit;
}

} // namespace evenclose
