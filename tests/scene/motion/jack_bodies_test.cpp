#include "scene/motion/drawn_pose.hpp"
#include "scene/press/linkage_solid.hpp"

#include "tests/scene/motion/jack_presses.hpp"
#include "tests/scene/press/closed_mesh.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace evenclose;
using namespace evenclose::test;

namespace {

bool close(const Vec3& a, const Vec3& b, double mm = 1e-9) { return glm::distance(a, b) <= mm; }

/// The convex body holds the point: it is on the inner side of every facet.
bool holds(const TriangleMesh& convex, const Vec3& point, double slack_mm) {
    for (const TriangleCorners& t : convex.triangles) {
        const Vec3 a = convex.vertices_mm[t[0]];
        const Vec3 normal = glm::cross(convex.vertices_mm[t[1]] - a, convex.vertices_mm[t[2]] - a);
        if (glm::dot(normal, point - a) > slack_mm * glm::length(normal)) {
            return false;
        }
    }
    return true;
}

} // namespace

TEST_CASE("links and what they swing through are closed solids, the swing holds the link at every angle") {
    const LinkShape link{200, 24, 40};
    const TriangleMesh one = link_solid(link);
    CHECK(closed_and_clean(one));
    CHECK(signed_volume_mm3(one) >= 40 * (200 * 24 + std::numbers::pi * 12 * 12)); // encloses the true one
    CHECK(within(signed_volume_mm3(one), 40 * (200 * 24 + std::numbers::pi * 12 * 12), 0.01));
    for (const bool crossed : {false, true}) {
        CAPTURE(crossed);
        const double from = 0.2;
        const double to = 1.1;
        const TriangleMesh swing = crossed ? swung_cross_solid(link, from, to) : swung_link_solid(link, from, to);
        CHECK(closed_and_clean(swing));
        for (int i = 0; i <= 40; ++i) {
            const double angle = from + (to - from) * i / 40;
            const Mat3 turn = glm::mat3_cast(glm::angleAxis(-angle, Vec3{0, 1, 0}));
            // Crossed at their middles: the link's own middle comes to the origin.
            const Vec3 shift = crossed ? -0.5 * (turn * Vec3{200, 0, 0}) : Vec3{0.0};
            for (const Vec3& corner : one.vertices_mm) {
                // The link's own round ends are drawn by tangents, which stand out by 0.9 % of 12 mm.
                CHECK(holds(swing, turn * corner + shift, 0.11));
            }
        }
    }
}

TEST_CASE("2 a rhombus: four links of arm length between the pins at every travel, the screw half way up") {
    const Assembly a = assembly_on({rhombus_at({-400, 0}, 380), rhombus_at({400, 0}, 380)});
    const double arm = 200;
    for (const double at : {0.0, 31.0, 100.0}) {
        CAPTURE(at);
        const double height = std::sqrt(400.0 * 400 - 380.0 * 380) + at; // 2.1: 124.9 at span 380
        const double half_span = 0.5 * std::sqrt(400.0 * 400 - height * height);
        const Vec3 foot_pin{-400, 0, 50 + 30};
        const Vec3 head_pin = foot_pin + Vec3{0, 0, height};
        for (const double side : {-1.0, 1.0}) {
            const std::string which = side < 0 ? "left" : "right";
            const Vec3 corner = foot_pin + Vec3{side * half_span, 0, 0.5 * height};
            const Pose lower = drawn_pose(a, body(a, "jack 1 " + which + " lower link"), {at});
            CHECK(close(lower.apply({0, 0, 0}), foot_pin));
            CHECK(close(lower.apply({arm, 0, 0}), corner));
            const Pose upper = drawn_pose(a, body(a, "jack 1 " + which + " upper link"), {at});
            CHECK(close(upper.apply({0, 0, 0}), head_pin));
            CHECK(close(upper.apply({arm, 0, 0}), corner));
            CHECK(within(glm::determinant(lower.rotation), 1, 1e-12));
        }
        const Body& screw = body(a, "jack 1 screw");
        const Box box = bounds_of(*screw.mesh, drawn_pose(a, screw, {at}));
        CHECK(near(box.centre_mm().z, 80 + 0.5 * height, 1e-9));
        CHECK(box.size_mm().x > 2 * half_span);
        const Body& head = body(a, "jack 1 head");
        CHECK(near(bounds_of(*head.mesh, drawn_pose(a, head, {at})).high_mm.z, 50 + 30 + height + 20, 1e-9));
    }
}

