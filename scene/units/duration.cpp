#include "scene/units/duration.hpp"

#include "scene/units/number.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

/// Seconds in a unit as written; 0: none.
double seconds_in(std::string_view word) {
    for (const std::string_view s : {"s", "sec", "second", "seconds"}) {
        if (word == s) {
            return 1;
        }
    }
    for (const std::string_view min : {"", "min", "minute", "minutes"}) {
        if (word == min) {
            return 60;
        }
    }
    for (const std::string_view h : {"h", "hr", "hour", "hours"}) {
        if (word == h) {
            return 3600;
        }
    }
    return word == "d" || word == "day" || word == "days" ? 86400 : 0;
}

Unreadable no_time(std::string_view text, std::string_view why) {
    return Unreadable{fmt::format("no time: {}: {}; write 20 min, 90 s, 1.5 h or 1 h 30 min", in_quotes(text), why)};
}

} // namespace

Read<double> read_duration_s(std::string_view text) {
    const std::string plain = plain_text(text);
    std::string_view left = plain;
    double sum = 0;
    double smallest = INFINITY; // "30 min 1 h" is no way to write a time
    do {
        const Read<NumberAndRest> read = read_number(left);
        if (const auto* bad = std::get_if<Unreadable>(&read)) {
            return no_time(text, bad->why);
        }
        const auto& number = std::get<NumberAndRest>(read);
        if (number.value < 0) {
            return no_time(text, "less than nothing");
        }
        const std::size_t next = std::min(number.rest.find_first_of("0123456789"), number.rest.size());
        std::string_view unit = number.rest.substr(0, next);
        while (!unit.empty() && unit.back() == ' ') {
            unit.remove_suffix(1);
        }
        const double seconds = seconds_in(unit);
        if (seconds == 0) {
            return no_time(text, fmt::format("{} is no unit of time here", in_quotes(unit)));
        }
        if (seconds >= smallest) {
            return no_time(text, "the larger unit comes first");
        }
        smallest = seconds;
        sum += number.value * seconds;
        if (!std::isfinite(sum)) {
            return no_time(text, "too large a number");
        }
        left = number.rest.substr(next);
    } while (!left.empty());
    return sum;
}

std::string show_duration(double s) {
    if (std::abs(s) < 120) {
        return fmt::format("{:.3g} s", s);
    }
    const double tenths = std::round(s / 6) / 10; // of a minute
    if (std::abs(tenths) < 120) {
        return fmt::format("{} min", tenths);
    }
    const double minutes = std::round(s / 60);
    const double hours = std::trunc(minutes / 60);
    const double rest = std::abs(minutes - 60 * hours);
    return rest == 0 ? fmt::format("{} h", hours) : fmt::format("{} h {} min", hours, rest);
}

std::string show_temperature(double celsius, UnitSystem system) {
    const bool metric = system == UnitSystem::metric;
    const double degrees = metric ? celsius : celsius * 1.8 + 32;
    return fmt::format("{} {}", std::round(degrees * 10) / 10, metric ? "C" : "F");
}

} // namespace evenclose
