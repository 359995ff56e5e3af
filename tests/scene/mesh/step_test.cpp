// STEP files of others: the AS1 assembly, a public test part of CAD exchange (as1-tu-203, Theorem Solutions, AP203), as Debian's
// gmsh-doc carries it. The file states the volume and the area of its parts ("validation properties").
#include "scene/mesh/import.hpp"
#include "scene/mesh/soundness.hpp"
#include "tests/places.hpp"
#include "tests/scene/documents/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <string>

namespace evenclose {
namespace {

const std::filesystem::path kAs1 = std::filesystem::path(test::build_folder()) /
                                   "../open-data/gmsh-doc/usr/share/doc/gmsh-doc/"
                                   "doc/gmsh/demos/boolean/as1-tu-203.stp";

bool there() {
    if (std::filesystem::exists(kAs1)) {
        return true;
    }
    MESSAGE("left out: gmsh-doc is not unpacked beside the build (tests/open_data.sh)");
    return false;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

} // namespace

TEST_CASE("step: the AS1 assembly has the volume and area that its file states, closed, its parts by name") {
    if (!there()) {
        return;
    }
    const ImportResult result = import_mesh(kAs1);
    REQUIRE(std::holds_alternative<ImportedMesh>(result));
    const auto& as1 = std::get<ImportedMesh>(result);
    CHECK(as1.unit == LengthUnit::mm);
    CHECK(as1.unit_note == "mm (the file says so)");
    const Soundness soundness = soundness_of(as1.mesh);
    CHECK(soundness.closed());
    CHECK(soundness.oriented());
    CHECK(std::abs(signed_volume_mm3(as1.mesh) / 764518.031066584 - 1) < 1e-3);
    CHECK(std::abs(surface_area_mm2(as1.mesh) / 141079.335225521 - 1) < 1e-3);
    // 1 plate, 2 brackets, 3 bolts and nuts each, 1 rod with its 2 nuts.
    const auto many = [&](const char* name) { return std::count(as1.parts.begin(), as1.parts.end(), name); };
    CHECK(many("plate") == 1);
    CHECK(many("l-bracket") == 2);
    CHECK(many("bolt") == 6);
    CHECK(many("nut") == 8);
    CHECK(many("rod") == 1);
    CHECK(as1.parts.size() == 18);
}

TEST_CASE("step: a file in centimetres is ten times as large, and a stated unit stands before the file's") {
    if (!there()) {
        return;
    }
    const test::TemporaryFolder folder;
    const std::string text = test::bytes_of(kAs1);
    const auto length_of = [](const ImportResult& result) {
        REQUIRE(std::holds_alternative<ImportedMesh>(result));
        return bounds_of(std::get<ImportedMesh>(result).mesh).size_mm().x;
    };
    const double length = length_of(import_mesh(kAs1));
    const auto file = folder.write("cm.step", replaced(text, "SI_UNIT(.MILLI.,.METRE.)", "SI_UNIT(.CENTI.,.METRE.)"));
    CHECK(length_of(import_mesh(file)) == doctest::Approx(10 * length));
    CHECK(length_of(import_mesh(file, LengthUnit::mm)) == doctest::Approx(length));
    CHECK(length_of(import_mesh(kAs1, LengthUnit::inch)) == doctest::Approx(25.4 * length));
}

TEST_CASE("step: a file cut short, and one that is none, are one line") {
    const test::TemporaryFolder folder;
    const auto why = [](const ImportResult& result) {
        return std::holds_alternative<ImportFault>(result) ? std::get<ImportFault>(result).why : std::string{};
    };
    CHECK(why(import_mesh(folder.write("x.step", "ISO-10303-21;\nHEADER;\n"))).find("STEP file") != std::string::npos);
    CHECK_FALSE(
        why(import_mesh(folder.write("y.stp", "ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\nENDSEC;\nEND-ISO-10303-21;\n")))
            .empty());
    if (!there()) {
        return;
    }
    const std::string text = test::bytes_of(kAs1);
    for (const double share : {0.001, 0.1, 0.5, 0.9}) {
        CAPTURE(share);
        const auto cut = text.substr(0, static_cast<std::size_t>(share * static_cast<double>(text.size())));
        const ImportResult result = import_mesh(folder.write("cut.step", cut));
        CHECK(std::holds_alternative<ImportFault>(result));
    }
}

} // namespace evenclose
