// Values: REFERENCE 13 (closed forms).
#include "scene/mesh/shapes.hpp"

#include "tests/scene/mesh/edges_pair.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>

using namespace evenclose;
using test::edges_pair;
using test::near;
using test::vertices_distinct_and_used;
using test::within;

namespace {

constexpr double pi = 3.14159265358979323846;

/// Area of a regular polygon of n sides in a circle of radius r (closed form).
double n_gon(int n, double r) { return 0.5 * n * r * r * std::sin(2 * pi / n); }

} // namespace

TEST_CASE("13 solids: closed, outward, volume and area of the true solid within the facets' share") {
    struct Row {
        const char* name;
        TriangleMesh mesh;
        double volume, area, relative;
    };
    // Relative: 0 error for flat-faced ones (1e-12 of rounding); round ones by (2 pi / n)^2 / 6, the loss of an n-gon's area.
    const Row rows[] = {
        {"box 10", box_shape({0, 0, 0}, {10, 10, 10}), 1000, 600, 1e-12},
        {"tetrahedron a 10", tetrahedron_shape(10), 117.851130, 173.205081, 5e-9},
        {"octahedron a 10", octahedron_shape(10), 471.404521, 346.410162, 5e-9},
        {"icosahedron a 10", icosahedron_shape(10), 2181.694991, 866.025404, 5e-9},
        {"sphere r 10, lat-long", sphere_shape(10, 512, 256), 4188.790205, 1256.637061, 1e-4},
        {"sphere r 10, icosphere", icosphere_shape(10, 6), 4188.790205, 1256.637061, 4e-4},
        {"cylinder r 10 h 20", cylinder_shape(10, 20, 720), 6283.185307, 1884.955592, 2e-5},
        {"cone r 10 h 20", cone_shape(10, 20, 720), 2094.395102, 1016.640738, 2e-5},
        {"torus 30/10", torus_shape(30, 10, 512, 256), 59217.626407, 11843.525281, 2e-4},
    };
    for (const Row& row : rows) {
        CAPTURE(row.name);
        CHECK(edges_pair(row.mesh));
        CHECK(vertices_distinct_and_used(row.mesh));
        CHECK(within(signed_volume_mm3(row.mesh), row.volume, row.relative));
        CHECK(within(surface_area_mm2(row.mesh), row.area, row.relative));
        CHECK(signed_volume_mm3(row.mesh) < row.volume * (1 + 1e-8)); // inscribed: never larger
    }
}

TEST_CASE("13.1 prism of n sides in r 10 h 20") {
    struct Row {
        int sides;
        double volume;
    };
    const Row rows[] = {{6, 5196.152423}, {12, 6000}, {32, 6242.890305}, {64, 6273.096981}};
    for (const Row& row : rows) {
        CAPTURE(row.sides);
        const TriangleMesh mesh = cylinder_shape(10, 20, row.sides);
        CHECK(within(signed_volume_mm3(mesh), row.volume, 1e-10)); // printed to ten digits
        CHECK(within(signed_volume_mm3(mesh), n_gon(row.sides, 10) * 20, 1e-12));
        CHECK(edges_pair(mesh));
    }
    CHECK(within(signed_volume_mm3(cylinder_shape(10, 20, 12)), 6000, 1e-12));
}

TEST_CASE("13.2 torus 30/10 of 64 x 32 facets") {
    const TriangleMesh mesh = torus_shape(30, 10, 64, 32);
    const double closed = 30 * 64 * std::sin(2 * pi / 64) * 16 * 100 * std::sin(2 * pi / 32);
    CHECK(within(signed_volume_mm3(mesh), closed, 1e-12));
    CHECK(within(signed_volume_mm3(mesh), 58743.384484, 1e-11));
    CHECK(mesh.triangles.size() == 2 * 64 * 32);
    CHECK(edges_pair(mesh));
}

TEST_CASE("13 faceted sphere: a stack of frustums with n-gon ends (closed form)") {
    const int segments = 24, bands = 12;
    double volume = 0;
    for (int band = 0; band < bands; ++band) {
        const double a = pi * band / bands, b = pi * (band + 1) / bands;
        const double low = n_gon(segments, 10 * std::sin(a)), high = n_gon(segments, 10 * std::sin(b));
        volume += (low + high + std::sqrt(low * high)) / 3 * 10 * (std::cos(a) - std::cos(b));
    }
    CHECK(within(signed_volume_mm3(sphere_shape(10, segments, bands)), volume, 1e-12));
}

