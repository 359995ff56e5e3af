#include "viewer/export/glb_of.hpp"

#include "scene/documents/documents.hpp"
#include "scene/mesh/import.hpp"
#include "tests/places.hpp"
#include "tests/scene/documents/temporary_folder.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <cstdint>
#include <cstring>
#include <map>
#include <set>
#include <string>

namespace evenclose {
namespace {

std::uint32_t word_at(const std::string& bytes, std::size_t at) {
    std::uint32_t word = 0;
    std::memcpy(&word, bytes.data() + at, 4);
    return word;
}

} // namespace

TEST_CASE("glb: the demo press goes out with its names and its stroke, and comes back with its volume and size") {
    const Loaded<Setup> loaded = read_setup(test::demo("crescent.set-up.json"));
    REQUIRE(loaded.value);
    const Assembly assembly = assemble(*loaded.value);
    const std::string bytes = glb_of(assembly, light_palette());

    // ISO/IEC 12113 (glTF 2.0), 4.4: header of 12 bytes, then a chunk of JSON.
    REQUIRE(bytes.size() > 20);
    CHECK(bytes.substr(0, 4) == "glTF");
    CHECK(word_at(bytes, 4) == 2);
    CHECK(word_at(bytes, 8) == bytes.size());
    CHECK(bytes.substr(16, 4) == "JSON");
    const nlohmann::json json = nlohmann::json::parse(bytes.substr(20, word_at(bytes, 12)));
    std::map<std::string, std::size_t> node_of;
    for (std::size_t i = 0; i < json["nodes"].size(); ++i) {
        node_of[json["nodes"][i].value("name", "")] = i;
    }
    CHECK(node_of.count("platen") == 1);
    CHECK(node_of.count("lamp bolt") == 1);

    // The platen is at its end of the stroke in the last key, the head has no channel.
    REQUIRE(json["animations"].size() == 1);
    std::set<std::size_t> moving;
    bool rises = false;
    for (const nlohmann::json& channel : json["animations"][0]["channels"]) {
        const std::size_t node = channel["target"]["node"];
        moving.insert(node);
        if (node != node_of["platen"] || channel["target"]["path"] != "translation") {
            continue;
        }
        const nlohmann::json& sampler = json["animations"][0]["samplers"][channel["sampler"].get<std::size_t>()];
        CHECK(json["accessors"][sampler["input"].get<std::size_t>()]["max"][0].get<double>() ==
              doctest::Approx(8).epsilon(1e-6));
        const nlohmann::json& keys = json["accessors"][sampler["output"].get<std::size_t>()];
        CHECK(keys["count"] == 49);
        rises = true;
        CHECK(keys["max"][2].get<double>() - keys["min"][2].get<double>() ==
              doctest::Approx(assembly.last.mm).epsilon(1e-4));
    }
    CHECK(rises);
    CHECK(moving.count(node_of["head"]) == 0);
    CHECK(moving.count(node_of["front left post"]) == 0);

    const test::TemporaryFolder folder;
    const ImportResult back = import_mesh(folder.write("press.glb", bytes));
    REQUIRE(std::holds_alternative<ImportedMesh>(back));
    const auto& imported = std::get<ImportedMesh>(back);
    TriangleMesh whole;
    for (const Body& body : assembly.bodies) {
        if (body.drawn && body.part != Part::floor) {
            append(whole, *body.mesh, pose_at(assembly.rides[body.ride], body.placement, Travel{0}));
        }
    }
    CHECK(imported.mesh.triangles.size() == whole.triangles.size());
    CHECK(std::abs(signed_volume_mm3(imported.mesh) / signed_volume_mm3(whole) - 1) < 1e-3);
    const Box there = bounds_of(imported.mesh);
    const Box here = bounds_of(whole);
    for (int axis = 0; axis < 3; ++axis) {
        CHECK(std::abs(there.low_mm[axis] - here.low_mm[axis]) < 0.01);
        CHECK(std::abs(there.high_mm[axis] - here.high_mm[axis]) < 0.01);
    }
}

} // namespace evenclose