TEST_CASE("what is swept for the links holds every link at every travel, for a rhombus and for stages") {
    Jack stages = rhombus_at({-400, 0}, 380);
    auto& kind = std::get<ScissorJack>(stages.kind);
    kind.stages = 2;
    kind.arm_mm = 240;
    stages.closed_height_mm = 180;
    stages.parked_mm = 15;
    stages.stroke_mm = 300;
    kind.direction_rad = 0.4;
    Jack other = stages;
    other.foot_mm.x = 400;
    other.name = "jack 2";
    for (const Assembly& a :
         {assembly_on({rhombus_at({-400, 0}, 380), rhombus_at({400, 0}, 380)}), assembly_on({stages, other})}) {
        int links = 0;
        for (int i = 0; i <= 20; ++i) {
            const Travel at{a.last.mm * i / 20};
            for (const Body& link : a.bodies) {
                if (!link.fold) {
                    continue;
                }
                ++links;
                CHECK_FALSE(link.swept);
                const Pose pose = drawn_pose(a, link, at);
                bool held = false; // wholly within one of the swings
                for (const Body& swing : a.bodies) {
                    if (swing.part != Part::jack_link || swing.drawn || held) {
                        continue;
                    }
                    const TriangleMesh there = placed(*swing.mesh, pose_at(a.rides[swing.ride], swing.placement, at));
                    held = std::all_of(link.mesh->vertices_mm.begin(), link.mesh->vertices_mm.end(),
                                       [&](const Vec3& v) { return holds(there, pose.apply(v), 0.11); });
                }
                CAPTURE(link.name);
                CAPTURE(at.mm);
                CHECK(held);
            }
        }
        CHECK(links == 21 * 8);
        CHECK(a.last.mm > 100);
    }
}

TEST_CASE("stages: the top pins stand at the head, the crossed arms meet in the middle of their stage") {
    Jack stages = rhombus_at({-400, 0}, 380);
    auto& kind = std::get<ScissorJack>(stages.kind);
    kind.stages = 3;
    kind.arm_mm = 150;
    stages.closed_height_mm = 50 + 120;
    stages.parked_mm = 0;
    stages.stroke_mm = 300;
    Jack other = stages;
    other.foot_mm.x = 400;
    const Assembly a = assembly_on({stages, other});
    for (const double at : {0.0, 90.0, 200.0}) {
        CAPTURE(at);
        const double height = 120 + at; // REFERENCE 2: h = n L sin(theta), b = L cos(theta)
        const double half_base = 0.5 * std::sqrt(150.0 * 150 - height * height / 9);
        for (int stage = 0; stage < 3; ++stage) {
            const std::string name = "jack 1 stage " + std::to_string(stage + 1);
            const Pose rising = drawn_pose(a, body(a, name + " rising arm"), {at});
            const Pose falling = drawn_pose(a, body(a, name + " falling arm"), {at});
            CHECK(close(rising.apply({150, 0, 0}), Vec3{-400 + half_base, 0, 80 + height * (stage + 1) / 3}));
            CHECK(close(falling.apply({0, 0, 0}), Vec3{-400 - half_base, 0, 80 + height * (stage + 1) / 3}));
            CHECK(close(rising.apply({75, 0, 0}), falling.apply({75, 0, 0})));
        }
    }
}

TEST_CASE(
    "a cylinder's rod goes up with its head, its barrel stands, a hose swells within its room and never through the "
    "platen") {
    const Assembly a = assembly_on({cylinder_at({-400, 0}), hose_at({400, 0})});
    const Body& rod = body(a, "jack 1 rod");
    const Body& barrel = body(a, "jack 1 barrel");
    CHECK(near(bounds_of(*rod.mesh, drawn_pose(a, rod, {0})).high_mm.z, 250, 0.05));
    const double risen = a.rides[rod.ride].lift_mm({40});
    CHECK(near(bounds_of(*rod.mesh, drawn_pose(a, rod, {40})).high_mm.z, 250 + risen, 0.1));
    CHECK(a.rides[barrel.ride].fixed());
    const Body& hose = body(a, "jack 2 hose");
    const Body& room = body(a, "jack 2 hose's room");
    CHECK(hose.drawn);
    CHECK_FALSE(hose.swept);
    CHECK_FALSE(room.drawn);
    CHECK(room.swept);
    double before = 0;
    for (int i = 0; i <= 40; ++i) {
        const Travel at{a.last.mm * i / 40};
        const SharedMesh& mesh = drawn_mesh(a, hose, at);
        CHECK(closed_and_clean(*mesh));
        const Box box = bounds_of(*mesh);
        CHECK(box.high_mm.z >= before); // it only swells
        before = box.high_mm.z;
        CHECK(box.high_mm.z <= 50 + 15 + a.rides[hose.of_jack->head_ride].lift_mm(at) + 1e-9);
        const Box held = bounds_of(*room.mesh);
        CHECK(box.low_mm.y >= held.low_mm.y - 1e-9);
        CHECK(box.high_mm.y <= held.high_mm.y + 1e-9);
        CHECK(box.high_mm.z <= held.high_mm.z + 1e-9);
    }
    CHECK(&drawn_mesh(a, hose, {0}) == &drawn_mesh(a, hose, {0})); // the same mesh again: a picture keeps it
    // 2.9: flattened to 15, contact pi (100 - 15) / 2 and half a circle of 15 at either side.
    CHECK(near(bounds_of(*drawn_mesh(a, hose, {0})).size_mm().y, std::numbers::pi * 85 / 2 + 15, 0.1));
}