TEST_CASE("13.6 centroids") {
    // cone h/4: exact for any regular base
    const Vec3 cone = centroid_mm(cone_shape(10, 20, 64));
    CHECK(near(cone.z, 5, 1e-12));
    CHECK(near(cone.x, 0, 1e-12));
    // half disc 4r/3pi, as a prism over the half of a fine polygon
    Polygon half;
    for (int k = 0; k <= 720; ++k) {
        half.outline_mm.emplace_back(10 * std::cos(pi * k / 720), 10 * std::sin(pi * k / 720));
    }
    CHECK(within(centroid_mm(extruded_shape(half, 0, 1)).y, 4 * 10 / (3 * pi), 1e-5));
    // hemisphere 3r/8: the upper half of a fine sphere, closed by its equator
    TriangleMesh dome;
    const int segments = 360, bands = 180;
    const TriangleMesh ball = sphere_shape(10, segments, bands);
    dome.vertices_mm = ball.vertices_mm;
    dome.vertices_mm.emplace_back(0, 0, 0);
    const auto centre = static_cast<std::uint32_t>(dome.vertices_mm.size() - 1);
    const double equator = 1e-9;
    for (const auto& t : ball.triangles) {
        if (ball.vertices_mm[t[0]].z > -equator && ball.vertices_mm[t[1]].z > -equator &&
            ball.vertices_mm[t[2]].z > -equator) {
            dome.triangles.push_back(t);
            for (std::size_t k = 0; k < 3; ++k) {
                const auto a = t[k], b = t[(k + 1) % 3];
                if (std::abs(ball.vertices_mm[a].z) < equator && std::abs(ball.vertices_mm[b].z) < equator) {
                    dome.triangles.push_back({b, a, centre});
                }
            }
        }
    }
    CHECK(edges_pair(dome));
    CHECK(within(centroid_mm(dome).z, 3.75, 1e-4));
    // cube 10 at 0 with sphere 5 at x 20
    TriangleMesh both = box_shape({-5, -5, -5}, {5, 5, 5});
    append(both, sphere_shape(5, 512, 256), {Mat3{1.0}, {20, 0, 0}});
    CHECK(within(centroid_mm(both).x, 6.873184515, 1e-4));
}

TEST_CASE("tube: volume of the wall, closed, bore open") {
    const TriangleMesh mesh = tube_shape(20, 15, 100, 48);
    CHECK(within(signed_volume_mm3(mesh), 100 * (n_gon(48, 20) - n_gon(48, 15)), 1e-12));
    CHECK(edges_pair(mesh));
    CHECK(vertices_distinct_and_used(mesh));
}

TEST_CASE("icosphere: 20 * 4^n triangles, all corners on the sphere") {
    for (int splits = 0; splits <= 4; ++splits) {
        const TriangleMesh mesh = icosphere_shape(7, splits);
        CHECK(mesh.triangles.size() == 20U << (2 * splits));
        CHECK(edges_pair(mesh));
        for (const Vec3& v : mesh.vertices_mm) {
            CHECK(within(glm::length(v), 7, 1e-15));
        }
    }
}

