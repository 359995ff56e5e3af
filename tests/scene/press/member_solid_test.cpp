#include "scene/press/member_solid.hpp"

#include "scene/press/section_outline.hpp"
#include "tests/scene/press/closed_mesh.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

using namespace evenclose;
using evenclose::test::closed_and_clean;
using evenclose::test::near;
using evenclose::test::within;

namespace {

constexpr double kPi = std::numbers::pi;

Member member(Vec3 a, Vec3 b, Section section, double roll_rad = 0) {
    return {"post", a, b, std::move(section), roll_rad, "S235"};
}

AngleSection equal_angle(double leg, double t, double root) { return {leg, leg, t, root, 0.5 * root}; }

double perimeter_mm(const Ring& ring) {
    double sum = 0;
    for (std::size_t i = 0; i < ring.corners_mm.size(); ++i) {
        sum += glm::distance(ring.corners_mm[i], ring.corners_mm[(i + 1) % ring.corners_mm.size()]);
    }
    return sum;
}

bool near(const Vec3& a, const Vec3& b, double absolute) { return glm::distance(a, b) <= absolute; }

/// Parity of crossings of a slanted ray from the point: independent of the way the mesh was made.
bool holds(const TriangleMesh& mesh, const Vec3& point) {
    const Vec3 ray = glm::normalize(Vec3{0.3719, 0.5213, 0.7683});
    int crossings = 0;
    for (const TriangleCorners& t : mesh.triangles) {
        const Vec3 a = mesh.vertices_mm[t[0]] - point;
        const Vec3 b = mesh.vertices_mm[t[1]] - point;
        const Vec3 c = mesh.vertices_mm[t[2]] - point;
        const double ab = glm::dot(ray, glm::cross(a, b));
        const double bc = glm::dot(ray, glm::cross(b, c));
        const double ca = glm::dot(ray, glm::cross(c, a));
        const bool hit = (ab > 0 && bc > 0 && ca > 0) || (ab < 0 && bc < 0 && ca < 0);
        const Vec3 normal = glm::cross(b - a, c - a);
        if (hit && glm::dot(normal, a) / glm::dot(normal, ray) > 0) {
            ++crossings;
        }
    }
    return crossings % 2 == 1;
}

const Section kEverySection[] = {
    TimberSection{89, 140},        PlateSection{120, 8},
    equal_angle(50, 5, 7),         AngleSection{80, 60, 7, 0, 0},
    AngleSection{60, 80, 8, 8, 4}, AngleSection{50, 50, 5, 7, 5}, // toes rounded over the whole thickness
    TubeSection{50, 50, 3, 6},     TubeSection{80, 40, 3, 0},
    TubeSection{80, 40, 5, 4},                         // sharp inside, round outside
    TubeSection{100, 60, 4, 30},                       // half-round ends
    PipeSection{60.325, 3.9116},   PipeSection{12, 6}, // a rod
};

} // namespace

TEST_CASE("every section drawn out in every direction is closed, outward, and of area x length") {
    const Vec3 ends[] = {{700, 0, 0}, {0, -700, 0}, {0, 0, 700}, {0, 0, -700}, {300, -400, 500}, {1e-4, 0, 900}};
    for (const Section& section : kEverySection) {
        CAPTURE(section.index());
        for (const Vec3& along : ends) {
            CAPTURE(along.x);
            CAPTURE(along.y);
            CAPTURE(along.z);
            const Vec3 a{120, -40, 15};
            const TriangleMesh mesh = solid_of(member(a, a + along, section, 0.4));
            CHECK(closed_and_clean(mesh));
            const Outline outline = outline_of(section);
            CHECK(within(signed_volume_mm3(mesh), outline.area_mm2() * glm::length(along), 1e-10));
            // Were a cap folded over itself, its triangles would have more area than the section.
            const double walls = glm::length(along) * (perimeter_mm(outline.outer) + perimeter_mm(outline.hollow));
            CHECK(within(surface_area_mm2(mesh), 2 * outline.area_mm2() + walls, 1e-10));
        }
    }
}

