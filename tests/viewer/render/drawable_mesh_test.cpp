// Split normals, feature edges and stand-ins, held against solids whose edges one can count.
#include "scene/mesh/shapes.hpp"
#include "tests/viewer/render/shop_press.hpp"
#include "tests/within.hpp"
#include "viewer/render/drawable_mesh.hpp"
#include "viewer/render/octahedral.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <limits>
#include <numbers>
#include <random>

using namespace evenclose;
using namespace evenclose::test;

namespace {

/// Every triangle with corners of its own, as an STL file has them.
TriangleMesh soup(const TriangleMesh& mesh) {
    TriangleMesh apart;
    for (const TriangleCorners& triangle : mesh.triangles) {
        const auto first = static_cast<std::uint32_t>(apart.vertices_mm.size());
        for (const std::uint32_t corner : triangle) {
            apart.vertices_mm.push_back(mesh.vertices_mm[corner]);
        }
        apart.triangles.push_back({first, first + 1, first + 2});
    }
    return apart;
}

Vec3 normal_of(const DrawableVertex& vertex) { return unfold_octahedral(vertex.octahedral); }

} // namespace

TEST_CASE("folded directions come back within 0.005 degrees") {
    std::mt19937 random(4711);
    std::normal_distribution<float> bell;
    for (int trial = 0; trial < 20'000; ++trial) {
        glm::vec3 n{bell(random), bell(random), bell(random)};
        if (trial < 27) { // axes and diagonals too
            n = {trial % 3 - 1, trial / 3 % 3 - 1, trial / 9 - 1};
        }
        if (glm::length(n) == 0) {
            continue;
        }
        n = glm::normalize(n);
        const Vec3 back = unfold_octahedral(fold_octahedral(n));
        CHECK(glm::length(back - Vec3(n)) < 0.005 * std::numbers::pi / 180);
    }
    CHECK(unfold_octahedral(fold_octahedral(glm::vec3(0.0F))) == glm::vec3(0, 0, 1));
}

TEST_CASE("solids have as many feature edges as one counts, as triangle soup too") {
    struct Row {
        const char* which;
        TriangleMesh mesh;
        std::size_t edges, vertices;
    };
    // A box: 12 edges, 8 corners with three normals each. A cylinder of 40 sides (9 degrees each): two rims of 40, each
    // rim corner with two normals. A sphere: smooth all over. Regular solids: 6, 12, 30 edges, a normal a face corner.
    const Row rows[] = {
        {"box", box_shape({-1, -2, -3}, {1, 2, 3}), 12, 24}, {"cylinder", cylinder_shape(10, 50, 40), 80, 160},
        {"sphere", icosphere_shape(10, 3), 0, 642}, // 10 * 4^3 + 2
        {"tetrahedron", tetrahedron_shape(10), 6, 12},       {"octahedron", octahedron_shape(10), 12, 24},
        {"icosahedron", icosahedron_shape(10), 30, 60}, // its faces turn by 41.8 degrees
    };
    for (const Row& row : rows) {
        CAPTURE(std::string(row.which));
        for (const bool apart : {false, true}) {
            CAPTURE(apart);
            const DrawableMesh made = make_drawable(apart ? soup(row.mesh) : row.mesh);
            CHECK(made.edges.size() == row.edges);
            // Cylinder caps cut as fans may have a middle vertex.
            CHECK(made.full.vertices.size() >= row.vertices);
            CHECK(made.full.vertices.size() <= row.vertices + 2);
            CHECK(made.full.triangles.size() == row.mesh.triangles.size());
            CHECK(made.closed);
        }
    }
}

TEST_CASE("normals are a box's faces' own and a sphere's radii") {
    const DrawableMesh box = make_drawable(box_shape({0, 0, 0}, {30, 20, 10}));
    for (const auto& triangle : box.full.triangles) {
        const auto place = [&](std::size_t k) {
            const auto& p = box.full.vertices[triangle[k]].from_middle_mm;
            return Vec3{p[0], p[1], p[2]};
        };
        const Vec3 flat = glm::normalize(glm::cross(place(1) - place(0), place(2) - place(0)));
        for (const std::uint32_t vertex : triangle) {
            CHECK(glm::dot(flat, normal_of(box.full.vertices[vertex])) > 1 - 1e-6);
        }
    }
    const DrawableMesh sphere = make_drawable(icosphere_shape(50, 4));
    for (const DrawableVertex& vertex : sphere.full.vertices) {
        const Vec3 out{vertex.from_middle_mm[0], vertex.from_middle_mm[1], vertex.from_middle_mm[2]};
        CHECK(glm::dot(glm::normalize(out), normal_of(vertex)) > std::cos(0.01));
    }
}