TEST_CASE("extrusions hold their polygon's area times their height, whichever way it is wound") {
    struct Row {
        const char* name;
        Polygon polygon;
        double area;
    };
    Row rows[] = {
        {"square", {{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, {}}, 100},
        {"square with corners in line",
         {{{0, 0}, {5, 0}, {10, 0}, {10, 5}, {10, 10}, {3, 10}, {0, 10}, {0, 1}}, {}},
         100},
        {"triangle with a corner in line", {{{0, 0}, {5, 0}, {10, 0}, {0, 10}}, {}}, 50},
        {"angle 50 x 50 x 5", {{{0, 0}, {50, 0}, {50, 5}, {5, 5}, {5, 50}, {0, 50}}, {}}, 475},
        {"comb",
         {{{0, 0},
           {70, 0},
           {70, 30},
           {60, 30},
           {60, 10},
           {50, 10},
           {50, 30},
           {40, 30},
           {40, 10},
           {30, 10},
           {30, 30},
           {20, 30},
           {20, 10},
           {10, 10},
           {10, 30},
           {0, 30}},
          {}},
         70 * 30 - 3 * 10 * 20},
        {"spiral",
         {{{0, 0},
           {50, 0},
           {50, 50},
           {10, 50},
           {10, 20},
           {30, 20},
           {30, 30},
           {20, 30},
           {20, 40},
           {40, 40},
           {40, 10},
           {0, 10}},
          {}},
         0 /* below */},
        {"box tube", {{{0, 0}, {40, 0}, {40, 60}, {0, 60}}, {{3, 3}, {37, 3}, {37, 57}, {3, 57}}}, 40 * 60 - 34 * 54},
        {"tube, hole wound the same way, a corner repeated",
         {{{0, 0}, {40, 0}, {40, 0}, {40, 60}, {0, 60}, {0, 0}}, {{3, 57}, {37, 57}, {37, 3}, {3, 3}}},
         40 * 60 - 34 * 54},
    };
    // the spiral by the shoelace formula, computed apart from the code under test
    {
        double twice = 0;
        const auto& p = rows[5].polygon.outline_mm;
        for (std::size_t i = 0; i < p.size(); ++i) {
            const Vec2 &a = p[i], &b = p[(i + 1) % p.size()];
            twice += a.x * b.y - a.y * b.x;
        }
        rows[5].area = std::abs(twice) / 2;
    }
    for (Row& row : rows) {
        for (int turn = 0; turn < 4; ++turn) {
            CAPTURE(row.name);
            CAPTURE(turn);
            if (turn % 2 == 1) {
                std::reverse(row.polygon.outline_mm.begin(), row.polygon.outline_mm.end());
            }
            if (turn == 2) {
                std::reverse(row.polygon.hole_mm.begin(), row.polygon.hole_mm.end());
            }
            const TriangleMesh mesh = extruded_shape(row.polygon, -7, 13);
            CHECK(edges_pair(mesh));
            CHECK(vertices_distinct_and_used(mesh));
            CHECK(within(signed_volume_mm3(mesh), row.area * 20, 1e-12));
        }
    }
}

TEST_CASE("extrusions of random star-shaped polygons with a star-shaped hole") {
    std::mt19937 random(4711);
    std::uniform_real_distribution<double> outer(6, 12), inner(1, 5);
    for (int trial = 0; trial < 300; ++trial) {
        CAPTURE(trial);
        Polygon polygon;
        double outline = 0, hole = 0;
        const int n = 3 + trial % 40, m = 3 + trial % 17;
        const auto shoelace = [](const std::vector<Vec2>& p) {
            double twice = 0;
            for (std::size_t i = 0; i < p.size(); ++i) {
                const Vec2 &a = p[i], &b = p[(i + 1) % p.size()];
                twice += a.x * b.y - a.y * b.x;
            }
            return twice / 2;
        };
        for (int k = 0; k < n; ++k) {
            const double r = outer(random) * (n < 6 ? 2.5 : 1), a = 2 * pi * k / n;
            polygon.outline_mm.emplace_back(r * std::cos(a), r * std::sin(a));
        }
        for (int k = 0; k < m; ++k) {
            const double r = inner(random), a = 2 * pi * k / m + 0.3;
            polygon.hole_mm.emplace_back(r * std::cos(a), r * std::sin(a));
        }
        outline = shoelace(polygon.outline_mm);
        hole = shoelace(polygon.hole_mm);
        const TriangleMesh mesh = extruded_shape(polygon, 0, 3);
        CHECK(edges_pair(mesh));
        CHECK(within(signed_volume_mm3(mesh), 3 * (outline - hole), 1e-11));
    }
}

TEST_CASE("shapes that cannot be are refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS((void)box_shape({0, 0, 0}, {10, 0, 10}), std::invalid_argument);
    CHECK_THROWS_AS((void)box_shape({0, 0, 0}, {10, nan, 10}), std::invalid_argument);
    CHECK_THROWS_AS((void)cylinder_shape(-1, 10, 16), std::invalid_argument);
    CHECK_THROWS_AS((void)cylinder_shape(1, std::numeric_limits<double>::infinity(), 16), std::invalid_argument);
    CHECK_THROWS_AS((void)cylinder_shape(1, 10, 2), std::invalid_argument);
    CHECK_THROWS_AS((void)tube_shape(10, 10, 5, 16), std::invalid_argument);
    CHECK_THROWS_AS((void)torus_shape(10, 10, 16, 16), std::invalid_argument);
    CHECK_THROWS_AS((void)icosphere_shape(10, 40), std::invalid_argument);
    const auto extruded = [](Polygon polygon) { return extruded_shape(polygon, 0, 1); };
    CHECK_THROWS_AS((void)extruded({{{0, 0}, {1, 0}}, {}}), std::invalid_argument);
    CHECK_THROWS_AS((void)extruded({{{0, 0}, {1, 0}, {nan, 1}}, {}}), std::invalid_argument);
    CHECK_THROWS_AS((void)extruded({{{0, 0}, {2, 0}, {1, 0}}, {}}), std::invalid_argument);                  // flat
    CHECK_THROWS_AS((void)extruded({{{0, 0}, {2, 2}, {2, 0}, {0, 2}}, {}}), std::invalid_argument);          // bow tie
    CHECK_THROWS_AS((void)extruded({{{0, 0}, {4, 0}, {4, 4}, {4, 0}, {4, -2}}, {}}), std::invalid_argument); // spike
    const std::vector<Vec2> square{{0, 0}, {4, 0}, {4, 4}, {0, 4}};
    CHECK_THROWS_AS((void)extruded({square, {{5, 5}, {6, 5}, {6, 6}}}), std::invalid_argument); // outside
    CHECK_THROWS_AS((void)extruded({square, {{1, 1}, {5, 1}, {1, 2}}}), std::invalid_argument); // across
    CHECK_THROWS_AS((void)extruded({square, {{0, 1}, {1, 1}, {1, 2}}}), std::invalid_argument); // touching
    CHECK_THROWS_AS((void)extruded_shape({square, {}}, 1, 1), std::invalid_argument);
}
