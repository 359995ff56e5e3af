#include "checks/pressure/no_tension.hpp"

#include "scene/units/units.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <random>

namespace evenclose {
using test::near;
using test::within;

namespace {

/// Force, and where it acts, that the cells bear under a pressure.
struct Borne {
    double force = 0;
    Vec2 at{0.0};
};
Borne borne(const std::vector<FootprintCell>& cells, const NoTensionPressure& pressure) {
    Borne result;
    for (const FootprintCell& cell : cells) {
        const double f = pressure.at_MPa(cell.at_mm) * cell.area_mm2;
        result.force += f;
        result.at += f * cell.at_mm;
    }
    result.at /= result.force;
    return result;
}

} // namespace

TEST_CASE("6.1 pressure over 32 x 8 in: 150 psi, 1.0 and 1.7 MPa as force") {
    const double area = 32 * kMmPerInch * 8 * kMmPerInch;
    CHECK(near(area, 165160.96, 1e-6));
    CHECK(within(150 * kMPaPerPsi * area, 170811.7, 1e-6));
    CHECK(within(150 * kMPaPerPsi * area, 38400 * kNPerPoundForce, 1e-12));
    CHECK(within(1.7 * area, 280774, 2e-6));
}

TEST_CASE("6.2 two 20 kN jacks on 32 x 8 in, 6.3 a stadium of that size") {
    CHECK(near(40000 / 165160.96, 0.242188, 5e-7));
    CHECK(near(40000 / 165160.96 / kMPaPerPsi, 35.126, 5e-4));
    const double stadium = (24 * 8 + std::numbers::pi * 16) * kMmPerInch * kMmPerInch;
    CHECK(near(stadium, 156299.9987, 5e-5));
}

TEST_CASE("7.1 strip: 2687.5 and moment 4200 on 7 x 7 (crane base)") {
    const StripPressure strip = strip_pressure(2687.5, 7, 7, 4200 / 2687.5);
    CHECK(near(strip.contact_mm, 5.811628, 5e-7));
    CHECK(near(strip.greatest_MPa, 132.1243, 5e-5));
    CHECK(within(strip.greatest_MPa, 132.2, 0.001)); // printed, from a rounded eccentricity
}

TEST_CASE("7.2 60 kN on 800 x 200: inside the kern, beyond it along one axis, at a corner") {
    const StripPressure inside = strip_pressure(60000, 800, 200, 40);
    CHECK(within(inside.greatest_MPa, 0.4875, 1e-9));
    CHECK(within(inside.least_MPa, 0.2625, 1e-9));
    const StripPressure beyond = strip_pressure(60000, 800, 200, 200);
    CHECK(within(beyond.contact_mm, 600, 1e-9));
    CHECK(within(beyond.greatest_MPa, 1.0, 1e-9));
    CHECK(beyond.least_MPa == 0);
    const CornerPressure corner = corner_pressure(60000, {800, 200}, {150, 40}).value();
    CHECK(within(corner.legs_mm.x, 600, 1e-9));
    CHECK(within(corner.legs_mm.y, 160, 1e-9));
    CHECK(within(corner.greatest_MPa, 3.75, 1e-9));
    CHECK(!corner_pressure(60000, {800, 200}, {201, 40}).has_value());
}

TEST_CASE("7.2 the same three by Newton's method over cells") {
    const auto cells = rectangle_cells({800, 200}, 400, 100);
    CHECK(within(no_tension_pressure(cells, 60000, {40, 0})->at_MPa({400, 100}), 0.4875, 1e-4));
    CHECK(within(no_tension_pressure(cells, 60000, {40, 0})->at_MPa({-400, 0}), 0.2625, 1e-4));
    const NoTensionPressure beyond = no_tension_pressure(cells, 60000, {200, 0}).value();
    CHECK(within(beyond.at_MPa({400, 0}), 1.0, 1e-3));
    CHECK(within(beyond.contact_share, 0.75, 0.01));
    const NoTensionPressure corner = no_tension_pressure(cells, 60000, {-250, 60}).value(); // 150, 40 from that corner
    CHECK(within(corner.at_MPa({-400, 100}), 3.75, 2e-3));
    CHECK(corner.at_MPa({-400 + 605, 100}) == 0);
}

TEST_CASE("7.3 800 x 200, off by 160 and 40: a trapezoid bears, greatest 1.55149") {
    const auto cells = rectangle_cells({800, 200}, 400, 400);
    const NoTensionPressure pressure = no_tension_pressure(cells, 60000, {160, 40}).value();
    CHECK(within(pressure.at_MPa({400, 100}), 1.55149, 1e-3));
    CHECK(within(pressure.at_MPa({400, 100}) / 0.375, 4.1373, 1e-3));
}

TEST_CASE("7.4 off by 100 and 10 is just outside the kern of 800 x 200") {
    CHECK(within(kern_use({800, 200}, {100, 10}), 1.05, 1e-12));
    CHECK(kern_use({800, 200}, {-100, 8}) < 1);
    const auto cells = rectangle_cells({800, 200}, 100, 100);
    CHECK(no_tension_pressure(cells, 60000, {100, 10})->contact_share < 1);
    CHECK(no_tension_pressure(cells, 60000, {100, 8})->contact_share == doctest::Approx(1));
}

TEST_CASE("7.5 two jacks 800 apart, the load 40 off their middle: 0.55 and 0.45") {
    const auto shares = jack_shares({{-400, 0}, {400, 0}}, {-40, 0});
    CHECK(within(shares[0], 0.55, 1e-12));
    CHECK(within(shares[1], 0.45, 1e-12));
    CHECK(within(jack_shares({{-400, 0}, {400, 0}}, {-40, 70})[0], 0.55, 1e-12)); // across the line: the guides' matter
}

TEST_CASE("jack shares: three by statics, four alike, one that would have to pull") {
    // Three jacks are statically determined: by levers about the line through the other two.
    const auto three = jack_shares({{0, 0}, {600, 0}, {0, 300}}, {150, 60});
    CHECK(within(three[1], 0.25, 1e-12));
    CHECK(within(three[2], 0.2, 1e-12));
    CHECK(within(three[0], 0.55, 1e-12));
    for (const double share : jack_shares({{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}, {0, 0})) {
        CHECK(within(share, 0.25, 1e-12));
    }
    CHECK(within(jack_shares({{-400, 0}, {400, 0}}, {500, 0})[0], -0.125, 1e-12));
}

TEST_CASE("what the cells bear is the force, where it acts, turned or moved, the same") {
    std::mt19937 random(4711);
    std::uniform_real_distribution<double> part(-0.45, 0.45);
    for (int trial = 0; trial < 200; ++trial) {
        CAPTURE(trial);
        auto cells = rectangle_cells({800, 200}, 40, 20);
        if (trial % 2 == 1) { // an L: a quarter is missing
            std::erase_if(cells, [](const FootprintCell& cell) { return cell.at_mm.x > 0 && cell.at_mm.y > 0; });
        }
        const Vec2 at{800 * part(random), 200 * part(random)};
        const auto pressure = no_tension_pressure(cells, 1000, at);
        if (trial % 2 == 0) {
            CHECK(pressure.has_value()); // well inside a rectangle there always is an answer
        }
        if (pressure) {
            CHECK(within(borne(cells, *pressure).force, 1000, 1e-6));
            CHECK(near(borne(cells, *pressure).at.x, at.x, 1e-3));
            CHECK(near(borne(cells, *pressure).at.y, at.y, 1e-3));
            auto turned = cells; // a quarter turn and a move
            for (FootprintCell& cell : turned) {
                cell.at_mm = Vec2{-cell.at_mm.y, cell.at_mm.x} + Vec2{5000, -3000};
            }
            const auto again = no_tension_pressure(turned, 1000, Vec2{-at.y, at.x} + Vec2{5000, -3000});
            REQUIRE(again.has_value());
            CHECK(near(again->at_MPa(turned[7].at_mm), pressure->at_MPa(cells[7].at_mm), 1e-8));
        }
    }
}

TEST_CASE("a force beside the footprint tips it, no force and no cells give nothing") {
    const auto cells = rectangle_cells({800, 200}, 80, 20);
    CHECK(!no_tension_pressure(cells, 1000, {401, 0}).has_value());
    CHECK(!no_tension_pressure(cells, 1000, {0, -150}).has_value());
    CHECK(!no_tension_pressure(cells, 0, {0, 0}).has_value());
    CHECK(!no_tension_pressure(cells, std::nan(""), {0, 0}).has_value());
    CHECK(!no_tension_pressure({}, 1000, {0, 0}).has_value());
}

} // namespace evenclose
