// Meshes and places as they should not be, but are: the sweep must be right about them all the same, and end.
#include "checks/clearance/sweep.hpp"
#include "tests/checks/clearance/convex_lift.hpp"
#include "tests/checks/clearance/shapes.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>
#include <glm/gtc/quaternion.hpp>

#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>

namespace evenclose {
namespace {

using test::at;
using test::box_mesh;
using test::near;
using test::ready;
using test::straight_up;

Sweep run(const SweptBody& first, const SweptBody& second, double to, double interest_mm = 25) {
    SweepRequest request;
    request.to = {to};
    request.interest_mm = interest_mm;
    Progress progress;
    return sweep(first, second, request, progress);
}

TriangleMesh inside_out(TriangleMesh mesh) {
    for (TriangleCorners& c : mesh.triangles) {
        std::swap(c[1], c[2]);
    }
    return mesh;
}

/// A wall in the plane x = `x`, 100 by 100 mm from z 0 up, of 2 n^2 triangles.
TriangleMesh wall(double x, std::uint32_t n, double off_mm) {
    TriangleMesh mesh;
    for (std::uint32_t i = 0; i <= n; ++i) {
        for (std::uint32_t j = 0; j <= n; ++j) {
            mesh.vertices_mm.emplace_back(x, off_mm + 100.0 * i / n, off_mm + 100.0 * j / n);
        }
    }
    for (std::uint32_t i = 0; i < n; ++i) {
        for (std::uint32_t j = 0; j < n; ++j) {
            const std::uint32_t a = i * (n + 1) + j;
            mesh.triangles.push_back({a, a + n + 1, a + n + 2});
            mesh.triangles.push_back({a, a + n + 2, a + 1});
        }
    }
    return mesh;
}

} // namespace

TEST_CASE("triangles doubled, turned over, without area or stray change nothing") {
    const Vec3 low{-10, -10, 0};
    const Vec3 high{10, 10, 5};
    TriangleMesh doubled = box_mesh(low, high);
    TriangleMesh flat = doubled;   // some triangles an edge, some a point
    TriangleMesh split = doubled;  // every face with corners of its own, so no edge is shared
    TriangleMesh turned = doubled; // every face twice, once inside out
    for (const TriangleCorners& c : box_mesh(low, high).triangles) {
        doubled.triangles.push_back(c);
        doubled.triangles.push_back(c);
        flat.triangles.push_back({c[0], c[1], c[1]});
        flat.triangles.push_back({c[2], c[2], c[2]});
        turned.triangles.push_back({c[0], c[2], c[1]});
    }
    split.triangles.clear();
    split.vertices_mm.clear();
    for (const TriangleCorners& c : box_mesh(low, high).triangles) {
        const auto next = static_cast<std::uint32_t>(split.vertices_mm.size());
        for (const std::uint32_t corner : c) {
            split.vertices_mm.push_back(box_mesh(low, high).vertices_mm[corner]);
        }
        split.triangles.push_back({next, next + 1, next + 2});
    }
    TriangleMesh unused = box_mesh(low, high); // a vertex that no triangle names, in the way if it were one
    unused.vertices_mm.emplace_back(0, 0, 45);
    const Ride up = straight_up(60);
    for (const TriangleMesh& mesh : {doubled, flat, split, turned, unused, inside_out(box_mesh(low, high))}) {
        CAPTURE(mesh.triangles.size());
        // A bar 25 to 30 over it: by heart, contact from 25 (its top meets the underside) to 35 (its underside the top).
        const Sweep told = run({ready(box_mesh({-2, -50, 30}, {2, 50, 35})), {}, nullptr}, {ready(mesh), {}, &up}, 60);
        CHECK(told.contact == Contact::foul);
        REQUIRE(told.contacts.size() == 1);
        CHECK(near(told.contacts[0].from.mm, 25, 0.01));
        CHECK(near(told.contacts[0].to.mm, 35, 0.01));
        // Beside it by 12.
        const Sweep beside =
            run({ready(box_mesh({22, -50, 30}, {25, 50, 35})), {}, nullptr}, {ready(mesh), {}, &up}, 60);
        CHECK(beside.contact == Contact::clear);
        CHECK(beside.least_lower_mm <= 12);
        CHECK(beside.least_upper_mm >= 12 - 1e-9);
        CHECK(beside.least_upper_mm - beside.least_lower_mm <= 0.05);
    }
}

TEST_CASE("sheets of 0.2 mm go through each other within 0.5 mm of travel") {
    std::mt19937 random(2'000);
    const auto uniform = [&random](double from, double to) {
        return from + (to - from) * std::uniform_real_distribution<double>(0, 1)(random);
    };
    const Ride up = straight_up(0.5);
    for (int trial = 0; trial < 100; ++trial) {
        CAPTURE(trial);
        // Level by heart, or aslant by the closed form; the moving one starts so that it is through before the end.
        const bool level = trial % 4 == 0;
        const auto turn = [&] {
            return level ? Mat3{1.0}
                         : glm::mat3_cast(glm::angleAxis(uniform(0, 0.02), glm::normalize(Vec3{uniform(-1, 1), 1, 0})));
        };
        const TriangleMesh still = box_mesh({-3, -3, -0.1}, {3, 3, 0.1});
        const TriangleMesh moving = box_mesh({-2, -2, -0.1}, {2, 2, 0.1});
        const Pose still_at{turn(), Vec3{uniform(-1, 1), uniform(-1, 1), 100}};
        Pose moving_at{turn(), Vec3{0, 0, 99.7 + uniform(0, 0.05)}};
        const test::Lifts truth =
            test::lifts_in_contact(test::convex_body(still, still_at), test::convex_body(moving, moving_at));
        const Sweep told = run({ready(still), still_at, nullptr}, {ready(moving), moving_at, &up}, 0.5);
        CHECK(told.contact == Contact::foul);
        REQUIRE(told.contacts.size() == 1);
        CHECK(near(told.contacts[0].from.mm, std::max(truth.first_mm, 0.0), 0.01));
        CHECK(near(told.contacts[0].to.mm, std::min(truth.last_mm, 0.5), 0.01));
        if (level) {
            CHECK(near(truth.last_mm - truth.first_mm, 0.4, 1e-9));
        }
    }
}

TEST_CASE("sheets without any thickness go through each other: touched at one travel, and that is told") {
    const auto sheet = [](double z, double half, bool slant) {
        TriangleMesh mesh;
        mesh.vertices_mm = {{-half, -half, z}, {half, -half, z}, {half, half, z}, {-half, half, z}};
        mesh.triangles = {{0, 1, 2}, {0, 2, 3}};
        for (Vec3& v : mesh.vertices_mm) {
            v.z += slant ? 0.1 * v.x + 0.03 * v.y : 0;
        }
        return mesh;
    };
    const Ride up = straight_up(40);
    for (const bool slant : {false, true}) {
        CAPTURE(slant);
        const Sweep told =
            run({ready(sheet(23.456, 50, slant)), {}, nullptr}, {ready(sheet(0, 30, slant)), {}, &up}, 40);
        CHECK(told.contact == Contact::touching);
        REQUIRE(told.contacts.size() == 1);
        CHECK(near(told.contacts[0].from.mm, 23.456, 1e-5));
        CHECK(near(told.contacts[0].to.mm, 23.456, 1e-5));
        CHECK(told.least_upper_mm == 0);
        CHECK(near(told.least_at.mm, 23.456, 1e-5));
    }
}

TEST_CASE("walls that slide along each other touch, over many coplanar triangles, and the work ends") {
    const Ride up = straight_up(60);
    SUBCASE("open sheets, triangles staggered") {
        const Sweep told = run({ready(wall(0, 24, 0)), at(0, 0, 30), nullptr}, {ready(wall(0, 20, 1.7)), {}, &up}, 60);
        CHECK(told.contact == Contact::touching);
        REQUIRE(told.contacts.size() == 1);
        CHECK(told.contacts[0].from.mm == 0);
        CHECK(told.contacts[0].to.mm == 60);
    }
    SUBCASE("a hair apart: clear, and by how much") {
        const Sweep told =
            run({ready(wall(0.002, 24, 0)), at(0, 0, 30), nullptr}, {ready(wall(0, 20, 1.7)), {}, &up}, 60);
        CHECK(told.contact == Contact::clear);
        CHECK(told.least_lower_mm > 0);
        CHECK(told.least_lower_mm <= 0.002);
        CHECK(told.least_upper_mm >= 0.002 - 1e-9);
    }
    SUBCASE("two solid blocks, one sliding down a channel of its own width") {
        TriangleMesh channel = box_mesh({-20, -10, -100}, {-10, 10, 100});
        const TriangleMesh other = box_mesh({10, -10, -100}, {20, 10, 100});
        for (const TriangleCorners& c : other.triangles) {
            channel.triangles.push_back({c[0] + 8, c[1] + 8, c[2] + 8});
        }
        channel.vertices_mm.insert(channel.vertices_mm.end(), other.vertices_mm.begin(), other.vertices_mm.end());
        const Sweep told =
            run({ready(channel), {}, nullptr}, {ready(box_mesh({-10, -5, -5}, {10, 5, 5})), {}, &up}, 60);
        CHECK(told.contact == Contact::touching);
        REQUIRE(told.contacts.size() == 1);
        CHECK(told.contacts[0].to.mm == 60);
    }
}

TEST_CASE("a mold that rests on the platen it rides with touches it all the way, tilted too") {
    Ride ride = test::straight_up_tilting(80, 0.004, 0.003);
    ride.pivot_mm = {37, -11, 5};
    const SharedClearanceMesh platen = ready(box_mesh({-300, -120, -25}, {300, 120, 0}));
    const SharedClearanceMesh mold = ready(box_mesh({-250, -100, 0}, {250, 100, 90}));
    const Pose turned{glm::mat3_cast(glm::angleAxis(0.3, Vec3{0, 0, 1})), Vec3{0}};
    for (const Pose& placed : {Pose{}, turned}) {
        const Sweep told = run({platen, {}, &ride}, {mold, placed, &ride}, 80);
        CHECK(told.contact == Contact::touching);
        REQUIRE(told.contacts.size() == 1);
        CHECK(told.contacts[0].from.mm == 0);
        CHECK(told.contacts[0].to.mm == 80);
    }
}

TEST_CASE("a mesh inside out, or placed mirrored, rests and fouls as any other") {
    const Ride up = straight_up(20);
    const SharedClearanceMesh table = ready(box_mesh({-100, -100, -20}, {100, 100, 0}));
    const TriangleMesh block = box_mesh({-30, -20, 0}, {30, 20, 40});
    const SharedClearanceMesh outward = ready(block);
    const SharedClearanceMesh inward = ready(inside_out(block));
    const Pose mirrored{Mat3{Vec3{-1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0, 1}}, Vec3{0}};
    const auto pose_says = [](const SharedClearanceMesh& a, const Pose& a_at, const SharedClearanceMesh& b,
                              const Pose& b_at) {
        return clearance_at({a, a_at, nullptr}, {b, b_at, nullptr}, {0}, {}, 25, 0.05).contact;
    };
    CHECK(pose_says(table, {}, inward, {}) == Contact::touching);
    CHECK(pose_says(inward, {}, table, {}) == Contact::touching);
    CHECK(pose_says(table, {}, outward, mirrored) == Contact::touching);
    CHECK(pose_says(outward, mirrored, table, {}) == Contact::touching);
    CHECK(pose_says(inward, {}, outward, {}) == Contact::foul);
    CHECK(pose_says(outward, mirrored, outward, {}) == Contact::foul);
    CHECK(pose_says(outward, mirrored, outward, mirrored) == Contact::foul);
    // A foot off to one side comes to the other by mirroring, and meets what stands there: 10 up.
    const SharedClearanceMesh foot = ready(box_mesh({40, -5, 0}, {60, 5, 10}));
    const SharedClearanceMesh shelf = ready(box_mesh({-70, -10, 20}, {-30, 10, 25}));
    const Sweep told = run({shelf, {}, nullptr}, {foot, mirrored, &up}, 20);
    CHECK(told.contact == Contact::foul);
    REQUIRE(told.contacts.size() == 1);
    CHECK(near(told.contacts[0].from.mm, 10, 0.01));
    CHECK(run({shelf, {}, nullptr}, {foot, {}, &up}, 20).contact == Contact::clear);
}

TEST_CASE("100 m from the origin: contact to 0.01 mm, rest and clearance as at home") {
    const Vec3 far{1e5, -1e5, 1e5};
    const auto moved = [&far](TriangleMesh mesh) {
        for (Vec3& v : mesh.vertices_mm) {
            v += far;
        }
        return mesh;
    };
    Ride tilting = test::straight_up_tilting(50, 0.003, 0);
    tilting.pivot_mm = far;
    const Ride up = straight_up(50);
    const TriangleMesh plate = box_mesh({-400, -50, -20}, {400, 50, 20});
    const TriangleMesh lip = box_mesh({390, -20, 60}, {420, 20, 80});
    const TriangleMesh table = box_mesh({-400, -100, -40}, {400, 100, -20});
    // The mesh itself lies far off, or it is placed there.
    for (const bool placed : {false, true}) {
        CAPTURE(placed);
        const auto there = [&](const TriangleMesh& mesh, const Ride* ride) {
            return placed ? SweptBody{ready(mesh), {Mat3{1.0}, far}, ride} : SweptBody{ready(moved(mesh)), {}, ride};
        };
        const Sweep met = run(there(lip, nullptr), there(plate, &up), 50);
        CHECK(met.contact == Contact::foul);
        REQUIRE(met.contacts.size() == 1);
        CHECK(near(met.contacts[0].from.mm, 40, 0.01));
        const Sweep tilted = run(there(lip, nullptr), there(plate, &tilting), 50);
        CHECK(tilted.contact == Contact::foul);
        REQUIRE(tilted.contacts.size() == 1);
        const double phi = std::atan(0.003); // the top corner (400, 20) over the pivot meets 60
        CHECK(near(tilted.contacts[0].from.mm, 60 - (400 * std::sin(phi) + 20 * std::cos(phi)), 0.011));
        CHECK(run(there(table, nullptr), there(plate, &up), 50).contact == Contact::touching);
        const Sweep clear = run(there(box_mesh({403, -50, 0}, {500, 50, 90}), nullptr), there(plate, &up), 50);
        CHECK(clear.contact == Contact::clear);
        CHECK(clear.least_lower_mm <= 3 + 1e-9);
        CHECK(clear.least_upper_mm >= 3 - 1e-9);
        CHECK(clear.least_upper_mm - clear.least_lower_mm <= 0.05);
    }
}

TEST_CASE("corners that are no numbers, or farther off than a kilometre, are refused by name wherever they stand") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double inf = std::numeric_limits<double>::infinity();
    TriangleMesh mesh = box_mesh(Vec3{0}, Vec3{10});
    SUBCASE("of a vertex that no triangle names") {
        mesh.vertices_mm.emplace_back(0, nan, 0);
        CHECK_THROWS_WITH_AS((void)ready(mesh), "vertex 8 is not finite: (0, nan, 0)", std::invalid_argument);
    }
    SUBCASE("minus infinity") {
        mesh.vertices_mm[7].z = -inf;
        CHECK_THROWS_WITH_AS((void)ready(mesh), "vertex 7 is not finite: (10, 10, -inf)", std::invalid_argument);
    }
    SUBCASE("the first of several") {
        mesh.vertices_mm[2].x = mesh.vertices_mm[6].x = nan;
        CHECK_THROWS_WITH_AS((void)ready(mesh), "vertex 2 is not finite: (nan, 10, 0)", std::invalid_argument);
    }
    SUBCASE("finite, but lost") {
        mesh.vertices_mm[3].x = 1e300;
        CHECK_THROWS_WITH_AS((void)ready(mesh), "vertex 3 is more than a kilometre away: (1e+300, 10, 0) mm",
                             std::invalid_argument);
    }
}

TEST_CASE("a body with a thousand stray shells: what any of them meets is told") {
    // Crumbs on a grid beside the block, all well away but one, which is inside the other body at the end.
    TriangleMesh crumbs = box_mesh({-5, -5, 0}, {5, 5, 10});
    for (int i = 0; i < 1000; ++i) {
        const Vec3 where = i == 777 ? Vec3{200, 0, 0} : Vec3{20 + i % 30, 20 + i / 30, 0};
        const TriangleMesh crumb = box_mesh(where, where + 0.1);
        const auto next = static_cast<std::uint32_t>(crumbs.vertices_mm.size());
        crumbs.vertices_mm.insert(crumbs.vertices_mm.end(), crumb.vertices_mm.begin(), crumb.vertices_mm.end());
        for (const TriangleCorners& c : crumb.triangles) {
            crumbs.triangles.push_back({c[0] + next, c[1] + next, c[2] + next});
        }
    }
    const Ride up = straight_up(40);
    const Sweep told = run({ready(box_mesh({190, -10, 20}, {210, 10, 90})), {}, nullptr}, {ready(crumbs), {}, &up}, 40);
    REQUIRE(told.contacts.size() == 1);
    CHECK((told.contact == Contact::foul || told.contact == Contact::inside));
    CHECK(near(told.contacts[0].from.mm, 19.9, 0.01));
    CHECK(told.contacts[0].to.mm == 40);
}

} // namespace evenclose