TEST_CASE("5.10 equal angles with root and toe radius: area as EN 10056-1 lists it") {
    struct Row {
        const char* id;
        double leg, t, root, area_cm2, c_cm;
    };
    const Row rows[] = {
        {"40x40x4", 40, 4, 6, 3.079, 1.120},        {"50x50x5", 50, 5, 7, 4.803, 1.404},
        {"50x50x6", 50, 6, 7, 5.693, 1.445},        {"60x60x6", 60, 6, 8, 6.909, 1.688},
        {"70x70x7", 70, 7, 9, 9.397, 1.971},        {"80x80x8", 80, 8, 10, 12.267, 2.255},
        {"100x100x10", 100, 10, 12, 19.155, 2.822},
    };
    for (const Row& row : rows) {
        CAPTURE(row.id);
        const Section section = equal_angle(row.leg, row.t, row.root);
        CHECK(within(outline_of(section).area_mm2(), 100 * row.area_cm2, 3e-3));
        // The centroid says on which side the heel is: c from the heel faces, which lie at -leg/2.
        const Vec3 centroid = centroid_mm(solid_of(member({0, 0, 0}, {0, 0, 100}, section)));
        CHECK(within(centroid.x + 0.5 * row.leg, 10 * row.c_cm, 3e-3));
        CHECK(within(centroid.y + 0.5 * row.leg, 10 * row.c_cm, 3e-3));
    }
    // Square corners miss by 1.1 % (REFERENCE 5.10): the radii are really there.
    CHECK(within(outline_of(equal_angle(50, 5, 0)).area_mm2(), 475, 1e-12));
}

TEST_CASE("5d rectangular hollow sections, outer radius 2t: area as EN 10219 lists it, nominal wall") {
    struct Row {
        const char* id;
        double width, depth, wall, area_cm2;
    };
    const Row rows[] = {{"50x3", 50, 50, 3, 5.408},
                        {"60x3", 60, 60, 3, 6.608},
                        {"80x4", 80, 80, 4, 11.748},
                        {"80x40x3", 80, 40, 3, 6.608},
                        {"100x50x4", 100, 50, 4, 10.948}};
    for (const Row& row : rows) {
        CAPTURE(row.id);
        const TubeSection tube{row.width, row.depth, row.wall, 2 * row.wall};
        CHECK(within(outline_of(tube).area_mm2(), 100 * row.area_cm2, 2e-3));
    }
}

TEST_CASE("5d ASME B36.10 schedule 40 pipes: facets enclose the wall and no more than their deviation") {
    struct Row {
        const char* id;
        double diameter_in, wall_in, area_mm2;
    };
    const Row rows[] = {{"1", 1.315, 0.133, 318.6},
                        {"1 1/2", 1.900, 0.145, 515.8},
                        {"2", 2.375, 0.154, 693.2},
                        {"3", 3.500, 0.216, 1437.7},
                        {"4", 4.500, 0.237, 2047.8}};
    for (const Row& row : rows) {
        CAPTURE(row.id);
        const double d = 25.4 * row.diameter_in;
        const double wall = 25.4 * row.wall_in;
        const double area = outline_of(PipeSection{d, wall}).area_mm2();
        const double exact = kPi * wall * (d - wall);
        CHECK(near(exact, row.area_mm2, 0.05));
        CHECK(area > exact);
        CHECK(area < exact + kPi * (2 * d - 2 * wall) * kFacetDeviation_mm);
    }
}

TEST_CASE("round parts enclose the true circle and stand on the axes at its true diameter") {
    for (const double d : {6.0, 20.0, 48.3, 400.0}) {
        CAPTURE(d);
        const Outline outline = round_outline(d, 0.8 * d);
        const auto& p = outline.outer.corners_mm;
        double most_x = 0;
        for (std::size_t i = 0; i < p.size(); ++i) {
            const Vec2 middle = 0.5 * (p[i] + p[(i + 1) % p.size()]);
            CHECK(near(glm::length(middle), 0.5 * d, 1e-9));
            CHECK(glm::length(p[i]) <= 0.5 * d + kFacetDeviation_mm + 1e-12);
            most_x = std::max(most_x, p[i].x);
            CHECK(near(glm::length(outline.hollow.corners_mm[i]), 0.4 * d, 1e-9));
        }
        CHECK(near(most_x, 0.5 * d, 1e-9));
    }
}

