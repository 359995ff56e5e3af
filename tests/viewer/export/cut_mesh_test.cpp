#include "viewer/export/cut_mesh.hpp"

#include "scene/mesh/import.hpp"
#include "scene/mesh/shapes.hpp"
#include "scene/mesh/soundness.hpp"
#include "tests/places.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <string>

namespace evenclose {
namespace {

bool sound(const TriangleMesh& mesh) {
    const Soundness soundness = soundness_of(mesh);
    return soundness.closed() && soundness.oriented();
}

} // namespace

TEST_CASE("cut: a block cut off its corners keeps exactly what the box holds") {
    const TriangleMesh block = box_shape({0, 0, 0}, {10, 20, 30});
    const TriangleMesh piece = cut_to_box(block, Box{{2, -5, 10}, {7, 15, 100}});
    CHECK(sound(piece));
    CHECK(signed_volume_mm3(piece) == doctest::Approx(5 * 15 * 20).epsilon(1e-12));
    CHECK(bounds_of(piece).low_mm == Vec3(2, 0, 10));
    CHECK(bounds_of(piece).high_mm == Vec3(7, 15, 30));
    // Planes that lie in faces of the block cut nothing off, and beyond it nothing is left.
    CHECK(signed_volume_mm3(cut_to_box(block, Box{{0, 0, 0}, {10, 20, 30}})) == doctest::Approx(6000).epsilon(1e-12));
    CHECK(cut_at(block, 0, 11, true).empty());
    CHECK(cut_at(block, 0, 10, false).triangles.size() >= 12);
}

TEST_CASE("cut: a torus cut through its hole has two faces, through its tube a ring, both sides add up") {
    const TriangleMesh torus = torus_shape(30, 10, 64, 32); // REFERENCE 13.2: 58 743.384484 mm3 of the facets
    const double whole = signed_volume_mm3(torus);
    CHECK(whole == doctest::Approx(58743.384484).epsilon(1e-9));
    for (const double at : {0.0, 3.7, 22.0, 39.9}) {
        for (int axis = 0; axis < 3; ++axis) {
            CAPTURE(at);
            CAPTURE(axis);
            const TriangleMesh above = cut_at(torus, axis, at, true);
            const TriangleMesh below = cut_at(torus, axis, at, false);
            CHECK(sound(above));
            CHECK(sound(below));
            CHECK(signed_volume_mm3(above) + signed_volume_mm3(below) == doctest::Approx(whole).epsilon(1e-12));
            if (at == 0) {
                CHECK(signed_volume_mm3(above) == doctest::Approx(0.5 * whole).epsilon(1e-9));
            }
        }
    }
}

TEST_CASE("cut: the pieces of a demo mold's half are closed and add up to it") {
    const ImportResult read = import_mesh(test::demo("meshes/crescent-lower.stl"));
    REQUIRE(std::holds_alternative<ImportedMesh>(read));
    const TriangleMesh& half = std::get<ImportedMesh>(read).mesh;
    const Box box = bounds_of(half);
    double sum = 0;
    for (int i = 0; i < 3; ++i) {
        for (int j = 0; j < 2; ++j) {
            Box part = box;
            part.low_mm.x += i * box.size_mm().x / 3;
            part.high_mm.x = i == 2 ? box.high_mm.x : box.low_mm.x + (i + 1) * box.size_mm().x / 3;
            part.low_mm.y += j * box.size_mm().y / 2;
            part.high_mm.y = j == 1 ? box.high_mm.y : box.low_mm.y + (j + 1) * box.size_mm().y / 2;
            const TriangleMesh piece = cut_to_box(half, part);
            CHECK(sound(piece));
            sum += signed_volume_mm3(piece);
        }
    }
    CHECK(sum == doctest::Approx(signed_volume_mm3(half)).epsilon(1e-9));
}

} // namespace evenclose
