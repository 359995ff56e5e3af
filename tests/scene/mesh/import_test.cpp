// Formats: STL (Burns, Automated Fabrication, 1993), PLY (Turk, 1994), OFF (Geomview manual), 3MF core 1.2.3, glTF 2.0.
// The solids' volumes are closed forms.
#include "tests/scene/mesh/imported.hpp"

#include <cmath>

using namespace evenclose;
using namespace evenclose::test;

TEST_CASE("every format gives the same block") {
    const Folder folder;
    const auto mm = LengthUnit::mm;
    check_block(imported(folder.write("a.stl", binary_stl(block())), mm));
    check_block(imported(folder.write("b.stl", text_stl(block())), mm));
    check_block(imported(folder.write("c.obj", obj(block())), mm));
    check_block(imported(folder.write("d.ply", ply(block(), false)), mm));
    check_block(imported(folder.write("e.ply", ply(block(), true)), mm));
    check_block(imported(folder.write("f.off", off(block())), mm));
    const std::string object = "<object id=\"1\" type=\"model\">" + three_mf_mesh(block()) + "</object>";
    check_block(imported(folder.write("g.3mf", three_mf("unit=\"millimeter\"", object, "<item objectid=\"1\"/>"))));
}

TEST_CASE("glTF: metres, Y up becomes Z up") {
    const Folder folder;
    // In glTF's frame (x, y up, z to the front): ours (x, y, z) is its (x, z, -y), in metres.
    TriangleMesh gltf = box_shape({0.010, 0.030, -0.070}, {0.110, 0.050, -0.020});
    folder.write("block.bin", gltf_buffer(gltf));
    for (const auto& file : {folder.write("h.gltf", gltf_json(gltf, "[{\"mesh\":0}]", "block.bin")),
                             folder.write("i.glb", glb(gltf, "[{\"mesh\":0}]"))}) {
        const ImportedMesh read = imported(file);
        check_block(read);
        CHECK(read.unit == LengthUnit::m);
        CHECK_FALSE(read.unit_guessed);
        CHECK(read.unit_note == "m (the file says so)");
    }
}

