// Mesh files that cannot be read, and what is said of them.
#include "tests/scene/mesh/imported.hpp"

#include <limits>
#include <sys/stat.h>

using namespace evenclose;
using namespace evenclose::test;

TEST_CASE("files that cannot be read are told in one line") {
    const Folder folder;
    const std::string whole = binary_stl(block());
    CHECK(why_not(folder.path() / "nowhere.stl") == "no such file");
    CHECK(why_not(folder.path() / "nowhere" / "x.stl") == "no such file");
    CHECK(why_not(folder.path()) == "is a folder, not a mesh file");
    CHECK(why_not("") == "no such file");
    CHECK(why_not("/dev/null") == "is no plain file");
    CHECK(::mkfifo((folder.path() / "pipe.stl").c_str(), 0600) == 0);
    CHECK(why_not(folder.path() / "pipe.stl") == "is no plain file"); // and does not wait for a writer
    CHECK(why_not(folder.write("empty.stl", "")) == "is empty (0 bytes)");
    // Cut at every kind of place.
    CHECK(why_not(folder.write("cut.stl", whole.substr(0, whole.size() / 2))) ==
          "is cut short: it promises 12 triangles and holds 5");
    CHECK(why_not(folder.write("cut.stl", whole.substr(0, whole.size() - 1))) ==
          "is cut short: it promises 12 triangles and holds 11");
    CHECK(why_not(folder.write("cut.stl", whole.substr(0, 84))) ==
          "is cut short: it promises 12 triangles and holds 0");
    CHECK(has(why_not(folder.write("cut.stl", whole.substr(0, 83))),
              "a binary STL has at least 84 bytes, this file has 83"));
    std::string huge = whole;
    huge[83] = '\x7F'; // promises two thousand million
    CHECK(why_not(folder.write("huge.stl", huge)) == "is cut short: it promises 2130706444 triangles and holds 12");
    CHECK(why_not(folder.write("none.stl", binary_stl({}))) == "has no triangles");
    TriangleMesh infinite = block();
    infinite.vertices_mm[7].y = std::numeric_limits<double>::infinity(); // first in the last triangles
    std::size_t first = 0;
    while (infinite.triangles[first][0] != 7 && infinite.triangles[first][1] != 7 &&
           infinite.triangles[first][2] != 7) {
        ++first;
    }
    const std::string expected = fmt::format("triangle {} of 12 has a corner that is not a finite number", first + 1);
    CHECK(why_not(folder.write("inf.stl", binary_stl(infinite))) == expected);
    infinite.vertices_mm[7].y = std::numeric_limits<double>::quiet_NaN();
    CHECK(why_not(folder.write("nan.stl", binary_stl(infinite))) == expected);
    CHECK(has(why_not(folder.write("nan-text.stl", text_stl(infinite))),
              fmt::format("triangle {} has a corner that is not a finite number (\"nan\")", first + 1)));

    const std::string text = text_stl(block());
    CHECK(has(why_not(folder.write("t.stl", text.substr(0, text.size() / 2))),
              "is cut short: it ends after 6 triangles without \"endsolid\" (line 44)"));
    CHECK(why_not(folder.write("t.stl", text.substr(0, text.find("endsolid")))) ==
          "is cut short: it ends after 12 triangles without \"endsolid\" (line 86)");
    CHECK(has(why_not(folder.write("t.stl", "solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 elephant\n")),
              "line 4: \"elephant\" is no coordinate of triangle 1"));
    CHECK(has(why_not(folder.write("t.stl",
                                   "solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 1 1 0\n"
                                   "vertex 0 1 0\nendloop\nendfacet\nendsolid\n")),
              "line 7: triangle 1 has more than three corners"));
    CHECK(
        has(why_not(folder.write("t.stl", "solid a\nfacette normal 0 0 1\n")), "line 2: \"facette\" where \"facet\""));
    CHECK(why_not(folder.write("t.stl", "solid empty\nendsolid empty\n")) == "has no triangles");

    CHECK(has(why_not(folder.write("o.obj", "v 0 0 0\nv 1 0 0\nv 1 nan 0\nf 1 2 3\n")),
              "line 3: \"nan\" is no finite coordinate"));
    CHECK(has(why_not(folder.write("o.obj", "v 0 0 0\nv 1 0\nv 1 1 0\nf 1 2 3\n")),
              "line 2: a vertex needs three coordinates"));
    CHECK(has(why_not(folder.write("o.obj", "v 0 0 0\nv 1 0 0\nv 1 1 0\nf 1 2 4\n")),
              "a vertex that is not there (there are 3)"));
    CHECK(has(why_not(folder.write("o.obj", "v 0 0 0\nv 1 0 0\nv 1 1 0\nf 1 2 -4\n")),
              "a vertex that is not there (there are 3)"));
    CHECK(has(why_not(folder.write("o.obj", "v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\nf 1 2 3 9\n")),
              "a vertex that is not there"));
    CHECK(why_not(folder.write("o.obj", "v 0 0 0\nv 1 0 0\nv 1 1 0\n")) == "has no triangles");
    CHECK(has(why_not(folder.write("o.obj", "v 0 0 0\nv 1 0 0\nv 1 -1e30 0\nf 1 2 3\n")),
              "has a corner 1e+30 mm from its origin, and nothing in a shop reaches 1000 km"));
    CHECK(std::holds_alternative<ImportFault>( // beyond what a double holds once it is in mm
        import_mesh(folder.write("o.obj", "v 0 0 0\nv 1 0 0\nv 1 1e308 0\nf 1 2 3\n"), LengthUnit::m)));
    CHECK(why_not(folder.write("o.obj", "# nothing\n")) == "has no triangles");

    const std::string formats = "(read are STL, OBJ, PLY, OFF, 3MF, glTF, GLB and STEP)";
    CHECK(why_not(folder.write("x.bin", std::string("\x01\x02\x03\x00\xFF", 5))) ==
          "is in no format that is read here " + formats);
    CHECK(why_not(folder.write("x.txt", "Dear press shop,\n")) == "is in no format that is read here " + formats);
    CHECK(has(why_not(folder.write("x.stl", "Dear press shop,\n")), "a text STL begins with \"solid\""));
    CHECK(has(why_not(folder.write("x.obj", std::string("\xFE\xFF\0v\0 ", 6))), "UTF-16"));
    CHECK(
        has(why_not(folder.write("x.3mf", stored_zip({{"letter.txt", "Dear"}}))), "is a zip file, but no 3MF package"));
    const std::string package =
        three_mf("", "<object id=\"1\">" + three_mf_mesh(block()) + "</object>", "<item objectid=\"1\"/>");
    CHECK(has(why_not(folder.write("x.3mf", package.substr(0, package.size() / 2))), "is no whole 3MF package"));
    CHECK(has(why_not(folder.write("x.glb", glb(block(), "[{\"mesh\":0}]").substr(0, 300))), "cannot be read as glb"));
    CHECK(has(why_not(folder.write("x.gltf", gltf_json(block(), "[{\"mesh\":0}]", "nowhere.bin"))),
              "names the file \"nowhere.bin\": no such file"));
    CHECK(
        has(why_not(folder.write("x.ply", ply(block(), true).substr(0, 350))), "it promises 12 of \"face\" and holds"));
    CHECK(has(why_not(folder.write("x.ply", ply(block(), true).substr(0, 250))),
              "it promises 8 of \"vertex\" and holds"));
    CHECK(has(why_not(folder.write("x.ply", ply(block(), false).substr(0, 200))),
              "it promises 8 of \"vertex\" and holds"));
    CHECK(has(why_not(folder.write("x.ply", "ply\nformat ascii 1.0\nelement vertex")),
              "is cut short: it ends within its head"));
    CHECK(has(why_not(folder.write("x.ply", replaced(ply(block(), false), "float x", "half x"))),
              "line 4 of its head: unknown type"));
    CHECK(has(why_not(folder.write("x.ply", replaced(ply(block(), false), "float x", "float w"))),
              "its vertices have no x"));
    CHECK(has(why_not(folder.write("x.ply", replaced(ply(block(), false), "110", "oak"))),
              "vertex 2 holds something that is no number"));
    CHECK(has(why_not(folder.write("x.ply", replaced(ply(block(), false), "110", "nan"))),
              "vertex 2 is not a finite place"));
    CHECK(has(why_not(folder.write("x.ply", replaced(ply(block(), false), "3 3 2 1", "3 3 2 8"))),
              "a vertex that is not there"));
    CHECK(has(why_not(folder.write("x.off", off(block()).substr(0, 50))), "it promises 8 vertices and holds 4"));
    CHECK(has(why_not(folder.write("x.off", off(block()).substr(0, 140))), "it promises 12 faces and holds"));
    CHECK(has(why_not(folder.write("x.off", "OFF\n99999999999 6 0\n0 0 0\n")),
              "it promises 99999999999 vertices and holds 1"));
    CHECK(has(why_not(folder.write("x.off", "OFF\n1 1 0\n0 0 oak\n")),
              "line 3: \"oak\" where a finite coordinate of vertex 1"));
    CHECK(has(why_not(folder.write("x.off", "4OFF\n1 1 0\n")), "more than three dimensions"));
    CHECK(has(why_not(folder.write("x.off", "OFF BINARY\n")), "is a binary OFF; save it as text"));
}

TEST_CASE("bytes after the last triangle are told, and the mesh is read") {
    const Folder folder;
    const ImportedMesh read = imported(folder.write("tail.stl", binary_stl(block()) + "colour=oak"), LengthUnit::mm);
    check_block(read);
    REQUIRE(read.notes.size() == 1);
    CHECK(read.notes[0] == "10 bytes after the last triangle were not read");
}