TEST_CASE("the local frame: v up for level members, +Y for upright ones, u v axis right-handed") {
    struct Row {
        const char* what;
        Vec3 along, u, v;
    };
    const Row rows[] = {
        {"along X", {500, 0, 0}, {0, 1, 0}, {0, 0, 1}},
        {"along -X", {-500, 0, 0}, {0, -1, 0}, {0, 0, 1}},
        {"along Y", {0, 500, 0}, {-1, 0, 0}, {0, 0, 1}},
        {"up", {0, 0, 500}, {1, 0, 0}, {0, 1, 0}},
        {"down", {0, 0, -500}, {-1, 0, 0}, {0, 1, 0}},
        {"rising at 45 degrees along X", {500, 0, 500}, {0, 1, 0}, {-std::sqrt(0.5), 0, std::sqrt(0.5)}},
    };
    for (const Row& row : rows) {
        CAPTURE(row.what);
        const Pose frame = frame_of(member({10, 20, 30}, Vec3{10, 20, 30} + row.along, TimberSection{10, 10}));
        CHECK(near(frame.turn({1, 0, 0}), row.u, 1e-12));
        CHECK(near(frame.turn({0, 1, 0}), row.v, 1e-12));
        CHECK(near(frame.turn({0, 0, 1}), glm::normalize(row.along), 1e-12));
        CHECK(near(glm::determinant(frame.rotation), 1.0, 1e-12));
        CHECK(near(frame.apply({0, 0, 0}), {10, 20, 30}, 1e-12));
    }
}

TEST_CASE("roll turns the section right-handed about A to B") {
    // Upright: u is X, v is Y. A quarter turn takes u to Y and v to -X.
    const Pose frame = frame_of(member({0, 0, 0}, {0, 0, 500}, TimberSection{10, 10}, kPi / 2));
    CHECK(near(frame.turn({1, 0, 0}), Vec3{0, 1, 0}, 1e-12));
    CHECK(near(frame.turn({0, 1, 0}), Vec3{-1, 0, 0}, 1e-12));
}

TEST_CASE("the heel of an angle is where the header says, and goes with roll and with the swap of A and B") {
    const AngleSection angle = equal_angle(50, 5, 7);
    struct Row {
        const char* what;
        Vec3 a, b;
        double roll_rad;
        Vec3 in_steel, in_air; // near the heel, and opposite
    };
    const Row rows[] = {
        // Upright, roll 0: u is X, v is Y, the heel at -X -Y.
        {"upright", {0, 0, 0}, {0, 0, 400}, 0, {-22, -22, 200}, {22, 22, 200}},
        // A quarter turn: -u -v becomes -Y +X.
        {"upright, quarter turn", {0, 0, 0}, {0, 0, 400}, kPi / 2, {22, -22, 200}, {-22, 22, 200}},
        // A and B swapped: v stays +Y, u is -X, so the heel is mirrored to +X -Y.
        {"hanging", {0, 0, 400}, {0, 0, 0}, 0, {22, -22, 200}, {-22, 22, 200}},
        // Along X: u is Y, v is Z: the heel at -Y, below.
        {"along X", {0, 0, 100}, {400, 0, 100}, 0, {200, -22, 78}, {200, 22, 122}},
        {"along -X", {400, 0, 100}, {0, 0, 100}, 0, {200, 22, 78}, {200, -22, 122}},
        // Along Y: u is -X, v is Z: the heel at +X, below.
        {"along Y", {0, 0, 100}, {0, 400, 100}, 0, {22, 200, 78}, {-22, 200, 122}},
    };
    for (const Row& row : rows) {
        CAPTURE(row.what);
        const TriangleMesh mesh = solid_of(member(row.a, row.b, angle, row.roll_rad));
        CHECK(holds(mesh, row.in_steel));
        CHECK_FALSE(holds(mesh, row.in_air));
    }
}

