// Import of files that others made, some of them wrong on purpose, and of our own spoiled at random.
#include "scene/mesh/import.hpp"

#include "scene/mesh/shapes.hpp"
#include "tests/scene/mesh/mesh_files.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <map>
#include <random>
#include <set>

using namespace evenclose;
using namespace evenclose::test;

namespace {

/// Either a mesh that everything else can work with, or one line of why not.
bool is_sane(const ImportResult& result) {
    if (const auto* fault = std::get_if<ImportFault>(&result)) {
        return !fault->why.empty() && fault->why.size() < 400 && fault->why.find('\n') == std::string::npos;
    }
    const auto& read = std::get<ImportedMesh>(result);
    for (const TriangleCorners& t : read.mesh.triangles) {
        for (const auto corner : t) {
            if (corner >= read.mesh.vertices_mm.size()) {
                return false;
            }
        }
    }
    for (const Vec3& v : read.mesh.vertices_mm) {
        if (!std::isfinite(v.x) || !std::isfinite(v.y) || !std::isfinite(v.z)) {
            return false;
        }
    }
    return !read.mesh.triangles.empty() && !read.unit_note.empty();
}

std::size_t triangles_of(const ImportResult& result) {
    const auto* read = std::get_if<ImportedMesh>(&result);
    return read != nullptr ? read->mesh.triangles.size() : 0;
}

} // namespace

TEST_CASE("the distribution's importer test models are read, or refused in one line") {
    const std::filesystem::path models = "/usr/share/assimp/models"; // Debian: assimp-testmodels
    if (!std::filesystem::is_directory(models)) {
        MESSAGE("skipped: the package assimp-testmodels is not installed");
        return;
    }
    const std::set<std::string> endings{".stl", ".obj", ".ply", ".off", ".gltf", ".glb", ".3mf"};
    std::map<std::string, int> read, refused;
    for (const char* folder : {"STL", "OBJ", "PLY", "OFF", "glTF", "glTF2", "3MF", "invalid"}) {
        for (const auto& entry : std::filesystem::recursive_directory_iterator(models / folder)) {
            std::string ending = entry.path().extension().string();
            for (char& c : ending) {
                c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
            }
            if (!entry.is_regular_file() ||
                (endings.count(ending) == 0 && entry.path().filename() != "formatDetection")) {
                continue;
            }
            CAPTURE(entry.path().string());
            const ImportResult result = import_mesh(entry.path());
            CHECK(is_sane(result));
            ++(triangles_of(result) > 0 ? read : refused)[folder];
        }
    }
    // What is in the package, version 5.2.5, and what is right for it.
    CHECK(read["STL"] == 9);
    CHECK(refused["STL"] == 0);
    CHECK(read["OBJ"] == 17);
    CHECK(refused["OBJ"] == 5); // UTF-16, a number "3.1+e2", and three of points and lines only
    CHECK(read["PLY"] == 5);
    CHECK(refused["PLY"] == 3); // points only, a face list under the vertices, a place that is no number
    CHECK(read["OFF"] == 3);
    CHECK(refused["OFF"] == 1);
    CHECK(read["3MF"] == 1);
    CHECK(read["glTF"] + read["glTF2"] >= 25);
    CHECK(refused["invalid"] == 5);
    CHECK(read["invalid"] == 1); // malformed2.obj names a material that is not there, which is no concern of ours
    // The same shape from several formats.
    const auto count = [&](const char* file) { return triangles_of(import_mesh(models / file)); };
    CHECK(count("STL/Wuson.stl") == 3732);
    CHECK(count("OBJ/WusonOBJ.obj") == 3732);
    CHECK(count("PLY/Wuson.ply") == 3732);
    CHECK(count("OFF/Wuson.off") == 3732);
    CHECK(count("STL/Spider_ascii.stl") == count("STL/Spider_binary.stl"));
    CHECK(count("OBJ/concave_polygon.obj") == 64); // 66 corners of one face
}

