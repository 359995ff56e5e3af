// The sweep against closed-form solids: REFERENCE 13.3 and 13.4, and cases one can work by heart.
#include "checks/clearance/sweep.hpp"
#include "tests/checks/clearance/shapes.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>
#include <glm/gtc/quaternion.hpp>

#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

namespace evenclose {
namespace {

using test::at;
using test::box_mesh;
using test::cylinder_mesh;
using test::near;
using test::ready;
using test::sphere_mesh;
using test::straight_up;
using test::straight_up_tilting;
using test::torus_mesh;

Mat3 turned(double angle_rad, const Vec3& axis) {
    return glm::mat3_cast(glm::angleAxis(angle_rad, glm::normalize(axis)));
}

TriangleMesh speck(const Vec3& where) { // a point, as near as a mesh can be one
    TriangleMesh mesh;
    mesh.vertices_mm = {where, where + Vec3{1e-9, 0, 0}, where + Vec3{0, 1e-9, 0}};
    mesh.triangles = {{0, 1, 2}};
    return mesh;
}

Sweep run(const SweptBody& first, const SweptBody& second, double to, SweepRequest request = {}) {
    request.from = {0};
    request.to = {to};
    Progress progress;
    return sweep(first, second, request, progress);
}

/// What every answer must hold to, whatever the bodies.
void check_sound(const Sweep& answer, const SweepRequest& request) {
    REQUIRE(!answer.spans.empty());
    CHECK(answer.spans.front().from == request.from);
    CHECK(answer.spans.back().to == request.to);
    for (std::size_t i = 0; i < answer.spans.size(); ++i) {
        const ClearanceSpan& span = answer.spans[i];
        CAPTURE(span.from.mm);
        CHECK(span.lower_mm <= span.upper_mm);
        CHECK(span.lower_mm >= 0);
        CHECK(span.from <= span.to);
        if (i > 0) {
            CHECK(answer.spans[i - 1].to == span.from);
        }
        if (answer.tight && span.lower_mm > 0 && span.lower_mm < request.interest_mm) {
            CHECK(span.upper_mm - span.lower_mm <= request.tightness_mm * (1 + 1e-9));
        }
    }
    for (std::size_t i = 1; i < answer.contacts.size(); ++i) {
        CHECK(answer.contacts[i - 1].to < answer.contacts[i].from);
    }
    CHECK(answer.least_lower_mm <= answer.least_upper_mm);
}

TEST_CASE("13.3 distances at a pose") {
    struct Row {
        const char* what;
        SharedClearanceMesh first, second;
        Pose first_at, second_at;
        double distance, sagitta;
        double nearer = 0; // facets that are chords on the far side of a hollow come nearer by this
    };
    const SharedClearanceMesh unit_box = ready(box_mesh(Vec3{0}, Vec3{10}));
    const double fine = 1 - std::cos(std::numbers::pi / 128);
    const SharedClearanceMesh triangle = ready({{{0, 0, 0}, {10, 0, 0}, {0, 10, 0}}, {{0, 1, 2}}});
    const SharedClearanceMesh torus = ready(torus_mesh(30, 10, 256, 128));
    const SharedClearanceMesh cylinder = ready(cylinder_mesh(5, 20, 128));
    const Mat3 lying = turned(std::numbers::pi / 2, {0, 1, 0});
    const Row rows[] = {
        {"boxes", unit_box, ready(box_mesh({13, 14, 0}, {23, 24, 10})), {}, {}, 5, 0},
        {"corner offset (3, 4, 12)", unit_box, unit_box, {}, at(13, 14, 22), 13, 0},
        {"spheres 5 and 7 at 20",
         ready(sphere_mesh(5, 128)),
         ready(sphere_mesh(7, 128)),
         {},
         at(20, 0, 0),
         8,
         24 * fine},
        {"point to torus", ready(speck({0, 0, 0})), torus, at(50, 0, 40), {}, 34.721359550, 20 * fine},
        {"point on the axis to torus",
         ready(speck({0, 0, 0})),
         torus,
         at(0, 0, 40),
         {},
         40,
         20 * fine,
         24 * (1 - std::cos(std::numbers::pi / 256))},
        {"crossed cylinders",
         ready(cylinder_mesh(5, 60, 128)),
         ready(cylinder_mesh(7, 60, 128)),
         {lying, Vec3{0}},
         at(0, 20, 0),
         8,
         24 * fine},
        {"point to cylinder", ready(speck({0, 0, 0})), cylinder, at(8, 6, 16), {}, 7.810249676, 10 * fine},
        {"triangle, face", triangle, ready(speck({0, 0, 0})), {}, at(2, 2, 5), 5, 0},
        {"triangle, edge", triangle, ready(speck({0, 0, 0})), {}, at(8, 8, 0), 4.242640687, 0},
        {"triangle, corner", triangle, ready(speck({0, 0, 0})), {}, at(-3, -4, 12), 13, 0},
    };
    for (const Row& row : rows) {
        CAPTURE(row.what);
        const double tightness = 1e-4;
        const PoseClearance told = clearance_at({row.first, row.first_at, nullptr},
                                                {row.second, row.second_at, nullptr}, {0}, {}, 100, tightness);
        CHECK(told.contact == Contact::clear);
        CHECK(told.distance_mm >= row.distance - row.nearer - 2e-9);
        CHECK(told.distance_mm <= row.distance + row.sagitta + tightness + 2e-9);
        CHECK(near(glm::length(told.on_first_mm - told.on_second_mm), told.distance_mm, 1e-6));
        // The other way round it is as far, and the points change places.
        const PoseClearance back = clearance_at({row.second, row.second_at, nullptr},
                                                {row.first, row.first_at, nullptr}, {0}, {}, 100, tightness);
        CHECK(near(back.distance_mm, told.distance_mm, tightness + 1e-9));
        CHECK(near(glm::length(back.on_first_mm - back.on_second_mm), back.distance_mm, 1e-6));
    }
}

TEST_CASE("13.4 travel to first contact") {
    struct Row {
        const char* what;
        SharedClearanceMesh still, moving;
        Pose still_at, moving_at;
        double travel, sagitta;
    };
    const double fine = 1 - std::cos(std::numbers::pi / 96);
    const Mat3 lying = turned(std::numbers::pi / 2, {0, 1, 0});   // axis along X
    const Mat3 lying_y = turned(std::numbers::pi / 2, {1, 0, 0}); // axis along Y
    const SharedClearanceMesh plane = ready(box_mesh({-50, -50, 0}, {50, 50, 5}));
    const SharedClearanceMesh cube = ready(box_mesh(Vec3{-5}, Vec3{5}));
    const Mat3 on_edge = turned(std::numbers::pi / 4, {1, 0, 0});
    const Mat3 on_corner = turned(std::atan(std::sqrt(2.0)), {1, -1, 0});
    const Row rows[] = {
        {"sphere 5 on sphere 7 offset 6", ready(sphere_mesh(7, 96)), ready(sphere_mesh(5, 96)), at(0, 0, 30),
         at(6, 0, 0), 19.607695155, 2 * 12 * fine},
        {"parallel cylinders offset 6",
         ready(cylinder_mesh(7, 60, 96)),
         ready(cylinder_mesh(5, 60, 96)),
         {lying, Vec3{0, 0, 30}},
         {lying, Vec3{0, 6, 0}},
         19.607695155,
         2 * 12 * fine},
        {"crossed cylinders",
         ready(cylinder_mesh(7, 60, 96)),
         ready(cylinder_mesh(5, 60, 96)),
         {lying, Vec3{0, 0, 30}},
         {lying_y, Vec3{0}},
         18,
         12 * fine},
        {"cube on its edge to a plane", plane, cube, at(0, 0, 30), {on_edge, Vec3{0}}, 22.928932188, 0},
        {"cube on its corner to a plane", plane, cube, at(0, 0, 30), {on_corner, Vec3{0}}, 21.339745962, 0},
        {"sphere 5 on torus at radius 24", ready(torus_mesh(30, 10, 192, 96)), ready(sphere_mesh(5, 96)), at(0, 0, 30),
         at(24, 0, 0), 16.252272, 3 * 15 * fine},
    };
    const Ride up = straight_up(29);
    for (const Row& row : rows) {
        CAPTURE(row.what);
        SweepRequest request;
        request.to = {29};
        Progress progress;
        const Sweep told =
            sweep({row.still, row.still_at, nullptr}, {row.moving, row.moving_at, &up}, request, progress);
        check_sound(told, request);
        CHECK(told.contact == Contact::foul);
        REQUIRE(!told.contacts.empty());
        CHECK(told.contacts.front().from.mm >= row.travel - 1e-6);
        CHECK(told.contacts.front().from.mm <= row.travel + row.sagitta + request.contact_tightness_mm);
        CHECK(told.least_lower_mm == 0);
        CHECK(progress.fraction() == doctest::Approx(1.0));
    }
}

TEST_CASE("13.4 a sphere on the torus axis passes with 15 to spare") {
    const Ride up = straight_up(60);
    const Sweep told = run({ready(torus_mesh(30, 10, 64, 32)), at(0, 0, 30), nullptr},
                           {ready(sphere_mesh(5, 32)), at(0, 0, 0), &up}, 60);
    CHECK(told.contact == Contact::clear);
    CHECK(told.contacts.empty());
    const double sagitta = 45 * (1 - std::cos(std::numbers::pi / 32));
    // Round the hole the facets are chords on its far side from the tube: they come nearer by this.
    CHECK(told.least_upper_mm >= 15 - 20 * (1 - std::cos(std::numbers::pi / 64)));
    CHECK(told.least_lower_mm <= 15 + sagitta);
    CHECK(told.least_upper_mm <= 15 + sagitta + 0.05);
    CHECK(told.least_lower_mm >= 15 - 20 * (1 - std::cos(std::numbers::pi / 64)) - 0.05);
    CHECK(near(told.least_at.mm, 30, 2.5)); // flat there: 0.05 mm of tightness is 2 mm of travel
}

TEST_CASE("a foul over exactly 0.8 mm of the stroke") {
    // A lip 0.5 mm thick rises past one 0.3 mm thick that reaches 1 mm over it: by heart, from 9.5 to 10.3.
    const Ride up = straight_up(40);
    const SweptBody lip{ready(box_mesh({0, 0, 10}, {10, 10, 10.3})), {}, nullptr};
    const SweptBody rising{ready(box_mesh({9, 0, 0}, {19, 10, 0.5})), {}, &up};
    const Sweep told = run(lip, rising, 40);
    check_sound(told, {.from = {0}, .to = {40}});
    CHECK(told.contact == Contact::foul);
    REQUIRE(told.contacts.size() == 1);
    CHECK(near(told.contacts[0].from.mm, 9.5, 0.01));
    CHECK(near(told.contacts[0].to.mm, 10.3, 0.01));
    for (const ClearanceSpan& span : told.spans) {
        if (span.to.mm < 9.49) {
            CHECK(span.lower_mm > 0);
        }
    }
}

TEST_CASE("a sheet of 0.2 mm goes through a sheet of 0.2 mm") {
    const Ride up = straight_up(150);
    const Sweep told = run({ready(box_mesh({0, 0, 77.77}, {100, 100, 77.97})), {}, nullptr},
                           {ready(box_mesh({20, 20, 0}, {80, 80, 0.2})), {}, &up}, 150);
    CHECK(told.contact == Contact::foul);
    REQUIRE(told.contacts.size() == 1);
    CHECK(near(told.contacts[0].from.mm, 77.57, 0.01));
    CHECK(near(told.contacts[0].to.mm, 77.97, 0.01));
}

TEST_CASE("one body wholly inside another is inside, not clear") {
    const Ride up = straight_up(10);
    const SharedClearanceMesh hollow = ready(box_mesh(Vec3{-50}, Vec3{50}));
    const SharedClearanceMesh small = ready(box_mesh(Vec3{-5}, Vec3{5}));
    for (const bool swapped : {false, true}) {
        CAPTURE(swapped);
        const Sweep told = run({swapped ? small : hollow, {}, nullptr}, {swapped ? hollow : small, {}, &up}, 10);
        CHECK(told.contact == Contact::inside);
        CHECK(told.least_lower_mm == 0);
        for (const ClearanceSpan& span : told.spans) {
            CHECK(span.lower_mm == 0);
        }
        CHECK(clearance_at({hollow, {}, nullptr}, {small, {}, nullptr}, {0}, {}, 25, 0.05).contact == Contact::inside);
    }
    // Through the wall: in touch from the first wall to when it is wholly out.
    const Ride far = straight_up(100);
    const Sweep out = run({hollow, {}, nullptr}, {small, {}, &far}, 100);
    CHECK(out.contact == Contact::foul);
    REQUIRE(!out.contacts.empty());
    CHECK(out.contacts.front().from.mm == 0);
    CHECK(near(out.contacts.back().to.mm, 55, 0.01));
}

TEST_CASE("an open body with a stray shell: told inside where it can be, and said where it cannot") {
    const Ride up = straight_up(1);
    TriangleMesh open = box_mesh(Vec3{-50}, Vec3{50});
    open.triangles.resize(10); // one wall of 100 x 100 off: +x
    append(open, box_mesh({200, 0, 0}, {201, 1, 1}));
    const SharedClearanceMesh small = ready(box_mesh(Vec3{-1}, Vec3{1}));
    CHECK(run({ready(open), {}, nullptr}, {small, at(-45, 0, 0), &up}, 1).contact == Contact::inside);
    const Sweep unknown = run({ready(open), {}, nullptr}, {small, at(49, 3, 3), &up}, 1);
    CHECK(unknown.contact != Contact::inside);
    CHECK(unknown.why_not.find("open") != std::string::npos);
}

TEST_CASE("a touch only when tilted") {
    // The moving plate's end, 400 mm out, clears a lip by 1 mm level; a slope of 3 mm/m lifts it by 1.2 mm.
    const SharedClearanceMesh plate = ready(box_mesh({-400, -100, 0}, {400, 100, 20}));
    const SharedClearanceMesh lip = ready(box_mesh({390, -20, 71}, {420, 20, 80}));
    const Ride level = straight_up(50);
    const Ride tilting = straight_up_tilting(50, 0.003, 0);
    CHECK(run({lip, {}, nullptr}, {plate, {}, &level}, 50).contact == Contact::clear);
    const Sweep told = run({lip, {}, nullptr}, {plate, {}, &tilting}, 50);
    CHECK(told.contact == Contact::foul);
    REQUIRE(told.contacts.size() == 1);
    // By heart: the top corner (400, 20) stands at 400 sin + 20 cos of atan 0.003 over the pivot, meets 71.
    const double phi = std::atan(0.003);
    CHECK(near(told.contacts[0].from.mm, 71 - (400 * std::sin(phi) + 20 * std::cos(phi)), 0.011));
    CHECK(told.contacts[0].to.mm == 50);
    CHECK(near(told.least_slope.x, 0.003, 1e-3));
}

TEST_CASE("a plate that tilts more and more runs through a bar: one contact, its ends by heart") {
    // Jacks at different rates and nothing else: one slope at each travel, another at the next.
    const double end = 150;
    const double steep = 0.004;
    Ride ride = straight_up(end);
    ride.knots.back().slope = {{steep, 0}, {steep, 0}};
    const SharedClearanceMesh plate = ready(box_mesh({-350, -150, -40}, {350, 150, 0}));
    const SharedClearanceMesh bar = ready(box_mesh({330, 34, 74}, {370, 46, 86}));
    SweepRequest request{.from = {0}, .to = {end}};
    request.budget = 2'000'000; // such a contact once cost minutes
    const Sweep told = run({bar, {}, nullptr}, {plate, {}, &ride}, end, request);
    check_sound(told, request);
    CHECK(told.tight);
    CHECK(told.contact == Contact::foul);
    REQUIRE(told.contacts.size() == 1);
    // By heart: the top's end, 350 out, meets the bar's underside; the plate's underside leaves its inner top edge.
    const auto root = [end](auto above) {
        double low = 0;
        double high = end;
        for (int i = 0; i < 60; ++i) {
            const double middle = 0.5 * (low + high);
            (above(middle) ? high : low) = middle;
        }
        return low;
    };
    const auto phi = [&](double s) { return std::atan(steep * s / end); };
    CHECK(near(told.contacts[0].from.mm, root([&](double s) { return s + 350 * std::sin(phi(s)) > 74; }), 0.01));
    CHECK(near(told.contacts[0].to.mm,
               root([&](double s) { return s + 330 * std::tan(phi(s)) - 40 / std::cos(phi(s)) > 86; }), 0.01));
}

TEST_CASE("the least clearance over the tilt envelope, by heart") {
    // Plate under a flat head, 60 mm up at the end of the stroke: 10 level, less 400 sin at full slope.
    const SharedClearanceMesh plate = ready(box_mesh({-400, -100, -20}, {400, 100, 0}));
    const SharedClearanceMesh head = ready(box_mesh({-600, -200, 60}, {600, 200, 80}));
    const Ride ride = straight_up_tilting(50, 0.005, 0.002);
    const Sweep told = run({head, {}, nullptr}, {plate, {}, &ride}, 50);
    check_sound(told, {.from = {0}, .to = {50}});
    const double steep = std::hypot(0.005, 0.002);
    const double rise = (400 * 0.005 + 100 * 0.002) / std::sqrt(1 + steep * steep);
    CHECK(told.contact == Contact::clear);
    CHECK(told.least_lower_mm <= 10 - rise + 1e-9);
    CHECK(told.least_upper_mm >= 10 - rise - 1e-9);
    CHECK(told.least_upper_mm - told.least_lower_mm <= 0.05);
    CHECK(near(told.least_at.mm, 50, 0.06));
    CHECK(near(std::abs(told.least_slope.x), 0.005, 2e-4));
    CHECK(near(std::abs(told.least_slope.y), 0.002, 4e-4));
}

TEST_CASE("resting by design is touching, not a foul") {
    const Ride up = straight_up(20);
    const SharedClearanceMesh block = ready(box_mesh({-30, -30, 0}, {30, 30, 40}));
    const SharedClearanceMesh table = ready(box_mesh({-100, -100, -20}, {100, 100, 0}));
    SUBCASE("lifted off") {
        const Sweep told = run({table, {}, nullptr}, {block, {}, &up}, 20);
        CHECK(told.contact == Contact::touching);
        CHECK(told.least_upper_mm == 0);
        REQUIRE(told.contacts.size() == 1);
        CHECK(told.contacts[0].from.mm == 0);
        CHECK(told.contacts[0].to.mm <= 0.01);
    }
    SUBCASE("standing on it") {
        CHECK(run({table, {}, nullptr}, {block, {}, nullptr}, 20).contact == Contact::touching);
        CHECK(clearance_at({table, {}, nullptr}, {block, {}, nullptr}, {0}, {}, 25, 0.05).contact == Contact::touching);
    }
    SUBCASE("sliding along a wall it touches") {
        const SharedClearanceMesh wall = ready(box_mesh({30, -50, -10}, {40, 50, 100}));
        const Sweep told = run({wall, {}, nullptr}, {block, {}, &up}, 20);
        CHECK(told.contact == Contact::touching);
    }
    SUBCASE("but pressed into it is a foul, however flush the walls") {
        const SharedClearanceMesh same = ready(box_mesh({-30, -30, -10}, {30, 30, 30}));
        CHECK(clearance_at({block, {}, nullptr}, {same, {}, nullptr}, {0}, {}, 25, 0.05).contact == Contact::foul);
        CHECK(clearance_at({block, {}, nullptr}, {block, {}, nullptr}, {0}, {}, 25, 0.05).contact == Contact::foul);
    }
}

TEST_CASE("a ride with a rest: contact only in the piece that moves") {
    // Stands until 10, then rises 5 over the next 10: meets the lip (2 above) at travel 14.
    const Ride ride{Vec3{0.0}, {{{0}, 0, {}}, {{10}, 0, {}}, {{20}, 5, {}}}};
    const Sweep told = run({ready(box_mesh({0, 0, 12}, {10, 10, 20})), {}, nullptr},
                           {ready(box_mesh({0, 0, 0}, {10, 10, 10})), {}, &ride}, 20);
    CHECK(told.contact == Contact::foul);
    REQUIRE(told.contacts.size() == 1);
    CHECK(near(told.contacts[0].from.mm, 14, 0.01));
    CHECK(told.contacts[0].to.mm == 20);
}

TEST_CASE("two bodies on one ride stay as they are") {
    const Ride ride = straight_up_tilting(30, 0.01, 0.01);
    const Sweep told = run({ready(box_mesh({0, 0, 0}, {10, 10, 10})), {}, &ride},
                           {ready(box_mesh({13, 14, 0}, {23, 24, 10})), {}, &ride}, 30);
    CHECK(told.contact == Contact::clear);
    CHECK(near(told.least_upper_mm, 5, 1e-9));
    CHECK(near(told.least_lower_mm, 5, 0.05));
}

TEST_CASE("unusable meshes are refused by name") {
    TriangleMesh mesh = box_mesh(Vec3{0}, Vec3{10});
    SUBCASE("not a number") {
        mesh.vertices_mm[5].y = std::numeric_limits<double>::quiet_NaN();
        CHECK_THROWS_WITH_AS((void)ready(mesh), "vertex 5 is not finite: (10, nan, 10)", std::invalid_argument);
    }
    SUBCASE("infinite") {
        mesh.vertices_mm[0].x = std::numeric_limits<double>::infinity();
        CHECK_THROWS_AS((void)ready(mesh), std::invalid_argument);
    }
    SUBCASE("corner out of range") {
        mesh.triangles[3][1] = 8;
        CHECK_THROWS_WITH_AS((void)ready(mesh), "triangle 3 names vertex 8, but there are 8", std::invalid_argument);
    }
    SUBCASE("empty") { CHECK_THROWS_AS((void)ready({}), std::invalid_argument); }
}

TEST_CASE("one mesh is prepared once for all who use it, and not kept when nobody does") {
    const SharedMesh mesh = std::make_shared<const TriangleMesh>(box_mesh({0, 0, 0}, {1, 1, 1}));
    const SharedMesh alike = std::make_shared<const TriangleMesh>(*mesh);
    SharedClearanceMesh made = prepare(mesh);
    CHECK(prepare(mesh) == made);
    CHECK(prepare(alike) != made);
    const std::weak_ptr<const ClearanceMesh> gone = made;
    made.reset();
    CHECK(gone.expired());
    CHECK(prepare(mesh));
}

TEST_CASE("the triangles in contact at a pose") {
    const Ride up = straight_up(50);
    const SharedClearanceMesh box = ready(box_mesh({0, 0, 0}, {20, 20, 20}));
    const SharedClearanceMesh bar = ready(box_mesh({8, -5, 30}, {12, 25, 34})); // across, 10 over the box
    const SweptBody moving{box, {}, &up};
    const SweptBody still{bar, {}, nullptr};
    CHECK(triangles_in_contact(moving, still, {5}, {}).empty());
    const std::vector<TrianglePair> pairs = triangles_in_contact(moving, still, {12}, {});
    REQUIRE(!pairs.empty());
    bool top = false;
    for (const auto& [of_box, of_bar] : pairs) {
        const auto corners = [](const SharedMesh& mesh, std::uint32_t triangle) {
            Box box_of;
            for (const std::uint32_t corner : mesh->triangles[triangle]) {
                box_of.add(mesh->vertices_mm[corner]);
            }
            return box_of;
        };
        const Box a = corners(std::make_shared<const TriangleMesh>(box_mesh({0, 0, 12}, {20, 20, 32})), of_box);
        const Box b = corners(std::make_shared<const TriangleMesh>(box_mesh({8, -5, 30}, {12, 25, 34})), of_bar);
        for (int axis = 0; axis < 3; ++axis) { // at the least their boxes meet
            CHECK(a.low_mm[axis] <= b.high_mm[axis]);
            CHECK(b.low_mm[axis] <= a.high_mm[axis]);
        }
        top = top || (a.low_mm.z == 32 && b.low_mm.z == 30 && b.high_mm.z == 34); // its top through a side of the bar
    }
    CHECK(top);
    const std::vector<TrianglePair> turned = triangles_in_contact(still, moving, {12}, {});
    CHECK(turned.size() == pairs.size());
}

TEST_CASE("a cancelled sweep says so") {
    const Ride up = straight_up(20);
    Progress progress;
    progress.cancel();
    const Sweep told = sweep({ready(box_mesh({0, 0, 50}, {10, 10, 60})), {}, nullptr},
                             {ready(box_mesh({0, 0, 0}, {10, 10, 10})), {}, &up}, {.from = {0}, .to = {20}}, progress);
    CHECK(told.contact == Contact::cancelled);
}

TEST_CASE("a spent budget leaves true bounds and says that they are wide") {
    const Ride up = straight_up(40);
    SweepRequest request;
    request.to = {40};
    request.budget = 3;
    request.interest_mm = 1000;
    Progress progress;
    const Sweep told = sweep({ready(torus_mesh(30, 10, 32, 16)), at(0, 0, 60), nullptr},
                             {ready(sphere_mesh(20, 16)), at(3, 2, 0), &up}, request, progress);
    CHECK(!told.tight);
    check_sound(told, request);
}

} // namespace
} // namespace evenclose