TEST_CASE("what is open, branching or inside out is not called closed, borders are edges") {
    TriangleMesh open = box_shape({0, 0, 0}, {10, 10, 10});
    open.triangles.pop_back();
    const DrawableMesh with_hole = make_drawable(open);
    CHECK(!with_hole.closed);
    CHECK(with_hole.edges.size() == 13); // the missing triangle's diagonal is a border now
    TriangleMesh inside_out = box_shape({0, 0, 0}, {10, 10, 10});
    for (TriangleCorners& triangle : inside_out.triangles) {
        std::swap(triangle[0], triangle[1]);
    }
    CHECK(!make_drawable(inside_out).closed);
    TriangleMesh fin = box_shape({0, 0, 0}, {10, 10, 10});
    fin.vertices_mm.emplace_back(0, -10, -10);
    fin.triangles.push_back(
        {fin.triangles[0][0], fin.triangles[0][1], static_cast<std::uint32_t>(fin.vertices_mm.size() - 1)});
    CHECK(!make_drawable(fin).closed);
    TriangleMesh one_turned = box_shape({0, 0, 0}, {10, 10, 10});
    std::swap(one_turned.triangles[0][0], one_turned.triangles[0][1]);
    CHECK(!make_drawable(one_turned).closed);
}

TEST_CASE("spoiled triangles are left out and told") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    TriangleMesh mesh = box_shape({0, 0, 0}, {10, 10, 10});
    mesh.vertices_mm.emplace_back(nan, 0, 0);
    mesh.triangles.insert(mesh.triangles.begin(), {0, 1, 8});
    mesh.triangles.push_back({0, 1, 99});
    mesh.triangles.push_back({2, 2, 3});
    const DrawableMesh made = make_drawable(mesh);
    CHECK(made.full.triangles.size() == 12);
    REQUIRE(made.drawn.size() == 12);
    CHECK(made.drawn.front() == 1);
    CHECK(made.bounds_mm.low_mm == Vec3{0, 0, 0});
    CHECK(made.bounds_mm.high_mm == Vec3{10, 10, 10});
    CHECK(!made.closed);
    CHECK(make_drawable({}).full.triangles.empty());
    CHECK(make_drawable({{{nan, nan, nan}}, {{0, 0, 0}}}).bounds_mm.empty());
}

TEST_CASE("a scan's noise does not blacken the picture with edges") {
    std::mt19937 random(4711);
    std::uniform_real_distribution<double> noise(-3, 3);
    TriangleMesh mesh = icosphere_shape(200, 7);
    for (Vec3& vertex : mesh.vertices_mm) {
        vertex *= 1.0 + noise(random) / 200.0;
    }
    REQUIRE(mesh.triangles.size() > 300'000);
    CHECK(make_drawable(mesh).edges.size() * 4 <= mesh.triangles.size());
}

TEST_CASE("stand-ins are fewer triangles on the same surface, and keep its edges sharp") {
    const TriangleMesh half = deck_half(true, 900, 300); // 1.1 million triangles
    const DrawableMesh made = make_drawable(half);
    REQUIRE(made.coarse.size() == 2);
    std::size_t finer = made.full.triangles.size();
    for (const DrawableSurface& level : made.coarse) {
        CAPTURE(level.cell_mm);
        CHECK(level.triangles.size() * 2 < finer);
        CHECK(level.triangles.size() > 20'000);
        finer = level.triangles.size();
        double area = 0;
        Box box;
        for (const auto& triangle : level.triangles) {
            const auto place = [&](std::size_t k) {
                const auto& p = level.vertices[triangle[k]].from_middle_mm;
                return Vec3{p[0], p[1], p[2]} + made.middle_mm;
            };
            area += 0.5 * glm::length(glm::cross(place(1) - place(0), place(2) - place(0)));
            for (std::size_t k = 0; k < 3; ++k) {
                box.add(place(k));
            }
            // A corner's normal never strays to the other side of its triangle by more than the crease's share.
        }
        CHECK(within(area, surface_area_mm2(half), 0.03));
        const Box true_box = bounds_of(half);
        CHECK(glm::length(box.low_mm - true_box.low_mm) < 2 * level.cell_mm);
        CHECK(glm::length(box.high_mm - true_box.high_mm) < 2 * level.cell_mm);
    }
    CHECK(made.coarse[0].cell_mm < made.coarse[1].cell_mm);
    CHECK(make_drawable(deck_half(true, 60, 20)).coarse.empty());
}

TEST_CASE("the same mesh is made drawable once, a new one at its old place anew") {
    auto mesh = std::make_shared<const TriangleMesh>(box_shape({0, 0, 0}, {1, 1, 1}));
    const auto made = drawable_of(mesh);
    CHECK(drawable_of(mesh) == made);
    mesh = std::make_shared<const TriangleMesh>(box_shape({0, 0, 0}, {2, 2, 2}));
    CHECK(drawable_of(mesh)->bounds_mm.high_mm.x == 2);
}
