#include "scene/press/guide_limits.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>

namespace evenclose {

using test::within;

TEST_CASE("4.2 tilt of a sleeve on its post until both ends touch") {
    struct Row {
        double bore_mm, post_mm, length_mm, tilt_rad;
    };
    const Row rows[] = {
        // REFERENCE 4.2, recomputed by an independent script there.
        {20.5, 20, 60, 0.0083215994},
        {20.5, 20, 120, 0.0041651968},
        {50.8, 50, 100, 0.0079838943},
    };
    for (const Row& row : rows) {
        CAPTURE(row.length_mm);
        const double tilt = tilt_until_contact_rad(row.bore_mm, row.post_mm, row.length_mm);
        CHECK(within(tilt, row.tilt_rad, 1e-8)); // half a unit in the last digit shown there
        // The defining equation itself.
        CHECK(std::abs(row.bore_mm * std::cos(tilt) - row.length_mm * std::sin(tilt) - row.post_mm) < 1e-12);
    }
    CHECK(within(800 * tilt_until_contact_rad(20.5, 20, 60), 6.657433, 3e-5)); // printed as a difference of heights
    CHECK(tilt_until_contact_rad(20, 20, 60) == 0.0);
}

TEST_CASE("4.1 lever at which a guide binds") {
    struct Row {
        double friction, lever_per_length;
    };
    const Row rows[] = {{0.10, 5}, {0.15, 10.0 / 3}, {0.20, 2.5}, {0.25, 2}, {0.30, 5.0 / 3}};
    for (const Row& row : rows) {
        CAPTURE(row.friction);
        CHECK(within(binding_lever_mm(80, row.friction) / 80, row.lever_per_length, 1e-12));
    }
}

} // namespace evenclose
