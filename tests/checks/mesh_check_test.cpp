#include "checks/mesh/mesh_check.hpp"
#include "checks/phrase.hpp"
#include "scene/mesh/import.hpp"
#include "scene/mesh/self_intersection.hpp"
#include "scene/mesh/shapes.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <numbers>

namespace evenclose {

using test::near;
using test::within;

namespace {

TriangleMesh box(const Vec3& low, const Vec3& high) { return box_shape(low, high); }

std::vector<Finding> findings_of(const TriangleMesh& mesh) {
    Progress progress;
    return judge(measure_mesh("part", mesh, progress), {});
}

bool says(const std::vector<Finding>& findings, Verdict verdict, const char* words) {
    for (const Finding& finding : findings) {
        if (finding.verdict == verdict && shown(finding.title).find(words) != std::string::npos) {
            return true;
        }
    }
    return false;
}

/// Two boxes joined in one mesh, the second moved by `by`.
TriangleMesh two_boxes(const Vec3& by) {
    TriangleMesh mesh = box({0, 0, 0}, {100, 100, 100});
    append(mesh, box({0, 0, 0}, {100, 100, 100}), {Mat3{1.0}, by});
    return mesh;
}

} // namespace

TEST_CASE("13 soundness: every closed shape of ours is sound, its volume right side out") {
    const TriangleMesh shapes[] = {
        box({0, 0, 0}, {60, 70, 80}), cylinder_shape(50, 100, 64), cone_shape(50, 100, 64),
        sphere_shape(60, 64, 32),     icosphere_shape(60, 4),      torus_shape(60, 20, 64, 32),
        tube_shape(50, 40, 100, 48),  tetrahedron_shape(100),      octahedron_shape(100)};
    for (const TriangleMesh& mesh : shapes) {
        CAPTURE(mesh.triangles.size());
        const Soundness sound = soundness_of(mesh);
        CHECK(sound.closed());
        CHECK(sound.oriented());
        REQUIRE(sound.shells.size() == 1);
        CHECK(within(sound.shells[0].signed_volume_mm3, signed_volume_mm3(mesh), 1e-12));
        CHECK(self_intersections(mesh).count == 0);
        CHECK(worst_of(findings_of(mesh)) == Verdict::go);
    }
}

TEST_CASE("soundness: a missing triangle leaves three open edges, a flipped one three turned edges") {
    TriangleMesh mesh = icosphere_shape(60, 3);
    TriangleMesh holed = mesh;
    holed.triangles.erase(holed.triangles.begin() + 17);
    CHECK(soundness_of(holed).open_edges.count == 3);
    CHECK_FALSE(soundness_of(holed).shells[0].closed);
    CHECK(says(findings_of(holed), Verdict::no_go, "3 edges lie at the rim of a hole"));

    std::swap(mesh.triangles[17][0], mesh.triangles[17][1]);
    CHECK(soundness_of(mesh).turned_edges.count == 3);
    CHECK(soundness_of(mesh).closed());
    CHECK(says(findings_of(mesh), Verdict::no_go, "turned inside out"));
}

TEST_CASE("soundness: a mirrored mesh is inside out") {
    TriangleMesh mesh = cylinder_shape(50, 100, 32);
    for (Vec3& v : mesh.vertices_mm) {
        v.x = -v.x;
    }
    CHECK(soundness_of(mesh).shells[0].signed_volume_mm3 < 0);
    CHECK(says(findings_of(mesh), Verdict::no_go, "inside out"));
}

TEST_CASE("mesh: a piece inside out is told, a cavity is none, however fine its triangles") {
    TriangleMesh inverted = box({0, 0, 0}, {100, 100, 100});
    for (TriangleCorners& t : inverted.triangles) {
        std::swap(t[0], t[1]);
    }
    TriangleMesh beside = box({0, 0, 0}, {200, 200, 200});
    append(beside, inverted, {Mat3{1.0}, {300, 0, 0}});
    CHECK(says(findings_of(beside), Verdict::no_go, "has 1 piece inside out"));

    TriangleMesh bubble = icosphere_shape(40, 4); // 5120 triangles in a box of 12
    for (TriangleCorners& t : bubble.triangles) {
        std::swap(t[0], t[1]);
    }
    TriangleMesh hollow = box({-100, -100, -100}, {100, 100, 100});
    append(hollow, bubble);
    CHECK(worst_of(findings_of(hollow)) == Verdict::go);

    TriangleMesh crumb = box({0, 0, 0}, {2000, 200, 80}); // the crumb has far more triangles than the part
    append(crumb, icosphere_shape(3, 4), {Mat3{1.0}, {2100, 0, 0}});
    CHECK(says(findings_of(crumb), Verdict::marginal, "1 stray small piece"));
}

TEST_CASE("mesh: cancelled, it gives no verdict on what it has not seen") {
    test::BlockSetup blocks;
    Progress progress;
    progress.cancel();
    const Setup& setup = blocks.made();
    CHECK(check_meshes(setup, assemble(setup), progress).empty());
}

TEST_CASE("soundness: a Moebius strip cannot be oriented") {
    // n quads round, the last joined with a half turn: one edge is run along the same way from both sides, at least.
    TriangleMesh strip;
    constexpr int kQuads = 24;
    for (int i = 0; i < kQuads; ++i) {
        const double around = 2 * std::numbers::pi * i / kQuads;
        const Vec3 out{std::cos(around), std::sin(around), 0};
        const Vec3 across = std::cos(around / 2) * out + Vec3{0, 0, std::sin(around / 2)};
        strip.vertices_mm.push_back(100.0 * out - 30.0 * across);
        strip.vertices_mm.push_back(100.0 * out + 30.0 * across);
    }
    for (std::uint32_t i = 0; i < kQuads; ++i) {
        const std::uint32_t a = 2 * i;
        const std::uint32_t b = a + 1;
        const bool last = i + 1 == kQuads;
        const std::uint32_t c = last ? 1 : a + 2; // joined with a half turn
        const std::uint32_t d = last ? 0 : a + 3;
        strip.triangles.push_back({a, c, b});
        strip.triangles.push_back({b, c, d});
    }
    const Soundness sound = soundness_of(strip);
    CHECK(sound.turned_edges.count >= 1);
    CHECK_FALSE(sound.oriented());
    CHECK(sound.crowded_edges.count == 0);
}

TEST_CASE("soundness: three walls on one edge are crowded") {
    TriangleMesh mesh;
    mesh.vertices_mm = {{0, 0, 0}, {0, 0, 100}, {100, 0, 0}, {-100, 0, 0}, {0, 100, 0}};
    mesh.triangles = {{0, 1, 2}, {1, 0, 3}, {0, 1, 4}};
    CHECK(soundness_of(mesh).crowded_edges.count == 1);
    CHECK(says(findings_of(mesh), Verdict::no_go, "more than two triangles meet"));
}

TEST_CASE("soundness: flat, doubled and needle-thin triangles are counted, and told when they are many") {
    TriangleMesh mesh = box({0, 0, 0}, {100, 100, 100});
    mesh.vertices_mm.push_back({50, 50, 100});
    mesh.vertices_mm.push_back({100, 100.05, 100});
    mesh.triangles.push_back({0, 0, 1});
    mesh.triangles.push_back(mesh.triangles[3]);
    const Soundness sound = soundness_of(mesh);
    CHECK(sound.flat_triangles.count == 1);
    CHECK(sound.doubled_triangles.count == 1);
    TriangleMesh needle;
    needle.vertices_mm = {{0, 0, 0}, {100, 0, 0}, {50, 0.05, 0}};
    needle.triangles = {{0, 1, 2}};
    CHECK(soundness_of(needle).slivers.count == 1);
    CHECK(says(findings_of(needle), Verdict::marginal, "1 needle-thin"));
}

TEST_CASE("self-intersection: boxes that run into each other, that touch, that stand apart") {
    struct Row {
        Vec3 by;
        bool crosses;
    };
    const Row rows[] = {
        {{50, 50, 50}, true},     {{99, 31, 17}, true}, {{100, 0, 0}, false}, // face on face
        {{100, 100, 100}, false}, {{130, 0, 0}, false}, {{100.0001, 3, 3}, false},
        {{50, 0, 0}, true},       {{50, 50, 0}, true}, // aligned overlap: shows on rims only
        {{100, 50, 50}, true},                         // face on face, offset: told as well, see the header
    };
    for (const Row& row : rows) {
        CAPTURE(row.by.x);
        const TriangleMesh mesh = two_boxes(row.by);
        CHECK((self_intersections(mesh).count > 0) == row.crosses);
        CHECK(soundness_of(mesh).shells.size() == 2);
    }
    CHECK(says(findings_of(two_boxes({50, 50, 50})), Verdict::marginal, "runs through itself"));
}

TEST_CASE("self-intersection: counted pairs are those of an exhaustive search") {
    // Two coarse spheres that run through each other, no corner shared: every pair, tested one by one.
    TriangleMesh mesh = icosphere_shape(60, 2);
    append(mesh, icosphere_shape(60, 2), {Mat3{1.0}, {41.3, 7.7, 13.1}});
    const auto crosses = [&](const TriangleCorners& a, const TriangleCorners& b) {
        // Moeller's interval test in its plainest form, in doubles: some edge of one hits the other (Moeller & Trumbore 1997).
        const auto hits = [&](const Vec3& p, const Vec3& q, const TriangleCorners& t) {
            const Vec3& o = mesh.vertices_mm[t[0]];
            const Vec3 e1 = mesh.vertices_mm[t[1]] - o;
            const Vec3 e2 = mesh.vertices_mm[t[2]] - o;
            const Vec3 d = q - p;
            const Vec3 h = glm::cross(d, e2);
            const double det = glm::dot(e1, h);
            if (det == 0) {
                return false;
            }
            const Vec3 s = p - o;
            const double u = glm::dot(s, h) / det;
            const Vec3 k = glm::cross(s, e1);
            const double v = glm::dot(d, k) / det;
            const double w = glm::dot(e2, k) / det;
            return u >= 0 && v >= 0 && u + v <= 1 && w > 0 && w < 1;
        };
        for (std::size_t k = 0; k < 3; ++k) {
            if (hits(mesh.vertices_mm[a[k]], mesh.vertices_mm[a[(k + 1) % 3]], b) ||
                hits(mesh.vertices_mm[b[k]], mesh.vertices_mm[b[(k + 1) % 3]], a)) {
                return true;
            }
        }
        return false;
    };
    const std::size_t half = mesh.triangles.size() / 2;
    std::size_t expected = 0;
    for (std::size_t i = 0; i < half; ++i) {
        for (std::size_t j = half; j < mesh.triangles.size(); ++j) {
            expected += crosses(mesh.triangles[i], mesh.triangles[j]) ? 1 : 0;
        }
    }
    REQUIRE(expected > 20);
    CHECK(self_intersections(mesh).count == expected);
}

TEST_CASE("mesh: a size no mold has names the unit that would explain it") {
    struct Row {
        double side_mm;
        const char* unit;
    };
    const Row rows[] = {{30, "\"in\""}, {0.9, "\"m\""}, {20000, "\"mm\""}};
    for (const Row& row : rows) {
        CAPTURE(row.side_mm);
        const std::vector<Finding> findings =
            findings_of(box({0, 0, 0}, {row.side_mm, row.side_mm / 3, row.side_mm / 4}));
        REQUIRE(worst_of(findings) == Verdict::no_go);
        CHECK(findings.front().remedy.find(row.unit) != std::string::npos);
    }
}

TEST_CASE("mesh: a stray crumb beside a part is told with its size") {
    TriangleMesh mesh = box({0, 0, 0}, {400, 200, 80});
    append(mesh, box({0, 0, 0}, {2, 2, 2}), {Mat3{1.0}, {500, 0, 0}});
    CHECK(says(findings_of(mesh), Verdict::marginal, "1 stray small piece beside it, the first 2 mm large"));
}

TEST_CASE("13.5 soundness: angle defects of closed meshes sum to 4 pi, of a torus to 0") {
    const auto defects = [](const TriangleMesh& mesh) {
        std::vector<double> left(mesh.vertices_mm.size(), 2 * std::numbers::pi);
        for (const TriangleCorners& t : mesh.triangles) {
            for (std::size_t k = 0; k < 3; ++k) {
                const Vec3 a = mesh.vertices_mm[t[(k + 1) % 3]] - mesh.vertices_mm[t[k]];
                const Vec3 b = mesh.vertices_mm[t[(k + 2) % 3]] - mesh.vertices_mm[t[k]];
                left[t[k]] -= std::atan2(glm::length(glm::cross(a, b)), glm::dot(a, b));
            }
        }
        double sum = 0;
        for (const double defect : left) {
            sum += defect;
        }
        return sum;
    };
    CHECK(near(defects(icosphere_shape(60, 4)), 4 * std::numbers::pi, 1e-9));
    CHECK(near(defects(cylinder_shape(50, 100, 64)), 4 * std::numbers::pi, 1e-9));
    CHECK(near(defects(torus_shape(60, 20, 64, 32)), 0, 1e-9));
}

TEST_CASE("mesh: other people's models get a verdict, whatever they are") {
    const std::filesystem::path models = "/usr/share/assimp/models"; // Debian: assimp-testmodels
    if (!std::filesystem::exists(models)) {
        MESSAGE("package assimp-testmodels is not installed: skipped");
        return;
    }
    std::size_t judged = 0;
    for (const char* folder : {"STL", "PLY", "OFF"}) {
        for (const auto& entry : std::filesystem::directory_iterator(models / folder)) {
            const ImportResult read = import_mesh(entry.path());
            if (const auto* mesh = std::get_if<ImportedMesh>(&read)) {
                CAPTURE(entry.path().string());
                CHECK_FALSE(findings_of(mesh->mesh).empty());
                ++judged;
            }
        }
    }
    CHECK(judged >= 10);
}

TEST_CASE("mesh: a block set-up is sound, each half told once") {
    test::BlockSetup blocks;
    Progress progress;
    const Setup& setup = blocks.made();
    const std::vector<Finding> findings = check_meshes(setup, assemble(setup), progress);
    REQUIRE(findings.size() == 2);
    CHECK(worst_of(findings) == Verdict::go);
    CHECK(findings[0].bodies == std::vector<std::string>{"block mold lower half"});
}

} // namespace evenclose
