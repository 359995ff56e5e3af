// OBJ: Wavefront Advanced Visualizer manual, appendix B. The solids' volumes are closed forms; tinyobjloader is a referee.
#include "scene/mesh/formats/obj.hpp"
#include "tests/scene/mesh/imported.hpp"

#include <tiny_obj_loader.h>

#include <random>
#include <sstream>

using namespace evenclose;
using namespace evenclose::test;

TEST_CASE("OBJ: polygons, negative numbers, groups, other elements") {
    const Folder folder;
    // A block of quads, numbered from the end, with texture and normal numbers, in two groups; a concave end would do too.
    const std::string text =
        "mtllib none.mtl\r\nvt 0 0\r\nvn 0 0 1\r\n"
        "v 10 20 30\r\nv 110 20 30\r\nv 110 70 30\r\nv 10 70 30\r\n"
        "v 10 20 50 1.0\r\nv +110 2e1 50.0\r\nv 110 70 50 0.5 0.5 0.5\r\nv 10 70 50\r\n"
        "g under\r\nf -5/1/1 -6/1/1 -7/1/1 -8/1/1\r\ng over\r\nf 5//1 6//1 7//1 8//1\r\nl 1 2\r\np 1\r\n"
        "usemtl oak\r\nf 1 2 6 5\r\nf 2 3 7 6\r\no other\r\nf 3 4 8 7\r\nf 4/1 1/1 5/1 8/1";
    check_block(imported(folder.write("quads.obj", text), LengthUnit::mm));
    // An L of six corners, extruded: the cap is concave, area 475.
    std::string angle;
    const int outline[6][2] = {{0, 0}, {50, 0}, {50, 5}, {5, 5}, {5, 50}, {0, 50}};
    for (const int z : {0, 100}) {
        for (const auto& p : outline) {
            angle += fmt::format("v {} {} {}\n", p[0], p[1], z);
        }
    }
    angle += "f 6 5 4 3 2 1\nf 7 8 9 10 11 12\n";
    for (int k = 0; k < 6; ++k) {
        angle += fmt::format("f {} {} {} {}\n", k + 1, (k + 1) % 6 + 1, (k + 1) % 6 + 7, k + 7);
    }
    const ImportedMesh read = imported(folder.write("angle.obj", angle), LengthUnit::mm);
    CHECK(within(signed_volume_mm3(read.mesh), 47'500, 1e-12));
    CHECK(edges_pair(read.mesh));
    // The same far from the origin, on all sides of it: where the origin lies must not matter.
    for (const Vec3& shift : {Vec3{1000, 1000, 0}, Vec3{-1000, 30, 7}, Vec3{-20, -30, -500}, Vec3{-2, -2, 0}}) {
        std::string moved;
        for (const int z : {0, 100}) {
            for (const auto& p : outline) {
                moved += fmt::format("v {} {} {}\n", p[0] + shift.x, p[1] + shift.y, z + shift.z);
            }
        }
        const ImportedMesh there =
            imported(folder.write("moved.obj", moved + angle.substr(angle.find('f'))), LengthUnit::mm);
        CHECK(within(signed_volume_mm3(there.mesh), 47'500, 1e-10));
        CHECK(within(surface_area_mm2(there.mesh), 2 * 475 + 200 * 100, 1e-10)); // no triangle over the notch
        CHECK(edges_pair(there.mesh));
    }
    // To the last digit: the library's own reading would be a float.
    const ImportedMesh exact =
        imported(folder.write("exact.obj", "v 812.8 0 0\nv 0 0.1 0\nv 0 0 1\nf 1 2 3\n"), LengthUnit::mm);
    CHECK(exact.mesh.vertices_mm[0].x == 812.8);
    CHECK(exact.mesh.vertices_mm[1].y == 0.1);
}

TEST_CASE("OBJ: lines that go on, lines ended in every way, comments") {
    const Folder folder;
    const std::string text = "# C:\\molds\\\nv 10 20 \\\n 30\nv 110 20 30 # a corner\nv 110 70 30\nv 10 70 30\n"
                             "\tv 10 20 50\nv  110\t20 50\nv 110 70 50\nv 10 70 50\nusemtl oak\\\n"
                             "f -5 -6 -7 -8\n  f 5 6 \\\n7 \\\n8 # above\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8";
    check_block(imported(folder.write("a.obj", text), LengthUnit::mm));
    check_block(imported(folder.write("b.obj", replaced(text, "\n", "\r\n")), LengthUnit::mm));
    check_block(imported(folder.write("c.obj", replaced(text, "\n", "\r")), LengthUnit::mm));
    check_block(imported(folder.write("d.obj", "\xEF\xBB\xBF" + text + "\n"), LengthUnit::mm));
    // Faces before their vertices, whose numbers then count from the start.
    const std::size_t faces = text.find("usemtl");
    const std::string late = replaced(text.substr(faces), "-5 -6 -7 -8", "4 3 2 1") + "\n" + text.substr(0, faces);
    check_block(imported(folder.write("e.obj", late), LengthUnit::mm));
    CHECK(why_not(folder.write("f.obj", "v 0 0 0\nv 1 \\\n\\\n0 0\nv oak 1 0\nf 1 2 3\n")) ==
          "line 5: \"oak\" is no finite coordinate");
    CHECK(why_not(folder.write("g.obj", "v 0 0 0\nv 1 0 0\nv 1 1 0\nf 1 2 3\nf 1 2 oak\n")) ==
          "line 5: \"oak\" is no vertex number");
    CHECK(why_not(folder.write("h.obj", "v 0 0 0\nv 1 0 0\nv 1 1 0\nf 1 2 3\nf 1 2 99999999999999999999\n")) ==
          "face 2 has a vertex that is not there (there are 3)");
    const ImportedMesh few =
        imported(folder.write("i.obj", "v 0 0 0\nv 90 0 0\nv 90 90 0\nf 1 2\nf 1 2 3\n"), LengthUnit::mm);
    CHECK(few.notes == std::vector<std::string>{"1 faces of fewer than three corners were not read"});
}

TEST_CASE("OBJ: wherever the file is cut into pieces for reading, the mesh is the same") {
    const Folder folder;
    const std::string text = replaced(obj(torus_shape(300, 100, 9, 7)), "f ", "f \\\r\n");
    const auto file = folder.write("torus.obj", text);
    const auto opened = OpenFile::open(file);
    const RawResult whole = read_obj(std::get<OpenFile>(opened));
    REQUIRE(std::holds_alternative<RawMesh>(whole));
    const TriangleMesh& mesh = std::get<RawMesh>(whole).mesh;
    CHECK(mesh.triangles.size() == 2 * 9 * 7);
    CHECK(edges_pair(mesh));
    for (std::size_t piece = 1; piece < 200; ++piece) {
        CAPTURE(piece);
        const RawResult pieces = read_obj(std::get<OpenFile>(opened), piece);
        REQUIRE(std::holds_alternative<RawMesh>(pieces));
        REQUIRE(std::get<RawMesh>(pieces).mesh.triangles == mesh.triangles);
        REQUIRE(std::get<RawMesh>(pieces).mesh.vertices_mm == mesh.vertices_mm);
    }
}

TEST_CASE("OBJ: faces and places are those that tinyobjloader reads") {
    const Folder folder;
    std::mt19937 random(4711);
    for (int trial = 0; trial < 200; ++trial) {
        CAPTURE(trial);
        // Triangles in every way to write their corners, vertices and faces mixed.
        std::string text;
        int vertices = 0;
        const auto number = [&] {
            return fmt::format("{:.{}f}", std::uniform_real_distribution<double>(-900, 900)(random), random() % 9);
        };
        for (int element = 0; element < 60; ++element) {
            if (vertices < 3 || random() % 2 == 0) {
                text += fmt::format("v {} {} {}\nvn 0 0 1\nvt 0 0\n", number(), number(), number());
                ++vertices;
                continue;
            }
            text += "f";
            const unsigned way = random() % 4;
            for (int corner = 0; corner < 3; ++corner) {
                int v = 1 + static_cast<int>(random() % static_cast<unsigned>(vertices));
                v = random() % 3 == 0 ? v - vertices - 1 : v;
                text += way == 0   ? fmt::format(" {}", v)
                        : way == 1 ? fmt::format(" {}/1", v)
                        : way == 2 ? fmt::format(" {}//1", v)
                                   : fmt::format("  {}/1/1", v);
            }
            text += "\n";
        }
        text += "f 1 2 3\n";
        tinyobj::attrib_t attributes;
        std::vector<tinyobj::shape_t> shapes;
        std::vector<tinyobj::material_t> materials;
        std::string warnings, errors;
        std::istringstream stream(text);
        REQUIRE(tinyobj::LoadObj(&attributes, &shapes, &materials, &warnings, &errors, &stream));
        const ImportedMesh read = imported(folder.write("random.obj", text), LengthUnit::mm);
        std::size_t t = 0;
        for (const auto& shape : shapes) {
            for (std::size_t i = 0; i < shape.mesh.indices.size(); ++i) {
                REQUIRE(i / 3 + t < read.mesh.triangles.size());
                const Vec3& ours = read.mesh.vertices_mm[read.mesh.triangles[t + i / 3][i % 3]];
                for (int axis = 0; axis < 3; ++axis) {
                    const auto at = static_cast<std::size_t>(3 * shape.mesh.indices[i].vertex_index + axis);
                    REQUIRE(near(ours[axis], static_cast<double>(attributes.vertices[at]), 1e-4)); // floats there
                }
            }
            t += shape.mesh.indices.size() / 3;
        }
        REQUIRE(t == read.mesh.triangles.size());
    }
}
