#include "scene/motion/level.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace evenclose;
using evenclose::test::near;
using evenclose::test::within;

namespace {

constexpr double kClosed = 1e-9;
double degrees(double rad) { return rad * 180 / std::numbers::pi; }

} // namespace

TEST_CASE("3.1 two jacks 800 apart, 1.2 mm off [closed form, own arithmetic]") {
    const LevelPlane plane = plane_through({{{-400, 0}, 250.0}, {{400, 0}, 251.2}});
    CHECK(within(plane.slope.x, 0.0015, kClosed));
    CHECK(near(plane.slope.y, 0, 1e-15)); // across the line the guides hold it
    CHECK(plane.in_line);
    CHECK(near(degrees(plane.tilt_rad()), 0.085944, 5e-7));
    const double over_deck = plane.height_mm({406.4, 0}) - plane.height_mm({-406.4, 0});
    CHECK(within(over_deck, 1.2192, kClosed));
    // The same jacks front to back tip it over the width.
    const LevelPlane turned = plane_through({{{0, -400}, 250.0}, {{0, 400}, 251.2}});
    CHECK(within(turned.height_mm({0, 101.6}) - turned.height_mm({0, -101.6}), 0.3048, kClosed));
}

TEST_CASE("3.3 three jacks: exact [closed form]") {
    const LevelPlane plane = plane_through({{{-400, -150}, 100.0}, {{400, -150}, 101.2}, {{0, 150}, 100.3}});
    CHECK(within(plane.height_mm({0, 0}), 100.45, kClosed));
    CHECK(within(plane.slope.x, 0.0015, kClosed));
    CHECK(within(plane.slope.y, -0.001, kClosed));
    CHECK(near(degrees(plane.tilt_rad()), 0.103291, 5e-7));
    CHECK_FALSE(plane.in_line);
    for (const double residual : plane.residual_mm) {
        CHECK(near(residual, 0, 1e-12));
    }
}

TEST_CASE("3.4 four jacks: least squares, the twist stays as residual [closed form]") {
    const LevelPlane plane =
        plane_through({{{-400, -100}, 100.0}, {{400, -100}, 100.6}, {{-400, 100}, 100.1}, {{400, 100}, 101.1}});
    CHECK(near(plane.height_mm({0, 0}), 100.45, 1e-9));
    CHECK(near(plane.slope.x, 0.001, 1e-9));
    CHECK(near(plane.slope.y, 0.0015, 1e-9));
    const double twist[] = {0.1, -0.1, -0.1, 0.1};
    for (int i = 0; i < 4; ++i) {
        CHECK(near(plane.residual_mm[i], twist[i], 1e-9));
    }
}

TEST_CASE("3.5 five jacks, off centre: least squares [own solver, REFERENCE 3]") {
    const LevelPlane plane = plane_through(
        {{{-400, -100}, 100.0}, {{400, -100}, 100.6}, {{-400, 100}, 100.1}, {{400, 100}, 101.1}, {{50, 20}, 100.9}});
    CHECK(near(plane.height_mm({0, 0}), 100.5231858, 1e-7));
    CHECK(near(plane.slope.x, 0.00102287056, 1e-7));
    CHECK(near(plane.slope.y, 0.00164637162, 1e-7));
    const double residuals[] = {0.0505996, -0.1676969, -0.1786747, 0.0030288, 0.2927432};
    double sum = 0;
    for (int i = 0; i < 5; ++i) {
        CHECK(near(plane.residual_mm[i], residuals[i], 1e-7));
        sum += plane.residual_mm[i];
    }
    CHECK(near(sum, 0, 1e-10)); // least squares with a constant: residuals balance
}

TEST_CASE("a press that stands far from the origin gives the same slopes") {
    const Vec2 away{1e5, -2e5};
    const LevelPlane plane = plane_through(
        {{away + Vec2{-400, -150}, 100.0}, {away + Vec2{400, -150}, 101.2}, {away + Vec2{0, 150}, 100.3}});
    CHECK(within(plane.slope.x, 0.0015, 1e-9));
    CHECK(within(plane.slope.y, -0.001, 1e-9));
}

TEST_CASE("jacks in a slanting line give the slope along it, none across, more than two in line as well") {
    // Along (3, 4)/5, 500 apart, 1 mm off: 2 mrad along the line.
    for (const bool three : {false, true}) {
        CAPTURE(three);
        std::vector<HeadHeight> heads{{{-150, -200}, 100}, {{150, 200}, 101}};
        if (three) {
            heads.push_back({{0, 0}, 100.5});
        }
        const LevelPlane plane = plane_through(heads);
        CHECK(within(plane.slope.x, 0.0012, kClosed));
        CHECK(within(plane.slope.y, 0.0016, kClosed));
        CHECK(plane.in_line);
    }
    // Two jacks on one spot say nothing about any slope, and break nothing.
    const LevelPlane stacked = plane_through({{{7, 7}, 100}, {{7, 7}, 101}});
    CHECK(stacked.slope.x == 0);
    CHECK(stacked.slope.y == 0);
    CHECK(near(stacked.height_mm({500, 500}), 100.5, 1e-12));
}
