#include "scene/jacks/hose.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace evenclose;
using evenclose::test::near;
using evenclose::test::within;

TEST_CASE(
    "2.9 hose of 100, 0.5 MPa, 800 long: contact and force by height [derived, inextensible skin, that force falls "
    "with height: rescue-bag training text]") {
    const InflatableHose hose{100, 800};
    struct Row {
        double height, contact, kN;
    };
    const Row rows[] = {{10, 141.3717, 56.5487}, {20, 125.6637, 50.2655}, {30, 109.9557, 43.9823},
                        {50, 78.5398, 31.4159},  {80, 31.4159, 12.5664},  {100, 0, 0}};
    for (const Row& row : rows) {
        CAPTURE(row.height);
        CHECK(near(contact_width_mm(hose, row.height), row.contact, 5e-5));
        CHECK(near(force_N(hose, row.height, 0.5) / 1000, row.kN, 5e-5));
        CHECK(near(height_at_volume_mm(hose, volume_mm3(hose, row.height)), row.height, 1e-9));
        // The skin does not stretch: flat parts and half circles are as long as the free circle.
        CHECK(within(2 * contact_width_mm(hose, row.height) + std::numbers::pi * row.height, 100 * std::numbers::pi,
                     1e-12));
        // dA/dh = c: as much work comes out as the pressure puts in.
        const double step = 1e-4;
        const double growth =
            (section_area_mm2(hose, row.height + step) - section_area_mm2(hose, row.height - step)) / (2 * step);
        CHECK(near(growth, contact_width_mm(hose, row.height), 1e-6));
    }
    CHECK(near(contact_width_mm(hose, 0), 50 * std::numbers::pi, 1e-12)); // lay-flat width
    CHECK(within(section_area_mm2(hose, 100), 2500 * std::numbers::pi, 1e-12));
    CHECK(std::isinf(pressure_for_MPa(hose, 100, 1)));
    CHECK(within(pressure_for_MPa(hose, 50, force_N(hose, 50, 0.5)), 0.5, 1e-12));
    CHECK(height_at_volume_mm(hose, 0) == 0);
}