TEST_CASE("a link shaft lies between the screws: level with them, half way up between rhombus jacks") {
    const ShaftLink round{"shaft", 0, 1, {RoundShaft{30, 25}, 700, 79300, {}}, 90.0};
    const Assembly screws = assembly_on({screw_at({-400, 0}), screw_at({400, 0})}, {round});
    const Body& still = body(screws, "shaft");
    const Box box = bounds_of(*still.mesh, drawn_pose(screws, still, {80}));
    CHECK(near(box.centre_mm().z, 50 + 90, 1e-9));
    CHECK(near(box.size_mm().x, 800, 1e-9));
    CHECK(near(box.size_mm().y, 30, 0.1));

    ShaftLink tube{"tube", 0, 1, {BoxShaft{25, 25, 2}, 700, 79300, {}}, {}};
    const Assembly scissors = assembly_on({rhombus_at({-400, 0}, 380), rhombus_at({400, 0}, 380)}, {tube});
    const double height = std::sqrt(400.0 * 400 - 380.0 * 380);
    const Body& drawn = body(scissors, "tube");
    const Body& turning = body(scissors, "tube turning");
    CHECK(drawn.drawn);
    CHECK_FALSE(drawn.swept);
    CHECK_FALSE(turning.drawn); // swept as the round bar that it fills
    CHECK(bounds_of(*turning.mesh).size_mm().y >= 25 * std::sqrt(2.0));
    for (const double at : {0.0, 100.0}) {
        const Box there = bounds_of(*drawn.mesh, drawn_pose(scissors, drawn, {at}));
        CHECK(near(there.centre_mm().z, 50 + 30 + 0.5 * (height + at), 0.03));
    }
    // It is swept against everything but the two jacks that it joins.
    const auto pairs = scissors.moving_pairs();
    const auto index = static_cast<std::size_t>(&turning - scissors.bodies.data());
    CHECK(std::any_of(pairs.begin(), pairs.end(),
                      [&](const BodyPair& p) { return p.first == index || p.second == index; }));
    for (const BodyPair& pair : pairs) {
        const std::size_t other = pair.first == index ? pair.second : pair.second == index ? pair.first : index;
        CHECK((other == index || scissors.bodies[other].name.find("jack") == std::string::npos));
    }
}

TEST_CASE("a tilt that is drawn magnified is seen in the heights of the heads: each stands where the platen is") {
    const Assembly a = assembly_on({rhombus_at({-400, 0}, 380), screw_at({400, 0})});
    const Body& platen = body(a, "platen");
    for (const Slope slope : {Slope{0, 0}, Slope{0.02, 0}, Slope{-0.05, 0.01}}) {
        CAPTURE(slope.x);
        const Travel at{60};
        const Pose lies = drawn_pose(a, platen, at, slope);
        for (const double x : {-400.0, 400.0}) {
            const Body& head = body(a, x < 0 ? "jack 1 head" : "jack 2 screw");
            const double top = bounds_of(*head.mesh, drawn_pose(a, head, at, slope)).high_mm.z;
            // The platen's underside above the jack, to the second order of the tilt (0.05^2 / 2 x 400 = 0.5 mm).
            const double underside = bounds_of(*platen.mesh).low_mm.z;
            const double above = lies.apply({x, 0, underside}).z;
            CHECK(near(top, above, 0.6));
        }
        // The links close round their pins all the same.
        const Vec3 corner = drawn_pose(a, body(a, "jack 1 right lower link"), at, slope).apply({200, 0, 0});
        CHECK(close(corner, drawn_pose(a, body(a, "jack 1 right upper link"), at, slope).apply({200, 0, 0})));
    }
}
