// tests/within.hpp: comparisons that mean what they say. doctest's Approx(x).epsilon(e) allows e (1 + |x|), so a small
// value that is far off passes; these do not.
#pragma once

#include <cmath>

namespace evenclose::test {

/// |value - expected| <= relative * |expected|.
[[nodiscard]] inline bool within(double value, double expected, double relative) {
    return std::abs(value - expected) <= relative * std::abs(expected);
}
/// |value - expected| <= absolute.
[[nodiscard]] inline bool near(double value, double expected, double absolute) {
    return std::abs(value - expected) <= absolute;
}

} // namespace evenclose::test
