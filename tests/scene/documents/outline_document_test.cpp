// "deck_outline" of a mold as a drawing beside the document.
#include "scene/documents/mold_document.hpp"

#include "tests/scene/documents/samples.hpp"
#include "tests/scene/documents/temporary_folder.hpp"
#include "tests/scene/outline/drawings.hpp"
#include "tests/scene/outline/outlines.hpp"
#include "tests/within.hpp"

#include <algorithm>
#include <numbers>

using namespace evenclose;
using namespace evenclose::test;
using std::numbers::pi;

namespace {

/// The block mold with this outline, and a file beside it.
Loaded<Mold> read(const std::string& outline, const std::string& name, const std::string& bytes) {
    const TemporaryFolder folder;
    folder.write(name, bytes);
    MeshShelf shelf{BoxImporter{}};
    Loaded<Mold> loaded = read_mold(
        folder.write("m.json", changed(kBlockMoldSample, "\"stack\"", "\"deck_outline\": " + outline + ", \"stack\"")),
        shelf);
    const std::string here = folder.path().string() + "/";
    const auto shorten = [&](std::string& text) {
        for (std::size_t at = text.find(here); at != std::string::npos; at = text.find(here)) {
            text.erase(at, here.size());
        }
    };
    for (DocumentFault& fault : loaded.faults) {
        shorten(fault.file);
        shorten(fault.problem);
    }
    std::for_each(loaded.notes.begin(), loaded.notes.end(), shorten);
    return loaded;
}
std::vector<Vec2> outline_of(const Loaded<Mold>& loaded) {
    REQUIRE_MESSAGE(loaded.value, all_sentences(loaded.faults));
    return loaded.value->deck_outline_mm;
}
std::string circle(double x, double y, double r) { return entity("CIRCLE", {{10, x}, {20, y}, {40, r}}); }

} // namespace

TEST_CASE("a deck's outline from a DXF: the file's unit, or a stated one, or a guess that is told") {
    const double r = 100;
    const auto is_circle = [&](const Loaded<Mold>& loaded, double unit) {
        return near(area(outline_of(loaded)), pi * r * r * unit * unit, 2 * pi * r * unit * 0.01);
    };
    const Loaded<Mold> mm = read(R"({ "file": "deck.dxf" })", "deck.dxf", dxf(circle(0, 0, r)));
    CHECK(is_circle(mm, 1));
    CHECK(mm.notes.empty());
    // 4 inches: as fine as in mm.
    const Loaded<Mold> inch = read(R"({ "file": "deck.dxf" })", "deck.dxf", dxf(circle(0, 0, 4), 1));
    CHECK(near(area(outline_of(inch)), pi * 101.6 * 101.6, 2 * pi * 101.6 * 0.01));
    CHECK(inch.notes.empty());
    const Loaded<Mold> stated = read(R"({ "file": "deck.dxf", "unit": "mm" })", "deck.dxf", dxf(circle(0, 0, r), 1));
    CHECK(is_circle(stated, 1));
    CHECK(stated.notes == std::vector<std::string>{"m.json: deck_outline: \"deck.dxf\" is taken as mm as stated; the "
                                                   "file itself says in (25.4 mm a unit)"});
    const Loaded<Mold> guessed = read(R"({ "file": "deck.dxf" })", "deck.dxf", dxf(circle(0, 0, 4), 0));
    CHECK(near(area(outline_of(guessed)), pi * 101.6 * 101.6, 2 * pi * 101.6 * 0.01));
    CHECK(guessed.notes == std::vector<std::string>{"m.json: deck_outline: \"deck.dxf\" is taken as inch (guessed: in "
                                                    "mm it would be 8 x 8 mm); state it with \"unit\""});
}

TEST_CASE("a deck's outline from a DXF is turned, then moved") {
    const Loaded<Mold> loaded =
        read(R"({ "file": "deck.dxf", "turn": 90, "offset": [10, "2 in"] })", "deck.dxf",
             dxf(entity("LWPOLYLINE", {{70, 1}, {10, 0}, {20, 0}, {10, 40}, {20, 0}, {10, 40}, {20, 20}})));
    const std::vector<Vec2> outline = outline_of(loaded);
    REQUIRE(outline.size() == 3);
    // (x, y) -> (-y, x), then 10 and 50.8 on.
    const Vec2 wanted[] = {{10, 50.8}, {10, 90.8}, {-10, 90.8}};
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(near(outline[i].x, wanted[i].x, 1e-9));
        CHECK(near(outline[i].y, wanted[i].y, 1e-9));
    }
}

