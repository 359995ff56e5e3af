#include "scene/mesh/import.hpp"
#include "scene/mesh/soundness.hpp"
#include "tests/places.hpp"
#include "tests/scene/documents/temporary_folder.hpp"
#include "viewer/cli/run.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <sstream>
#include <string>

namespace evenclose {
namespace {

double volume_of(const std::filesystem::path& file) {
    const ImportResult read = import_mesh(file);
    CAPTURE(file.string());
    REQUIRE(std::holds_alternative<ImportedMesh>(read));
    const auto& imported = std::get<ImportedMesh>(read);
    CHECK(imported.unit == LengthUnit::mm);
    CHECK(soundness_of(imported.mesh).closed());
    return signed_volume_mm3(imported.mesh);
}

} // namespace

TEST_CASE("pieces: what is written is closed, fits the printer, and adds up to the mold, as STL and as 3MF") {
    const double lower = volume_of(test::demo("meshes/crescent-lower.stl"));
    const double upper = volume_of(test::demo("meshes/crescent-upper.stl"));
    for (const bool three_mf : {false, true}) {
        CAPTURE(three_mf);
        const test::TemporaryFolder folder;
        std::vector<std::string> words{"pieces", test::demo("crescent.mold.json"), "-o",
                                       (folder.path() / "new").string()};
        if (three_mf) {
            words.emplace_back("--3mf");
        }
        std::ostringstream out;
        std::ostringstream err;
        CHECK(run(words, out, err) == 0);
        CHECK(err.str().empty());
        double sum = 0;
        int count = 0;
        for (const auto& entry : std::filesystem::directory_iterator(folder.path() / "new")) {
            CHECK(entry.path().extension() == (three_mf ? ".3mf" : ".stl"));
            sum += volume_of(entry.path());
            const ImportResult read = import_mesh(entry.path());
            const Vec3 size = bounds_of(std::get<ImportedMesh>(read).mesh).size_mm();
            CHECK(size.x <= 250.001);
            CHECK(size.y <= 210.001);
            CHECK(size.z <= 220.001);
            ++count;
        }
        CHECK(count > 2);
        CHECK(std::abs(sum / (lower + upper) - 1) < 1e-5); // 32-bit floats in the files
    }
}

TEST_CASE("pieces: without a build volume, or of plain blocks, it says what is missing") {
    const test::TemporaryFolder folder;
    const auto mold = folder.write("a.mold.json", R"({"evenclose": "mold", "version": 1, "name": "a",
        "lower": {"block": [100, 50, 20]}, "upper": {"block": [100, 50, 20]},
        "stack": {"plies": [{"thickness": 1.5, "grain": "along"}]}})");
    std::ostringstream out;
    std::ostringstream err;
    CHECK(run({"pieces", mold.string(), "-o", folder.path().string()}, out, err) == 2);
    CHECK(err.str().find("build_volume") != std::string::npos);
}

} // namespace evenclose
