#include "scene/motion/drawn_pose.hpp"

#include "tests/scene/motion/jack_presses.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <numbers>
#include <stdexcept>

using namespace evenclose;
using namespace evenclose::test;

namespace {

constexpr double kPi = std::numbers::pi;

/// A mark on the body's skin, and where it is drawn.
Vec3 mark_at(const Assembly& assembly, const Body& of, const Vec3& mark, double travel) {
    return drawn_pose(assembly, of, {travel}).apply(mark);
}

} // namespace

TEST_CASE("a screw jack's screw turns once for each lead it rises, its thread stays where the nut holds it") {
    const Assembly a = assembly_on({screw_at({-400, 0}), screw_at({400, 0})});
    const Body& screw = body(a, "jack 1 screw");
    REQUIRE(screw.turning);
    CHECK(near(turned_rad(*screw.turning, 100), 2 * kPi * 25, 1e-9)); // lead 4
    // A right-hand thread rises by its lead for a turn to the left as seen from above, so after a quarter turn and a
    // quarter of the lead a point of the crest has moved on along one and the same helix.
    const Vec3 crest{-400 + 15, 0, 100};
    const Vec3 moved = mark_at(a, screw, crest, 1.0);
    CHECK(near(moved.x, -400, 1e-9));
    CHECK(near(moved.y, 15, 1e-9));
    CHECK(near(moved.z, 101, 1e-9));
    CHECK(glm::distance(mark_at(a, screw, crest, 8.0), crest + Vec3{0, 0, 8}) < 1e-9); // two whole turns
}

TEST_CASE("2.5 a rhombus' screw turns 20 times from span 320 to 240, half as high, and draws both nuts inward") {
    const Assembly a = assembly_on({rhombus_at({-400, 0}, 320), rhombus_at({400, 0}, 320)});
    const Body& screw = body(a, "jack 2 screw");
    REQUIRE(screw.turning);
    CHECK(screw.turning->hand == ThreadHand::right_and_left);
    CHECK(near(turned_rad(*screw.turning, 80), 2 * kPi * 20, 1e-6));
    // The first 2.631 mm are half a turn: span 320 less 2.
    const double rise = std::sqrt(400.0 * 400 - 318.0 * 318) - 240;
    const Vec3 mark = screw.turning->from_mm + Vec3{10, 0, 8};
    const double a_ride_is_near = 0.05; // the head's ride is piecewise straight, kHeadRide_mm from its law
    const Vec3 moved = mark_at(a, screw, mark, rise);
    CHECK(near(moved.x, mark.x, 1e-9)); // it does not wander along its axis
    CHECK(near(turned_rad(*screw.turning, rise), kPi, 1e-6));
    CHECK(near(moved.z - (screw.turning->from_mm.z + 0.5 * rise), -8, a_ride_is_near));
    CHECK(near(moved.y - screw.turning->from_mm.y, 0, 8 * 2 * kPi * a_ride_is_near / 5.3)); // 5.3 mm rise a turn
}

TEST_CASE("a link shaft turns with the screws that it joins, whichever of the two it is told from, a stem does not") {
    const ShaftLink to_right{"shaft", 0, 1, {RoundShaft{30, 25}, 400, 79300, {}}, {}};
    const ShaftLink to_left{"shaft", 1, 0, {RoundShaft{30, 25}, 400, 79300, {}}, {}};
    for (const ShaftLink& link : {to_right, to_left}) {
        CAPTURE(link.from);
        const Assembly a = assembly_on({rhombus_at({-400, 0}, 320), rhombus_at({400, 0}, 320)}, {link});
        const Body& shaft = body(a, "shaft");
        const Body& screw = body(a, "jack 1 screw");
        REQUIRE(shaft.turning);
        const Vec3 up{0, 0, 1};
        for (const double travel : {1.0, 30.0, 77.0}) {
            const Vec3 of_shaft = drawn_pose(a, shaft, {travel}).turn(up);
            const Vec3 of_screw = drawn_pose(a, screw, {travel}).turn(up);
            CHECK(glm::distance(of_shaft, of_screw) < 1e-6);
        }
        CHECK(glm::distance(drawn_pose(a, shaft, {1.0}).turn(up), up) > 0.5);
    }
    const Assembly pumped = assembly_on({cylinder_at({-400, 0}), cylinder_at({400, 0})});
    CHECK_FALSE(body(pumped, "jack 1 rod").turning);
}

TEST_CASE("a linkage at its end turns no further, however far it is asked") {
    const Assembly a = assembly_on({rhombus_at({-400, 0}, 320), rhombus_at({400, 0}, 320)});
    const Turning& turning = *body(a, "jack 1 screw").turning;
    CHECK(std::isfinite(turned_rad(turning, 1e6)));
    CHECK(turned_rad(turning, 1e6) == turned_rad(turning, 1e5));
    CHECK(std::isfinite(turned_rad(turning, -1e6)));
}

TEST_CASE("3.1 heads under a platen of 1.5 mrad stand 1.2 mm apart over 800 [closed form]") {
    const Assembly a = assembly_on({screw_at({-400, 0}), screw_at({400, 0})});
    const Slope slope{0.0015, 0};
    const double left = platen_underside_mm(a, {-400, 0}, {50}, slope);
    const double right = platen_underside_mm(a, {400, 0}, {50}, slope);
    CHECK(near(right - left, 1.2, 1e-12));
    CHECK(near(0.5 * (left + right), 50 + 200 + 50, 1e-9)); // foot, closed height, travel
}
