// Documents with real mesh files, from the front door.
#include "scene/documents/documents.hpp"

#include "tests/scene/documents/samples.hpp"
#include "tests/scene/documents/temporary_folder.hpp"
#include "tests/scene/documents/text_stl.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <string>

using namespace evenclose;
using namespace evenclose::test;

TEST_CASE("a mold of two STL files: in mm as stated, in inches as stated, and in a unit that is guessed and noted") {
    const TemporaryFolder folder;
    folder.write("stl/lower.stl", text_stl(box_shape({-400, -110, 0}, {400, 110, 60})));
    folder.write("stl/upper.stl", text_stl(box_shape({-400, -110, 71.1}, {400, 110, 131.1})));
    const std::string stated = R"({ "evenclose": "mold", "version": 1, "name": "x",
        "lower": { "mesh": "stl/lower.stl", "unit": "mm" }, "upper": { "mesh": "stl/upper.stl", "unit": "mm" },
        "stack": { "plies": [ { "thickness": 1.5, "grain": "along", "count": 7 } ], "glue_line": 0.1 } })";
    const Loaded<Mold> in_mm = read_mold(folder.write("m.json", stated));
    REQUIRE_MESSAGE(in_mm.value, all_sentences(in_mm.faults));
    CHECK(in_mm.notes.empty());
    CHECK(within(in_mm.value->closed_shut_height_mm(), 131.1, 1e-6)); // STL text keeps single precision or better
    CHECK(within(signed_volume_mm3(*in_mm.value->lower.mesh), 800.0 * 220 * 60, 1e-9));
    CHECK(in_mm.value->lower.unit_note.starts_with("taken as mm (stated"));

    const Loaded<Mold> in_inch = read_mold(
        folder.write("i.json", changed(stated, "lower.stl\", \"unit\": \"mm\"", "lower.stl\", \"unit\": \"in\"")));
    REQUIRE_MESSAGE(in_inch.value, all_sentences(in_inch.faults));
    CHECK(within(bounds_of(*in_inch.value->lower.mesh).size_mm().x, 800 * 25.4, 1e-12));

    const Loaded<Mold> guessed =
        read_mold(folder.write("g.json", changed(stated, "lower.stl\", \"unit\": \"mm\"", "lower.stl\"")));
    REQUIRE_MESSAGE(guessed.value, all_sentences(guessed.faults));
    REQUIRE(guessed.notes.size() == 1);
    CHECK(guessed.notes[0].find("g.json: lower.mesh: \"stl/lower.stl\" is taken as mm") != std::string::npos);
}

TEST_CASE("a mesh file that is missing, empty, cut in half or no mesh is told in the document that names it") {
    const TemporaryFolder folder;
    const std::string whole = text_stl(box_shape({0, 0, 0}, {800, 220, 60}));
    folder.write("whole.stl", whole);
    folder.write("empty.stl", "");
    folder.write("half.stl", std::string_view{whole}.substr(0, whole.size() / 2));
    folder.write("text.stl", "this is no mesh");
    folder.write("nan.stl", changed(whole, "vertex 800", "vertex nan"));
    for (const char* file : {"none.stl", "empty.stl", "half.stl", "text.stl", "nan.stl", ".", "m.json"}) {
        CAPTURE(file);
        const std::string text = fmt::format(R"({{ "evenclose": "mold", "version": 1, "name": "x",
            "lower": {{ "mesh": "whole.stl", "unit": "mm" }}, "upper": {{ "mesh": "{}", "unit": "mm" }},
            "stack": {{ "plies": [ {{ "thickness": 1.5, "grain": "along" }} ] }} }})",
                                             file);
        const Loaded<Mold> loaded = read_mold(folder.write("m.json", text));
        CHECK_FALSE(loaded.value);
        REQUIRE(loaded.faults.size() == 1);
        const std::string sentence = loaded.faults[0].sentence();
        CAPTURE(sentence);
        CHECK(loaded.faults[0].place == "upper.mesh");
        CHECK(sentence.find('\n') == std::string::npos);
        CHECK((sentence.find("cannot be used: ") != std::string::npos ||
               sentence.find("names no file that is there") != std::string::npos));
    }
}