TEST_CASE("glTF: nodes in nodes, scale, turn, mirror") {
    const Folder folder;
    const TriangleMesh unit = box_shape({0, 0, 0}, {1, 1, 1});
    // A child 2 m along x in a parent that turns 90 degrees about y (glTF: x to -z) and is 10 m up.
    const ImportedMesh nested = imported(folder.write(
        "nested.glb", glb(unit, R"([{"children":[1],"rotation":[0,0.7071067811865476,0,0.7071067811865476],)"
                                R"("translation":[0,10,0]},{"mesh":0,"translation":[2,0,0],"scale":[3,1,1]}])")));
    const Box box = bounds_of(nested.mesh);
    // glTF: x 2..5 becomes -z 2..5, z 0..1 becomes x 0..1, y 10..11. Ours: x 0..1, y = -z 2..5, z = y 10..11; in mm.
    CHECK(near(glm::length(box.low_mm - Vec3{0, 2000, 10'000}), 0, 0.01));
    CHECK(near(glm::length(box.high_mm - Vec3{1000, 5000, 11'000}), 0, 0.01));
    CHECK(within(signed_volume_mm3(nested.mesh), 3e9, 1e-5));

    const ImportedMesh mirrored = imported(folder.write("mirrored.glb", glb(unit, R"([{"mesh":0,"scale":[-2,1,1]}])")));
    CHECK(within(signed_volume_mm3(mirrored.mesh), 2e9, 1e-5)); // not -2e9
    CHECK(near(bounds_of(mirrored.mesh).low_mm.x, -2000, 0.01));
}

TEST_CASE("3MF: units, components in components, mirrored items, parts that are not built") {
    const Folder folder;
    const auto object = [](int id, const std::string& inside) {
        return fmt::format("<object id=\"{}\" type=\"model\">{}</object>", id, inside);
    };
    const std::string block_object = object(1, three_mf_mesh(block()));
    struct Row {
        const char* unit;
        double mm;
        LengthUnit told;
    };
    for (const Row& row : {Row{"unit=\"inch\"", 25.4, LengthUnit::inch}, Row{"unit=\"centimeter\"", 10, LengthUnit::cm},
                           Row{"unit=\"meter\"", 1000, LengthUnit::m}, Row{"unit = 'foot'", 304.8, LengthUnit::foot},
                           Row{"unit=\"micron\"", 0.001, LengthUnit::mm}, Row{"", 1, LengthUnit::mm}}) {
        CAPTURE(row.unit);
        const ImportedMesh read =
            imported(folder.write("u.3mf", three_mf(row.unit, block_object, "<item objectid=\"1\"/>")));
        check_block(read, row.mm);
        CHECK(read.unit == row.told);
        CHECK_FALSE(read.unit_guessed);
    }
    CHECK(has(why_not(folder.write("v.3mf", three_mf("unit=\"furlong\"", block_object, "<item objectid=\"1\"/>"))),
              "its unit \"furlong\" is none that 3MF knows: micron"));

    // 3MF core 3.3: row vectors, the last row is the translation. x' = -y + 100, y' = x.
    const std::string parts =
        block_object + object(2, three_mf_mesh(box_shape({0, 0, 0}, {5, 5, 5}))) +
        object(
            3,
            R"(<components><component objectid="1"/><component objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0 500"/></components>)") +
        object(4, R"(<components><component objectid="3" transform="0 1 0 -1 0 0 0 0 1 100 0 0"/></components>)");
    const ImportedMesh nested = imported(
        folder.write("n.3mf", three_mf("", parts, R"(<item objectid="4" transform="1 0 0 0 1 0 0 0 1 0 1000 0"/>)")));
    const Box box = bounds_of(nested.mesh);
    CHECK(near(glm::length(box.low_mm - Vec3{100 - 70, 1010, 30}), 0, 1e-3));
    CHECK(near(glm::length(box.high_mm - Vec3{100 - 20, 1110, 550}), 0, 1e-3));
    CHECK(within(signed_volume_mm3(nested.mesh), 200'000, 1e-6)); // two blocks; the cube is not in the build

    const ImportedMesh mirrored = imported(folder.write(
        "m.3mf", three_mf("", block_object, R"(<item objectid="1" transform="-1 0 0 0 1 0 0 0 1 0 0 0"/>)")));
    CHECK(near(bounds_of(mirrored.mesh).low_mm.x, -110, 1e-4));
    CHECK(within(signed_volume_mm3(mirrored.mesh), 100'000, 1e-6));
    CHECK(edges_pair(mirrored.mesh));
}

TEST_CASE("formats are known by their content, whatever the name says") {
    const Folder folder;
    const auto mm = LengthUnit::mm;
    check_block(imported(folder.write("binary-named.obj", binary_stl(block())), mm));
    check_block(imported(folder.write("no-ending", binary_stl(block())), mm));
    check_block(imported(folder.write("text.dat", text_stl(block())), mm));
    check_block(imported(folder.write("obj.txt", obj(block())), mm));
    check_block(imported(folder.write("ply.stl", ply(block(), true)), mm));
    check_block(imported(folder.write("off.stl", off(block())), mm));
    check_block(imported(folder.write("UPPER.STL", binary_stl(block())), mm));
    check_block(imported(folder.write("UPPER.PLY", ply(block(), false)), mm));
    const std::string object = "<object id=\"1\" type=\"model\">" + three_mf_mesh(block()) + "</object>";
    check_block(imported(folder.write("package.zip", three_mf("", object, "<item objectid=\"1\"/>"))));
    // A binary STL may begin with "solid", and even with the words of a text one.
    check_block(imported(folder.write("s.stl", binary_stl(block(), "solid half of a mold")), mm));
    check_block(
        imported(folder.write("t.stl", binary_stl(block(), "solid x facet normal 0 0 1 outer loop vertex")), mm));
}

TEST_CASE("text STL as others write it") {
    const Folder folder;
    const auto mm = LengthUnit::mm;
    const std::string plain = text_stl(block());
    std::string upper = plain;
    for (char& c : upper) {
        c = c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    }
    const std::string windows = replaced(plain, "\n", "\r\n"), old_mac = replaced(plain, "\n", "\r");
    const std::string plus = replaced(plain, "vertex ", "vertex +");
    check_block(imported(folder.write("upper.stl", upper), mm));
    check_block(imported(folder.write("windows.stl", windows), mm));
    check_block(imported(folder.write("mac.stl", old_mac), mm));
    check_block(imported(folder.write("plus.stl", plus), mm));
    check_block(imported(folder.write("mark.stl", std::string("\xEF\xBB\xBF").append(plain)), mm));
    check_block(imported(folder.write("no-name.stl", text_stl(block(), "")), mm));
    check_block(imported(folder.write("odd-name.stl", text_stl(block(), "facet solid endsolid \xC3\xA9")), mm));
    const std::string nan_normal = replaced(plain, "normal 0 0 0", "normal nan nan -nan");
    check_block(imported(folder.write("nan-normal.stl", nan_normal), mm));

    const ImportedMesh two = imported(folder.write("two.stl", text_stl(box_shape({0, 0, 0}, {100, 1, 1})) +
                                                                  text_stl(box_shape({0, 5, 0}, {100, 6, 1}))));
    CHECK(two.mesh.triangles.size() == 24);
}

TEST_CASE("welding: exact, and 0.0 is -0.0") {
    const Folder folder;
    std::string text = "solid\n";
    // Two triangles on an edge along x = 0, once written 0 and once -0.
    text += "facet normal 0 0 1 outer loop vertex 0 0 0 vertex 100 0 0 vertex 0 100 0 endloop endfacet\n";
    text += "facet normal 0 0 1 outer loop vertex -0 -0.0 -0e0 vertex 0 100 -0 vertex -100 0 0 endloop endfacet\n";
    const ImportedMesh joined = imported(folder.write("zero.stl", text + "endsolid\n"), LengthUnit::mm);
    REQUIRE(joined.mesh.vertices_mm.size() == 4);
    for (const Vec3& v : joined.mesh.vertices_mm) {
        CHECK_FALSE(std::signbit(v.y));
        CHECK_FALSE(std::signbit(v.z));
    }
    TriangleMesh binary = joined.mesh;
    binary.vertices_mm.push_back({-0.0, 0, -0.0});
    binary.triangles[1] = {4, binary.triangles[1][1], binary.triangles[1][2]};
    CHECK(imported(folder.write("zero-b.stl", binary_stl(binary)), LengthUnit::mm).mesh.vertices_mm.size() == 4);
    // One unit in the last place apart is apart.
    const float one_up = std::nextafter(100.0F, 200.0F);
    binary = box_shape({0, 0, 0}, {100, 100, 100});
    binary.vertices_mm.push_back({100, 100, one_up});
    binary.triangles[2][2] = 8;
    CHECK(imported(folder.write("near.stl", binary_stl(binary)), LengthUnit::mm).mesh.vertices_mm.size() == 9);
}

TEST_CASE("welding a large mesh gives each corner once") {
    const Folder folder;
    const TriangleMesh torus = torus_shape(300, 100, 400, 250);
    const ImportedMesh read = imported(folder.write("torus.stl", binary_stl(torus)), LengthUnit::mm);
    CHECK(read.mesh.vertices_mm.size() == torus.vertices_mm.size());
    CHECK(read.mesh.triangles.size() == 200'000);
    CHECK(vertices_distinct_and_used(read.mesh));
    CHECK(edges_pair(read.mesh));
    CHECK(within(signed_volume_mm3(read.mesh), signed_volume_mm3(torus), 1e-6));
    // Loose triangles: no two corners meet, the table must grow.
    TriangleMesh loose;
    for (std::uint32_t i = 0; i < 60'000; ++i) {
        const double x = i;
        loose.vertices_mm.insert(loose.vertices_mm.end(), {{x, 0.25, 0}, {x, 0.5, 0}, {x, 0, 1}});
        loose.triangles.push_back({3 * i, 3 * i + 1, 3 * i + 2});
    }
    CHECK(imported(folder.write("loose.stl", binary_stl(loose)), LengthUnit::mm).mesh.vertices_mm.size() == 180'000);
}

TEST_CASE("units: stated, or guessed from a plausible size and told") {
    const Folder folder;
    const auto of = [&](double x, double y, double z) {
        return folder.write("size.stl", binary_stl(box_shape({0, 0, 0}, {x, y, z})));
    };
    struct Row {
        double x, y, z;
        LengthUnit unit;
        const char* note;
    };
    const Row rows[] = {
        {760, 260, 80, LengthUnit::mm, "mm (guessed: 760 x 260 x 80 mm)"},
        {36, 8, 3, LengthUnit::inch, "inch (guessed: in mm it would be 36 x 8 x 3 mm)"}, // as the header says
        {0.9, 0.2, 0.1, LengthUnit::m, "m (guessed: in mm it would be 0.9 x 0.2 x 0.1 mm)"},
        {1.5, 1, 1, LengthUnit::m, "m (guessed: in mm it would be 1.5 x 1 x 1 mm)"},
        {50, 1, 1, LengthUnit::mm, "mm (guessed: 50 x 1 x 1 mm)"},
        {4000, 1, 1, LengthUnit::mm, "mm (guessed: 4000 x 1 x 1 mm)"},
        {0.01, 0.01, 0.01, LengthUnit::mm,
         "mm (guessed, but 0.01 x 0.01 x 0.01 mm is no plausible mold or press part in any unit: state the unit)"},
        {5000, 10, 10, LengthUnit::mm,
         "mm (guessed, but 5000 x 10 x 10 mm is no plausible mold or press part in any unit: state the unit)"},
    };
    for (const Row& row : rows) {
        CAPTURE(row.x);
        const ImportedMesh read = imported(of(row.x, row.y, row.z));
        CHECK(read.unit_guessed);
        CHECK(read.unit == row.unit);
        CHECK(read.unit_note == row.note);
        CHECK(within(bounds_of(read.mesh).size_mm().x, row.x * mm_per(row.unit), 1e-6));
    }
    const ImportedMesh stated = imported(of(36, 8, 3), LengthUnit::mm);
    CHECK_FALSE(stated.unit_guessed);
    CHECK(stated.unit_note == "mm (stated)");
    CHECK(near(bounds_of(stated.mesh).size_mm().x, 36, 1e-5));
    const std::string object = "<object id=\"1\" type=\"model\">" + three_mf_mesh(block()) + "</object>";
    const auto inch = folder.write("i.3mf", three_mf("unit=\"inch\"", object, "<item objectid=\"1\"/>"));
    CHECK(imported(inch, LengthUnit::mm).unit_note == "mm (stated; the file itself says inch)");
    check_block(imported(inch, LengthUnit::mm));
}

TEST_CASE("polygons of PLY and OFF are triangulated") {
    const Folder folder;
    const std::string corners = "10 20 30\n110 20 30\n110 70 30\n10 70 30\n10 20 50\n110 20 50\n110 70 50\n10 70 50\n";
    const std::string faces = "4 3 2 1 0\n4 4 5 6 7\n4 0 1 5 4\n4 1 2 6 5\n4 2 3 7 6\n4 3 0 4 7\n";
    check_block(imported(folder.write("q.off", "OFF\n8 6 12\n" + corners + faces), LengthUnit::mm));
    check_block(
        imported(folder.write("q.ply", "ply\nformat ascii 1.0\nelement vertex 8\nproperty float x\nproperty float y\n"
                                       "property float z\nelement face 6\nproperty list uchar int vertex_indices\n"
                                       "end_header\n" +
                                           corners + faces),
                 LengthUnit::mm));
}

TEST_CASE("PLY: big-endian, other properties, strips, OFF with colours and comments") {
    const Folder folder;
    const TriangleMesh mesh = block();
    std::string big =
        "ply\r\nformat binary_big_endian 1.0\r\ncomment colours too\r\nelement vertex 8\r\nproperty uchar red\r\n"
        "property double x\r\nproperty float64 y\r\nproperty float z\r\nproperty list uchar short tags\r\n"
        "element light 2\r\nproperty float power\r\nelement face 12\r\nproperty uchar flags\r\n"
        "property list int ushort vertex_index\r\nend_header\r\n";
    const auto put_big = [&big](auto value) {
        std::string raw;
        put(raw, value);
        big.append(raw.rbegin(), raw.rend());
    };
    for (const Vec3& v : mesh.vertices_mm) {
        put_big(std::uint8_t{200});
        put_big(v.x);
        put_big(v.y);
        put_big(static_cast<float>(v.z));
        put_big(std::uint8_t{2});
        put_big(std::int16_t{-1});
        put_big(std::int16_t{7});
    }
    put_big(1.0F);
    put_big(2.0F);
    for (const auto& t : mesh.triangles) {
        put_big(std::uint8_t{0});
        put_big(std::int32_t{3});
        for (const auto corner : t) {
            put_big(static_cast<std::uint16_t>(corner));
        }
    }
    check_block(imported(folder.write("big.ply", big), LengthUnit::mm));
    CHECK(has(why_not(folder.write("big.ply", big.substr(0, big.size() - 1))),
              "it promises 12 of \"face\" and holds 11"));

    // A tetrahedron as one strip of six corners and a restart: closed and outward only if every other one is turned.
    const std::string strip =
        "ply\nformat ascii 1.0\nelement vertex 4\nproperty float x\nproperty float y\nproperty float z\n"
        "element tristrips 1\nproperty list int int vertex_indices\nend_header\n"
        "0 0 0\n60 0 0\n0 60 0\n0 0 60\n9 0 1 3 2 0 1 -1 0 1\n";
    const ImportedMesh tetrahedron = imported(folder.write("strip.ply", strip), LengthUnit::mm);
    CHECK(edges_pair(tetrahedron.mesh));
    CHECK(within(signed_volume_mm3(tetrahedron.mesh), 36'000, 1e-12));

    const std::string colours = "COFF # colours\n8 12 0\n# vertices\n";
    std::string text = colours;
    for (const Vec3& v : mesh.vertices_mm) {
        text += fmt::format("{} {} {} 0.5 0.5 0.5 1 # a corner\n", v.x, v.y, v.z);
    }
    for (const auto& t : mesh.triangles) {
        text += fmt::format("3 {} {} {} 255 0 0\n", t[0], t[1], t[2]);
    }
    check_block(imported(folder.write("colours.off", text), LengthUnit::mm));
}
