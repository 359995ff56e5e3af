#include "checks/cavity/height_map.hpp"

#include "checks/cavity/face_tree.hpp"
#include "scene/mesh/shapes.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <random>

namespace evenclose {

using test::near;

namespace {

/// The slow twin: every triangle at every point.
double highest_at(const TriangleMesh& mesh, Vec2 p, double sign) {
    double best = -std::numeric_limits<double>::infinity();
    for (const TriangleCorners& corners : mesh.triangles) {
        const Vec3& a = mesh.vertices_mm[corners[0]];
        const Vec3& b = mesh.vertices_mm[corners[1]];
        const Vec3& c = mesh.vertices_mm[corners[2]];
        const double doubled = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
        if (std::abs(doubled) < 1e-9) {
            continue;
        }
        const double at_b = ((p.x - a.x) * (c.y - a.y) - (p.y - a.y) * (c.x - a.x)) / doubled;
        const double at_c = ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / doubled;
        if (at_b >= -1e-9 && at_c >= -1e-9 && at_b + at_c <= 1 + 1e-9) {
            best = std::max(best, sign * (a.z + at_b * (b.z - a.z) + at_c * (c.z - a.z)));
        }
    }
    return sign * best;
}

} // namespace

TEST_CASE("height map: agrees with every triangle at every point, from above and from below") {
    TriangleMesh mesh = torus_shape(30, 10, 40, 24);
    append(mesh, sphere_shape(8, 20, 12), {Mat3{1.0}, {10, 5, 3}});
    append(mesh, box_shape({-5, -5, -5}, {5, 5, 5}),
           {glm::mat3_cast(glm::angleAxis(0.7, Vec3{0.6, 0.8, 0})), {-12, 4, 9}});
    const PlanGrid grid = grid_over({-45, -45}, {45, 45}, 1.5);
    for (const SeenFrom side : {SeenFrom::above, SeenFrom::below}) {
        const HeightMap map = height_map(mesh, grid, side);
        const double sign = side == SeenFrom::above ? 1 : -1;
        int seen = 0;
        for (std::size_t i = 0; i < grid.size(); ++i) {
            const double truth = highest_at(mesh, grid.at_mm(i), sign);
            REQUIRE(map.seen(i) == std::isfinite(truth));
            if (map.seen(i)) {
                ++seen;
                REQUIRE(near(map.z_mm(i), truth, 1e-5));
            }
        }
        CHECK(seen > 1500);
    }
}

TEST_CASE("height map: points on the edges and corners of facets are not lost") {
    // Every grid point lies on a corner, an edge or a diagonal of a plate of squares.
    TriangleMesh plate;
    for (int y = 0; y <= 40; ++y) {
        for (int x = 0; x <= 40; ++x) {
            plate.vertices_mm.push_back({0.1 * x, 0.1 * y, 7.0});
        }
    }
    for (std::uint32_t y = 0; y < 40; ++y) {
        for (std::uint32_t x = 0; x < 40; ++x) {
            const std::uint32_t i = 41 * y + x;
            plate.triangles.push_back({i, i + 1, i + 42});
            plate.triangles.push_back({i, i + 42, i + 41});
        }
    }
    for (const double step : {0.1, 0.05, 0.2, 0.3}) {
        const PlanGrid grid{{0, 0}, step, static_cast<int>(4.0 / step + 0.5), static_cast<int>(4.0 / step + 0.5)};
        const HeightMap map = height_map(plate, grid, SeenFrom::above);
        for (std::size_t i = 0; i < grid.size(); ++i) {
            REQUIRE(map.seen(i));
            REQUIRE(map.z_mm(i) == 7.0);
        }
    }
}

TEST_CASE("13.3 face tree: nearest points and rays agree with every triangle, spoiled ones too") {
    TriangleMesh mesh = torus_shape(30, 10, 24, 16);
    // A needle, a doubled corner, a point.
    const auto extra = static_cast<std::uint32_t>(mesh.vertices_mm.size());
    mesh.vertices_mm.insert(mesh.vertices_mm.end(), {{50, 0, 0}, {60, 0, 0}, {55, 1e-9, 0}, {55, 5, 0}});
    mesh.triangles.push_back({extra, extra + 1, extra + 2});
    mesh.triangles.push_back({extra, extra, extra + 3});
    mesh.triangles.push_back({extra + 3, extra + 3, extra + 3});
    const FaceTree tree(mesh);
    std::mt19937 random(4711);
    const auto draw = [&] { return 120.0 * (static_cast<double>(random()) / 4294967296.0 - 0.5); };
    for (int trial = 0; trial < 500; ++trial) {
        CAPTURE(trial);
        const Vec3 point{draw(), draw(), draw()};
        double least = std::numeric_limits<double>::infinity();
        for (const TriangleCorners& t : mesh.triangles) {
            const Vec3 at =
                nearest_on_triangle(point, mesh.vertices_mm[t[0]], mesh.vertices_mm[t[1]], mesh.vertices_mm[t[2]]);
            least = std::min(least, glm::length(at - point));
        }
        const auto nearest = tree.nearest(point, 1000);
        REQUIRE(nearest.has_value());
        CHECK(near(nearest->distance_mm, least, 1e-12));
        CHECK(near(glm::length(nearest->at_mm - point), least, 1e-12));
        CHECK(!tree.nearest(point, 0.5 * least).has_value());
    }
    // The torus itself, point (50, 0, 40) at 34.721359550; the mesh is inscribed, so a little farther (within a sagitta).
    const TriangleMesh fine = torus_shape(30, 10, 512, 256);
    CHECK(near(FaceTree(fine).nearest({50, 0, 40}, 100)->distance_mm, 34.721359550, 0.002));
    // A ray down the axis of a torus meets nothing; one at the ring's radius meets its top.
    CHECK(!FaceTree(fine).first_along({0, 0, 50}, {0, 0, -1}, 1000).has_value());
    CHECK(near(FaceTree(fine).first_along({30, 0, 50}, {0, 0, -1}, 1000)->along_mm, 40, 1e-9));
    CHECK(!FaceTree(fine).first_along({30, 0, 50}, {0, 0, -1}, 39).has_value());
}

} // namespace evenclose