TEST_CASE("a file cut at any byte is refused, unless nothing that matters is missing") {
    const Folder folder;
    const TriangleMesh block = box_shape({10, 20, 30}, {110, 70, 50});
    const std::string object = "<object id=\"1\" type=\"model\">" + three_mf_mesh(block) + "</object>";
    struct Row {
        const char* name;
        std::string bytes;
        std::size_t needless;
    };
    const Row rows[] = {
        {"cut.stl", binary_stl(block), 0},
        {"text.stl", text_stl(block), 6},   // the name after the last endsolid
        {"text.ply", ply(block, false), 1}, // the last line's end
        {"binary.ply", ply(block, true), 0},
        {"text.off", off(block), 1},
        {"block.glb", glb(block, "[{\"mesh\":0}]"), 0},
        {"block.3mf", three_mf("", object, "<item objectid=\"1\"/>"), 3},
    }; // an OBJ does not say how much is to come: the mesh check finds it open
    for (const Row& row : rows) {
        for (std::size_t size = 0; size < row.bytes.size(); ++size) {
            const ImportResult result = import_mesh(folder.write(row.name, row.bytes.substr(0, size)), LengthUnit::mm);
            CAPTURE(row.name);
            CAPTURE(size);
            REQUIRE(is_sane(result));
            REQUIRE((triangles_of(result) == 0 || size >= row.bytes.size() - row.needless));
        }
    }
}

TEST_CASE("files spoiled at random are read or refused, and end nothing") {
    const Folder folder;
    const TriangleMesh shape = torus_shape(60, 20, 8, 6);
    const std::string originals[] = {binary_stl(shape),
                                     text_stl(shape),
                                     obj(shape),
                                     ply(shape, false),
                                     ply(shape, true),
                                     off(shape),
                                     "v 0 0 0\nv 9 0 0\nv 9 9 0\nv 4 3 0\nv 0 9 0\nf 1 2 3 4 5\nf -1/2/3 -2 -3\n"};
    const char* names[] = {"a.stl", "b.stl", "c.obj", "d.ply", "e.ply", "f.off", "g.obj"};
    std::mt19937 random(4711);
    int refused = 0, read = 0;
    for (int trial = 0; trial < 7000; ++trial) {
        const std::size_t which = trial % 7;
        std::string bytes = originals[which];
        const int wounds = 1 + static_cast<int>(random() % 4);
        for (int wound = 0; wound < wounds; ++wound) {
            // The head is hit as often as all the rest, since there a byte does most.
            const std::size_t reach = random() % 2 == 0 ? std::min<std::size_t>(bytes.size(), 300) : bytes.size();
            if (reach == 0) {
                break;
            }
            const std::size_t at = random() % reach;
            switch (random() % 5) {
            case 0:
                bytes[at] = static_cast<char>(bytes[at] ^ (1 << (random() % 8)));
                break;
            case 1:
                bytes[at] = static_cast<char>(random());
                break;
            case 2:
                bytes.erase(at, 1 + random() % 20);
                break;
            case 3:
                bytes.insert(at, bytes.substr(random() % bytes.size(), 1 + random() % 20));
                break;
            default:
                bytes.insert(at, std::to_string(random()));
            }
        }
        CAPTURE(trial);
        const ImportResult result = import_mesh(folder.write(names[which], bytes));
        REQUIRE(is_sane(result));
        ++(triangles_of(result) > 0 ? read : refused);
    }
    CHECK(refused > 1000); // both ways were gone
    CHECK(read > 500);     // where a coordinate became huge it is refused too
}

TEST_CASE("3MF and GLB with a wrong byte are read or refused, and end nothing") {
    const Folder folder;
    const TriangleMesh shape = torus_shape(60, 20, 8, 6);
    const std::string object = "<object id=\"1\" type=\"model\">" + three_mf_mesh(shape) + "</object>";
    const std::string package = three_mf("", object, "<item objectid=\"1\"/>");
    // Within the model's text: its checksum is then wrong, on which Assimp by itself would end the program.
    std::string damaged = package;
    damaged[package.find("<vertices>") + 20] ^= 4;
    const ImportResult result = import_mesh(folder.write("damaged.3mf", damaged));
    REQUIRE(std::holds_alternative<ImportFault>(result));
    CHECK(std::get<ImportFault>(result).why == "is damaged: the checksum of its part \"3D/3dmodel.model\" is wrong");

    const std::string originals[] = {package, glb(shape, "[{\"mesh\":0}]")};
    const char* names[] = {"a.3mf", "a.glb"};
    std::mt19937 random(4713);
    int refused = 0;
    for (int trial = 0; trial < 1000; ++trial) {
        std::string bytes = originals[trial % 2];
        bytes[random() % bytes.size()] = static_cast<char>(random());
        CAPTURE(trial);
        const ImportResult spoiled = import_mesh(folder.write(names[trial % 2], bytes));
        REQUIRE(is_sane(spoiled));
        refused += triangles_of(spoiled) == 0 ? 1 : 0;
    }
    CHECK(refused > 300);
}
