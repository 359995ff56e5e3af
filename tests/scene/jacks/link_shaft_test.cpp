#include "scene/jacks/link_shaft.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace evenclose;
using evenclose::test::near;
using evenclose::test::within;

namespace {

constexpr double kPi = std::numbers::pi;

} // namespace

TEST_CASE("3.6 link shafts of 1 m under 26.18 N m: twist, lag of a screw of lead 8, shear [Saint-Venant, Bredt, own "
          "arithmetic]") {
    struct Row {
        const char* id;
        ShaftSection section;
        double J, twist, lag, shear; // shear 0: not listed
        double half_J;               // half a unit in the last digit
    };
    const Row rows[] = {
        {"solid 12", RoundShaft{12}, 2035.752, 0.16217040, 0.206482, 0, 5e-4},
        {"solid 16", RoundShaft{16}, 6433.982, 0.05131173, 0.065332, 32.552, 5e-4},
        {"tube 20x16", RoundShaft{20, 16}, 9273.982, 0.03559838, 0.045325, 28.230, 5e-4},
        {"square tube 25x25x2", BoxShaft{25, 25, 2}, 24334, 0.01356697, 0.017274, 0, 5e-1},
    };
    for (const Row& row : rows) {
        CAPTURE(row.id);
        const LinkShaft shaft{row.section, 1000, 79300, {}};
        CHECK(near(torsion_constant_mm4(row.section), row.J, row.half_J));
        CHECK(near(twist_rad(shaft, 26180), row.twist, 5e-9));
        CHECK(near(height_lag_mm(shaft, 26180, 8), row.lag, 5e-7));
        if (row.shear > 0) {
            CHECK(near(greatest_shear_MPa(row.section, 26180), row.shear, 5e-4));
        }
    }
    // 24 334 is 4 (23^2)^2 2 / (4 x 23) = 2 x 23^3: exactly.
    CHECK(within(torsion_constant_mm4(BoxShaft{25, 25, 2}), 24334, 1e-12));
    // Bredt's stress by the shear flow T / (2 Am), on 2 mm: 26 180 / (2 x 529 x 2).
    CHECK(within(greatest_shear_MPa(BoxShaft{25, 25, 2}, 26180), 26180.0 / 2116, 1e-12));
}

TEST_CASE(
    "3.7 two couplings with pins of 0.3 play at radius 10: 0.06 rad, with the tube 0.121720 mm in all [closed form]") {
    LinkShaft shaft{RoundShaft{20, 16}, 1000, 79300, {PinCoupling{0.3, 10}, PinCoupling{0.3, 10}}};
    CHECK(within(play_rad(shaft), 0.06, 1e-12));
    CHECK(near(height_lag_mm(shaft, 0, 8), 0.076394, 5e-7));
    CHECK(near(height_lag_mm(shaft, 0, 4), 0.038197, 5e-7));
    CHECK(near(height_lag_mm(shaft, 26180, 8), 0.121720, 1e-6)); // printed as a sum of rounded terms
}

TEST_CASE(
    "a published example: 30 mm solid steel, 0.4 m, 250 N m, G 77 GPa twist 0.0163314 rad [Brown University, ENGN0310 "
    "course notes, Torsion, sample problem 1]") {
    const LinkShaft shaft{RoundShaft{30}, 400, 77000, {}};
    CHECK(within(torsion_constant_mm4(shaft.section), 7.95216e4, 1e-6));
    CHECK(near(twist_rad(shaft, 250e3), 0.0163314, 5e-8));
    CHECK(near(twist_rad(shaft, 250e3) * 180 / kPi, 0.93572, 5e-6));
}

TEST_CASE("a published example: a hollow shaft 60/40, 1.5 m, G 77 GPa twists 2 deg at 1.829 kN m [Beer and Johnston, "
          "Mechanics of Materials, ex. 3.02, from memory]") {
    const LinkShaft shaft{RoundShaft{60, 40}, 1500, 77000, {}};
    CHECK(near(torsion_constant_mm4(shaft.section) * 1e-6, 1.021, 5e-4));
    CHECK(within(2 * kPi / 180 / twist_rad(shaft, 1) * 1e-6, 1.829, 5e-4));
}

TEST_CASE("a diameter counts to the fourth power, and a thin box nears the same ring of wall") {
    CHECK(within(torsion_constant_mm4(RoundShaft{24}), 16 * torsion_constant_mm4(RoundShaft{12}), 1e-12));
    // A thin round tube by the exact form is 2 pi r^3 t to the first order in t / r.
    CHECK(within(torsion_constant_mm4(RoundShaft{100.1, 99.9}), 2 * kPi * 50 * 50 * 50 * 0.1, 1e-5));
}

TEST_CASE("energy: the torque's work in twisting is the strain energy T^2 L / 2 G J") {
    const LinkShaft shaft{RoundShaft{16}, 1000, 79300, {}};
    double work = 0;
    const int steps = 1000;
    for (int i = 0; i < steps; ++i) { // midpoint rule: exact for a spring
        const double torque = 26180.0 * (i + 0.5) / steps;
        work += torque * (twist_rad(shaft, 26180.0 * (i + 1) / steps) - twist_rad(shaft, 26180.0 * i / steps));
    }
    CHECK(within(work, 26180.0 * 26180 * 1000 / (2 * 79300 * torsion_constant_mm4(shaft.section)), 1e-9));
}