TEST_CASE("a deck's outline from an SVG: Y up from the page's foot, which is told") {
    const std::string page = "width='200mm' height='100mm' viewBox='0 0 100 50'";
    const Loaded<Mold> loaded = read(R"({ "file": "deck.svg" })", "deck.svg",
                                     svg("<rect x='10' y='5' width='40' height='20' rx='4'/>\n<line x2='9'/>", page));
    const std::vector<Vec2> outline = outline_of(loaded); // 2 mm a unit: 80 x 40, corners of 8
    CHECK(near(area(outline), 80 * 40 - (4 - pi) * 64, 0.01 * 240));
    const auto top = std::max_element(outline.begin(), outline.end(), [](Vec2 a, Vec2 b) { return a.y < b.y; });
    CHECK(near(top->y, 100 - 10, 1e-9));
    CHECK(loaded.notes ==
          std::vector<std::string>{
              "m.json: deck_outline: \"deck.svg\" is 80 x 40 mm; its Y is turned up, 0, 0 is the page's lower left "
              "corner",
              "m.json: deck_outline: \"deck.svg\" gives the outline from its line 3; 0 closed lines inside it and 1 "
              "open ones are left out"});
    const Loaded<Mold> px = read(R"({ "file": "deck.svg" })", "deck.svg", svg("<rect width='192' height='96'/>", ""));
    CHECK(near(area(outline_of(px)), 50.8 * 25.4, 1e-6));
    REQUIRE(px.notes.size() >= 1);
    CHECK(px.notes[0] == "m.json: deck_outline: \"deck.svg\" is taken as 1/96 in; state it with \"unit\"");
    const Loaded<Mold> stated =
        read(R"({ "file": "deck.svg", "unit": "mm" })", "deck.svg", svg("<rect width='192' height='96'/>", ""));
    CHECK(near(area(outline_of(stated)), 192 * 96, 1e-6));
}

TEST_CASE("one fault a kind of mistake in a deck's drawing") {
    struct Row {
        const char *outline, *bytes, *sentence;
    };
    std::string half = dxf(circle(0, 0, 90));
    half.resize(half.size() - 12);
    const std::string whole = dxf(circle(0, 0, 90));
    const std::string small = dxf(circle(0, 0, 4), 9);
    const std::string aside = dxf(circle(900, 0, 90));
    const std::string wide = dxf(circle(0, 0, 90), 6);
    const Row rows[] = {
        {R"("deck.dxf")", "",
         "deck_outline: \"deck.dxf\" is no outline; give { \"file\": \"deck.dxf\" }, or corners [[x, y], ...]"},
        {R"({ "unit": "mm" })", "", "deck_outline.file: missing; give a text in double quotes"},
        {R"({ "file": "dekc.dxf" })", "",
         "deck_outline.file: \"dekc.dxf\" names no file that is there: dekc.dxf; did you mean \"deck.dxf\"?"},
        {R"({ "file": "deck.dxf", "unit": "furlong" })", whole.c_str(),
         "deck_outline.unit: \"furlong\" is no unit of length; give one of"},
        {R"({ "file": "deck.dxf", "ofset": [0, 0] })", whole.c_str(),
         "deck_outline.ofset: no such word here; did you mean \"offset\"?"},
        {R"({ "file": "deck.dxf" })", "Dear press shop",
         "deck_outline.file: \"deck.dxf\" cannot be used: it begins neither as a DXF nor as an SVG; save the outline "
         "as "
         "an ASCII DXF or as plain SVG"},
        {R"({ "file": "deck.dxf" })", "AC1032\x01",
         "deck_outline.file: \"deck.dxf\" is a DWG drawing; save the outline"},
        {R"({ "file": "deck.dxf" })", half.c_str(),
         "deck_outline.file: \"deck.dxf\" cannot be used: is cut short: it ends at line"},
        {R"({ "file": "deck.dxf" })", small.c_str(),
         "deck_outline.file: \"deck.dxf\" cannot be used: its outline is 0.2032 x 0.2032 mm; is its unit right? state "
         "it"},
        {R"({ "file": "deck.dxf" })", aside.c_str(),
         "deck_outline: an object { ... } lies beside the halves: X 810 to 990, Y -90 to 90 mm; both halves share X "
         "-390 to 390, Y -120 to 120 mm; a drawing is moved by its \"offset\""},
    };
    for (const Row& row : rows) {
        CAPTURE(row.outline);
        const Loaded<Mold> loaded = read(row.outline, "deck.dxf", row.bytes);
        CHECK_FALSE(loaded.value);
        const std::string sentences = all_sentences(loaded.faults);
        CHECK_MESSAGE(sentences.starts_with(std::string("m.json: ") + row.sentence), sentences);
    }
    const Loaded<Mold> beyond = read(R"({ "file": "deck.dxf" })", "deck.dxf", wide); // 90 m
    REQUIRE(beyond.value);
    CHECK(beyond.notes == std::vector<std::string>{"m.json: deck_outline: reaches up to 8.988e+04 mm beyond what both "
                                                   "halves share (X -390 to 390, Y -120 to 120 mm)"});
}
