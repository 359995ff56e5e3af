#include "scene/documents/document_texts.hpp"

#include "scene/documents/document_text.hpp"
#include "scene/documents/documents.hpp"
#include "tests/scene/documents/samples.hpp"
#include "tests/scene/documents/temporary_folder.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

using namespace evenclose;
using namespace evenclose::test;

namespace {

constexpr std::string_view kPress = R"({ "evenclose": "press", "version": 1, "name": "Box",
  "head": { "underside": 480, "size": [700, 300], "thickness": 40 }, "platen": { "size": [700, 300], "thickness": 40 },
  "jacks": [
    { "name": "left", "foot": [-250, 0, 0], "closed_height": 200, "stroke": 180, "rated_load": "20 kN",
      "cylinder": { "bore": 50, "rod": 30, "body_diameter": 70, "head_diameter": 50, "head_thickness": 10 } },
    { "name": "right", "foot": [250, 0, 0], "closed_height": 200, "stroke": 180, "rated_load": "20 kN",
      "cylinder": { "bore": 50, "rod": 30, "body_diameter": 70, "head_diameter": 50, "head_thickness": 10 } } ] })";
constexpr std::string_view kMold =
    R"({ "evenclose": "mold", "version": 1, "name": "Board", "lower": { "block": [500, 200, 60] },
  "upper": { "block": [500, 200, 60] }, "stack": { "plies": [ { "thickness": 1.5, "grain": "along", "count": 7 } ], "glue_line": 0.1 } })";
constexpr std::string_view kSetup = R"({ "evenclose": "set-up", "version": 1, "name": "Board in box",
  "press": "parts/box.press.json", "openings": [ { "mold": "parts/../board.mold.json" } ] })";

std::shared_ptr<const std::string> shared(std::string text) {
    return std::make_shared<const std::string>(std::move(text));
}

} // namespace

TEST_CASE("texts stand in for the files that they are named after, however the path is spelt") {
    const TemporaryFolder folder;
    std::filesystem::create_directory(folder.path() / "parts");
    const auto press = folder.write("parts/box.press.json", kPress);
    folder.write("board.mold.json", kMold);
    const auto setup = folder.write("board.set-up.json", kSetup);

    const DocumentTexts texts = gathered_texts(setup, {});
    REQUIRE(texts.size() == 3);
    CHECK(*texts.at(document_id(press)) == kPress);
    REQUIRE(read_setup(setup, texts).value);
    CHECK(read_setup(setup, texts).value->press->jacks[1].stroke_mm == 180.0);

    DocumentTexts edited = texts;
    edited[document_id(folder.path() / "parts/./../parts/box.press.json")] =
        shared(changed(kPress, R"("right", "foot": [250, 0, 0], "closed_height": 200, "stroke": 180)",
                       R"("right", "foot": [250, 0, 0], "closed_height": 200, "stroke": "7 in")"));
    const Loaded<Setup> loaded = read_setup(setup, edited);
    REQUIRE(loaded.value);
    CHECK(within(loaded.value->press->jacks[1].stroke_mm, 177.8, 1e-12));
    CHECK(read_setup(setup).value->press->jacks[1].stroke_mm == 180.0); // the disk is untouched
    CHECK(*gathered_texts(setup, edited).at(document_id(press)) == *edited.at(document_id(press)));

    // Faults of a text are told with the file's name and the place in the text.
    edited[document_id(press)] = shared("{ \"evenclose\": \"press\", \"version\": 1, \"name\": 5 }");
    const Loaded<Setup> faulty = read_setup(setup, edited);
    CHECK_FALSE(faulty.value);
    REQUIRE(!faulty.faults.empty());
    CHECK(faulty.faults.front().file == press.string());
}

TEST_CASE("what cannot be read is left out of the gathered texts") {
    const TemporaryFolder folder;
    const auto setup =
        folder.write("a.set-up.json", R"({ "press": "none.json", "openings": [ {}, { "mold": 5 }, 7 ] })");
    CHECK(gathered_texts(setup, {}).size() == 1);
    CHECK(gathered_texts(folder.path() / "nothing.json", {}).empty());
    const auto broken = folder.write("b.set-up.json", "{ broken");
    CHECK(gathered_texts(broken, {}).size() == 1); // to be mended by hand
}

TEST_CASE("a document says what it is") {
    CHECK(kind_of_document(kPress) == DocumentKind::press);
    CHECK(kind_of_document(kMold) == DocumentKind::mold);
    CHECK(kind_of_document(kSetup) == DocumentKind::setup);
    CHECK(!kind_of_document("{ \"evenclose\": \"mould\" }"));
    CHECK(!kind_of_document("[1]"));
    CHECK(!kind_of_document("solid stl"));
}
