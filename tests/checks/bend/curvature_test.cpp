#include "checks/bend/curvature.hpp"

#include "scene/mesh/shapes.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <random>

namespace evenclose {

using test::near;
using test::within;

namespace {

/// A meshed patch of a surface with a closed form, and what is true at a parameter.
struct Patch {
    TriangleMesh mesh;
    std::vector<glm::vec3> normals;
};
using Surface = std::function<Vec3(double, double)>;

enum class Facets { regular, irregular };

/// `irregular`: corners shoved by up to a third of a cell, cells whose widths differ by a factor of five, diagonals
/// either way.
Patch patch_of(const Surface& at, const Surface& normal, Vec2 from, Vec2 to, int columns, int rows, Facets facets) {
    std::mt19937 random(20240519);
    const auto drawn = [&] { return static_cast<double>(random()) / 4294967296.0; };
    const auto steps = [&](double low, double high, int count) {
        std::vector<double> all{0};
        for (int i = 0; i < count; ++i) {
            all.push_back(all.back() + (facets == Facets::regular ? 1.0 : 1.0 + 4.0 * drawn()));
        }
        const double whole = all.back();
        for (double& step : all) {
            step = low + (high - low) * step / whole;
        }
        return all;
    };
    const std::vector<double> u = steps(from.x, to.x, columns);
    const std::vector<double> v = steps(from.y, to.y, rows);
    Patch patch;
    for (int r = 0; r <= rows; ++r) {
        for (int c = 0; c <= columns; ++c) {
            const bool inside = r > 0 && c > 0 && r < rows && c < columns;
            const double shove = facets == Facets::irregular && inside ? 0.33 : 0.0;
            const double x =
                u[c] + shove * (2 * drawn() - 1) * (inside ? std::min(u[c + 1] - u[c], u[c] - u[c - 1]) : 0);
            const double y =
                v[r] + shove * (2 * drawn() - 1) * (inside ? std::min(v[r + 1] - v[r], v[r] - v[r - 1]) : 0);
            patch.mesh.vertices_mm.push_back(at(x, y));
            patch.normals.emplace_back(normal(x, y));
        }
    }
    for (int r = 0; r < rows; ++r) {
        for (int c = 0; c < columns; ++c) {
            const auto i = static_cast<std::uint32_t>(r * (columns + 1) + c);
            const auto up = i + static_cast<std::uint32_t>(columns) + 1;
            if (facets == Facets::irregular && drawn() < 0.5) {
                patch.mesh.triangles.push_back({i, i + 1, up});
                patch.mesh.triangles.push_back({i + 1, up + 1, up});
            } else {
                patch.mesh.triangles.push_back({i, i + 1, up + 1});
                patch.mesh.triangles.push_back({i, up + 1, up});
            }
        }
    }
    return patch;
}

struct Case {
    const char* id;
    Surface at, normal;
    Vec2 from, to;
    int columns, rows;
    std::function<Vec2(double, double)> greatest_least;
};

Vec3 torus_at(double u, double v) {
    return {(30 + 10 * std::cos(v)) * std::cos(u), (30 + 10 * std::cos(v)) * std::sin(u), 10 * std::sin(v)};
}
Vec3 torus_in(double u, double v) { return {-std::cos(v) * std::cos(u), -std::cos(v) * std::sin(u), -std::sin(v)}; }

const std::vector<Case>& cases() {
    // REFERENCE 13.5, asked for from the hollow side: a solid's convex curvatures are above 0 there.
    static const std::vector<Case> list{
        {"13.5 sphere r10: 0.1, 0.1",
         [](double u, double v) {
             return 10.0 * Vec3{std::cos(u) * std::cos(v), std::sin(u) * std::cos(v), std::sin(v)};
         },
         [](double u, double v) {
             return -Vec3{std::cos(u) * std::cos(v), std::sin(u) * std::cos(v), std::sin(v)};
         },
         {-1, -1},
         {1, 1},
         40,
         40,
         [](double, double) {
             return Vec2{0.1, 0.1};
         }},
        {"13.5 cylinder r10: 0.1, 0",
         [](double u, double v) {
             return Vec3{10 * std::cos(u), 10 * std::sin(u), v};
         },
         [](double u, double) {
             return Vec3{-std::cos(u), -std::sin(u), 0};
         },
         {-1.5, -20},
         {1.5, 20},
         40,
         40,
         [](double, double) {
             return Vec2{0.1, 0};
         }},
        {"13.5 torus 30/10: 0.1 round the tube, cos v / (30 + 10 cos v) the other way",
         torus_at,
         torus_in,
         {-0.8, -3.1},
         {0.8, 3.1},
         40,
         64,
         [](double, double v) {
             return Vec2{0.1, std::cos(v) / (30 + 10 * std::cos(v))};
         }},
        {"13.5 saddle z = xy/100 near 0: 0.01, -0.01",
         [](double u, double v) {
             return Vec3{u, v, u * v / 100};
         },
         [](double u, double v) {
             return glm::normalize(Vec3{-v / 100, -u / 100, 1});
         },
         {-12, -12},
         {12, 12},
         24,
         24,
         [](double u, double v) {
             const double w = std::sqrt(1 + (u * u + v * v) / 1e4); // K = -1e-4 / w^4, H = -uv 1e-6 / w^3
             const double gauss = -1e-4 / (w * w * w * w);
             const double mean = -u * v * 1e-6 / (w * w * w);
             const double root = std::sqrt(mean * mean - gauss);
             return Vec2{mean + root, mean - root};
         }},
    };
    return list;
}

} // namespace

TEST_CASE("13.5 curvature: sphere, cylinder, torus and saddle, 1 % on regular facets and 2 % on irregular ones") {
    for (const Case& each : cases()) {
        for (const Facets facets : {Facets::regular, Facets::irregular}) {
            const Patch patch = patch_of(each.at, each.normal, each.from, each.to, each.columns, each.rows, facets);
            const CurvedFace face(patch.mesh, {}, patch.normals);
            CAPTURE(each.id);
            CAPTURE(static_cast<int>(facets));
            const double allowed = facets == Facets::regular ? 0.01 : 0.02;
            double worst = 0;
            double worst_claim = 0;
            for (double s = 0.15; s < 0.86; s += 0.07) {
                for (double t = 0.15; t < 0.86; t += 0.07) {
                    const double u = each.from.x + s * (each.to.x - each.from.x);
                    const double v = each.from.y + t * (each.to.y - each.from.y);
                    const Curvature found = face.at(each.at(u, v), each.normal(u, v));
                    REQUIRE(found.known);
                    const Vec2 truth = each.greatest_least(u, v);
                    const double scale = std::max(std::abs(truth.x), std::abs(truth.y));
                    worst = std::max(
                        {worst, std::abs(found.greatest - truth.x) / scale, std::abs(found.least - truth.y) / scale});
                    worst_claim = std::max(worst_claim, found.error / scale);
                    CHECK(glm::dot(found.normal, each.normal(u, v)) > 0.9999);
                }
            }
            CAPTURE(worst_claim);
            CHECK(worst < allowed);
        }
    }
}

TEST_CASE("curvature: directions on a cylinder follow Euler's formula") {
    const Case& cylinder = cases()[1];
    const Patch patch = patch_of(cylinder.at, cylinder.normal, cylinder.from, cylinder.to, 40, 40, Facets::irregular);
    const CurvedFace face(patch.mesh, {}, patch.normals);
    const Curvature found = face.at({10, 0, 0}, {-1, 0, 0});
    REQUIRE(found.known);
    CHECK(within(found.in({0, 1, 0}), 0.1, 0.01));
    CHECK(near(found.in({0, 0, 1}), 0, 0.001));
    CHECK(within(found.in({0, 1, 1}), 0.05, 0.02)); // cos^2 45 degrees
    CHECK(within(found.in({5, 1, 0}), 0.1, 0.01));  // what stands along the normal counts nothing
    CHECK(near(std::abs(found.first.y), 1, 1e-3));
}

TEST_CASE("curvature: seen from the other side the signs change") {
    const TriangleMesh ball = icosphere_shape(50, 4);
    std::vector<glm::vec3> out;
    for (const Vec3& v : ball.vertices_mm) {
        out.emplace_back(glm::normalize(v));
    }
    std::vector<glm::vec3> in = out;
    for (glm::vec3& n : in) {
        n = -n;
    }
    const Vec3 up{0, 0, 1};
    CHECK(within(CurvedFace(ball, {}, out).at(50.0 * up, up).greatest, -1 / 50.0, 0.01));
    CHECK(within(CurvedFace(ball, {}, in).at(50.0 * up, -up).least, 1 / 50.0, 0.01));
}

TEST_CASE("curvature: a cylinder exported with corners at its two ends only") {
    const Surface at = [](double u, double v) { return Vec3{v, 300 * std::sin(u), 300 - 300 * std::cos(u)}; };
    const Surface normal = [](double u, double) { return Vec3{0, -std::sin(u), std::cos(u)}; };
    const Patch patch = patch_of(at, normal, {-0.3, -200}, {0.3, 200}, 36, 1, Facets::regular); // facets 5 x 400 mm
    const CurvedFace face(patch.mesh, {}, patch.normals);
    for (const double x : {-150.0, 0.0, 33.3, 120.0}) {
        const Curvature found = face.at({x, 0, 0}, {0, 0, 1});
        REQUIRE(found.known);
        CAPTURE(x);
        CHECK(within(found.in({0, 1, 0}), 1 / 300.0, 0.02));
        CHECK(near(found.in({1, 0, 0}), 0, 0.02 / 300.0));
    }
}

TEST_CASE("curvature: noise of a twentieth of a millimetre, and a seam with a step, on a face of radius 300") {
    std::mt19937 random(7);
    const auto noise = [&] { return 0.05 * (2.0 * static_cast<double>(random()) / 4294967296.0 - 1.0); };
    Patch patch = patch_of(
        [](double u, double v) {
            return Vec3{300 * std::sin(u), v, 300 - 300 * std::cos(u)};
        },
        [](double u, double) {
            return Vec3{-std::sin(u), 0, std::cos(u)};
        },
        {-0.5, -60}, {0.5, 60}, 150, 60, Facets::irregular);
    for (Vec3& v : patch.mesh.vertices_mm) {
        v.z += noise() + (v.x > 20 ? 0.05 : 0.0); // two printed pieces, the right one proud
    }
    // At the seam the corners stand twice, as where two pieces meet.
    const CurvedFace face(patch.mesh, {}, patch.normals);
    for (const double x : {-60.0, -10.0, 15.0, 20.0, 25.0, 70.0}) {
        CAPTURE(x);
        const double u = std::asin(x / 300);
        const Curvature found = face.at({x, 5, 300 - 300 * std::cos(u)}, {-std::sin(u), 0, std::cos(u)});
        REQUIRE(found.known);
        CAPTURE(found.error);
        CAPTURE(found.looked_mm);
        CHECK(within(found.in({1, 0, 0}), 1 / 300.0, 0.10));
        CHECK(near(found.in({0, 1, 0}), 0, 0.10 / 300.0));
    }
}

TEST_CASE("curvature: too few points tell nothing, a spoiled face does not stop it") {
    TriangleMesh one{{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, {{0, 1, 2}}};
    const std::vector<glm::vec3> up(3, glm::vec3{0, 0, 1});
    CHECK_FALSE(CurvedFace(one, {}, up).at({0.3, 0.3, 0}, {0, 0, 1}).known);
    CHECK_FALSE(CurvedFace(one, {0}, up).at({0.3, 0.3, 0}, {0, 0, 1}).known);
    TriangleMesh row; // all in one line: nothing is told across it
    for (std::uint32_t i = 0; i < 60; ++i) {
        row.vertices_mm.emplace_back(i, 0, 0.01 * i * i);
        row.triangles.push_back({i, std::min(i + 1, 59U), i});
    }
    CHECK_FALSE(CurvedFace(row, {}, std::vector<glm::vec3>(60, glm::vec3{0, 0, 1})).at({30, 0, 9}, {0, 0, 1}).known);
}

TEST_CASE("turned edges: a box has twelve of 90 degrees, a prism one a side") {
    const TriangleMesh box = box_shape({0, 0, 0}, {30, 20, 10});
    int sharp = 0;
    for (const TurnedEdge& edge : turned_edges(box, {})) {
        sharp += near(edge.turn_rad, std::acos(0.0), 1e-9) ? 1 : 0;
        CHECK((edge.turn_rad < 1e-9 || near(edge.turn_rad, std::acos(0.0), 1e-9)));
    }
    CHECK(sharp == 12);
    const TriangleMesh prism = cylinder_shape(100, 50, 60);
    for (const TurnedEdge& edge : turned_edges(prism, {})) {
        if (edge.turn_rad > 0.01 && edge.turn_rad < 1) {
            CHECK(near(edge.turn_rad, 2 * 3.14159265358979 / 60, 1e-6));
            // Facets are 2 r sin(pi / n) wide, and turn by 2 pi / n.
            CHECK(within(edge.a_mm, 1 / 100.0, 0.01));
        }
    }
}

} // namespace evenclose