TEST_CASE("legs of an unequal angle: width along u, depth along v, each as thick as said") {
    const TriangleMesh mesh = solid_of(member({0, 0, 0}, {0, 0, 300}, AngleSection{80, 60, 7, 8, 4}));
    const Box box = bounds_of(mesh);
    CHECK(near(box.low_mm, {-40, -30, 0}, 1e-9));
    CHECK(near(box.high_mm, {40, 30, 300}, 1e-9));
    CHECK(holds(mesh, {30, -23.1, 150}));       // 6.9 up from the long leg's face
    CHECK_FALSE(holds(mesh, {30, -22.9, 150})); // 7.1
    CHECK(holds(mesh, {-33.1, 20, 150}));
    CHECK_FALSE(holds(mesh, {-32.9, 20, 150}));
    CHECK(holds(mesh, {-32, -22, 150}));          // in the root fillet: 1 mm off both faces
    CHECK_FALSE(holds(mesh, {39.5, -23.5, 150})); // cut away at the toe
}

TEST_CASE("a tube is hollow, a rod is not") {
    const Vec3 a{0, 0, 0};
    const Vec3 b{0, 0, 300};
    const TriangleMesh tube = solid_of(member(a, b, TubeSection{80, 40, 3, 6}));
    CHECK(near(bounds_of(tube).size_mm(), {80, 40, 300}, 1e-9));
    CHECK_FALSE(holds(tube, {0, 0, 150}));
    CHECK(holds(tube, {38.5, 0, 150}));
    CHECK(holds(tube, {0, 18.5, 150}));
    CHECK_FALSE(holds(tube, {39, 19, 150})); // the corner is round
    CHECK_FALSE(holds(solid_of(member(a, b, PipeSection{48.3, 3.2})), {0, 0, 150}));
    CHECK(holds(solid_of(member(a, b, PipeSection{12.7, 6.35})), {0, 0, 150}));
}

TEST_CASE("a mesh section stands with its own origin at A, axes kept, turned by roll about Z") {
    const auto block =
        std::make_shared<const TriangleMesh>(solid_of(member({0, 0, 0}, {0, 0, 30}, TimberSection{10, 20})));
    const TriangleMesh mesh =
        solid_of(member({100, 200, 300}, {500, 200, 300}, MeshSection{"b.stl", {}, block}, kPi / 2));
    CHECK(near(bounds_of(mesh).low_mm, {90, 195, 300}, 1e-9));
    CHECK(near(bounds_of(mesh).high_mm, {110, 205, 330}, 1e-9));
    CHECK_THROWS_AS((void)solid_of(member({0, 0, 0}, {0, 0, 1}, MeshSection{})), std::invalid_argument);
}

TEST_CASE("what cannot be built is refused by name, not built wrong") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const Section bad[] = {
        TimberSection{0, 10},           TimberSection{nan, 10},         PlateSection{10, -1},
        AngleSection{50, 50, 50, 0, 0}, AngleSection{50, 50, 5, 44, 4}, AngleSection{50, 50, 5, 7, 6},
        AngleSection{50, 50, 5, -1, 0}, TubeSection{50, 50, 25, 0},     TubeSection{50, 50, 3, 26},
        TubeSection{50, 50, 0, 0},      PipeSection{20, 10.1},          PipeSection{0, 0},
    };
    for (const Section& section : bad) {
        CAPTURE(section.index());
        CHECK_THROWS_WITH_AS((void)solid_of(member({0, 0, 0}, {0, 0, 100}, section)),
                             doctest::Contains("member \"post\": section: "), std::invalid_argument);
    }
    CHECK_THROWS_WITH_AS((void)solid_of(member({1, 2, 3}, {1, 2, 3}, TimberSection{10, 10})),
                         "member \"post\": A and B must be apart", std::invalid_argument);
    CHECK_THROWS_AS((void)solid_of(member({1, 2, 3}, {1, 2, nan}, TimberSection{10, 10})), std::invalid_argument);
}
