#include "assets/demo/generate/demo_molds.hpp"

#include "scene/mesh/import.hpp"
#include "tests/scene/press/closed_mesh.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>

namespace evenclose {

using test::near;
using test::within;

TEST_CASE("demo molds: at least 100 000 triangles a half, closed, right side out") {
    for (const demo::Halves& halves : {demo::halves_of(demo::Crescent{}), demo::halves_of(demo::Curlew{})}) {
        for (const TriangleMesh* half : {&halves.lower, &halves.upper}) {
            CHECK(half->triangles.size() >= 100'000);
            CHECK(signed_volume_mm3(*half) > 0);
        }
    }
    const demo::Halves coarse = demo::halves_of(demo::Curlew{}, {40, 20});
    CHECK(test::closed_and_clean(coarse.lower));
    CHECK(test::closed_and_clean(coarse.upper));
}

TEST_CASE("demo molds: the crescent's volume is the block under a circular arc") {
    // Area under an arc of radius R over a chord c, above the chord: R^2 asin(c / 2R) - c/2 sqrt(R^2 - c^2/4) (the circular
    // segment, any handbook). The facets lie on chords below it by at most dx^2 / 8R.
    const demo::Crescent mold;
    const double half = 0.5 * mold.length_mm;
    const double r = mold.radius_mm;
    const double segment = r * r * std::asin(half / r) - half * std::sqrt(r * r - half * half);
    const double exact = mold.width_mm * (mold.length_mm * mold.end_height_mm + segment);
    const double volume = signed_volume_mm3(demo::halves_of(mold).lower);
    CHECK(volume < exact);
    const double dx = mold.length_mm / 420;
    CHECK(exact - volume < mold.width_mm * mold.length_mm * dx * dx / (8 * r));
}

TEST_CASE("demo molds: closed, the gap along the normal is the stack's thickness") {
    const demo::Crescent crescent;
    const demo::Curlew curlew;
    // From a place on the lower face along its normal by t one stands on the upper face.
    const auto gap_error = [](const auto& mold, double x) {
        const double h = 1e-5;
        const double slope = (mold.lower_z_mm(x + h) - mold.lower_z_mm(x - h)) / (2 * h);
        const double length = std::hypot(1.0, slope);
        const double upper_x = x - mold.stack_mm * slope / length;
        return mold.lower_z_mm(x) + mold.stack_mm / length - mold.upper_z_mm(upper_x);
    };
    for (double x = -370; x <= 370; x += 37) {
        CAPTURE(x);
        CHECK(std::abs(gap_error(crescent, x)) < 1e-6);
    }
    for (double x = -490; x <= 480; x += 48.5) {
        CAPTURE(x);
        CHECK(std::abs(gap_error(curlew, x)) < 1e-6);
    }
    CHECK(near(crescent.lower_z_mm(0) - crescent.lower_z_mm(380), 1500 - std::sqrt(1500.0 * 1500 - 380.0 * 380), 1e-9));
}

TEST_CASE("demo molds: what is written is read back") {
    const auto file = std::filesystem::temp_directory_path() / "evenclose-demo-mold.stl";
    const TriangleMesh made = demo::halves_of(demo::Curlew{}, {40, 20}).upper;
    demo::write_binary_stl(made, file);
    const ImportResult read = import_mesh(file, LengthUnit::mm);
    std::filesystem::remove(file);
    REQUIRE(std::holds_alternative<ImportedMesh>(read));
    const TriangleMesh& mesh = std::get<ImportedMesh>(read).mesh;
    CHECK(mesh.triangles.size() == made.triangles.size());
    CHECK(mesh.vertices_mm.size() == made.vertices_mm.size());
    CHECK(within(signed_volume_mm3(mesh), signed_volume_mm3(made), 1e-6)); // single precision in the file
}

} // namespace evenclose
