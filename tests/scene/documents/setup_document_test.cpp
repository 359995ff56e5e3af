#include "scene/documents/setup_document.hpp"

#include "tests/scene/documents/samples.hpp"
#include "tests/scene/documents/temporary_folder.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <numbers>
#include <string>
#include <unistd.h>

using namespace evenclose;
using namespace evenclose::test;

namespace {

/// A set-up with its press and mold in folders beside and below it.
struct Shop {
    TemporaryFolder folder;
    std::filesystem::path setup = folder.write("monday.json", kSetupSample);
    Shop() {
        folder.write("presses/oak.press.json", kPressSample);
        folder.write("molds/dune.mold.json", kMoldSample);
        folder.write("molds/broken.stl", "");
    }
    [[nodiscard]] Loaded<Setup> read() const {
        MeshShelf shelf{BoxImporter{}};
        Loaded<Setup> loaded = read_setup(setup, shelf);
        const std::string here = folder.path().string() + "/";
        for (DocumentFault& fault : loaded.faults) {
            if (fault.file.starts_with(here)) {
                fault.file.erase(0, here.size());
            }
        }
        CHECK(loaded.value.has_value() == loaded.faults.empty());
        return loaded;
    }
};

} // namespace

TEST_CASE("a set-up document, its press and its mold: every key arrives where it belongs") {
    const Shop shop;
    const Loaded<Setup> loaded = shop.read();
    REQUIRE_MESSAGE(loaded.value, all_sentences(loaded.faults));
    const Setup& setup = *loaded.value;
    CHECK(setup.name == "Monday");
    CHECK(setup.file == shop.setup.string());
    CHECK(setup.temperature_C == 18);
    REQUIRE(setup.crew);
    CHECK(setup.crew->spread_s == 40);
    CHECK(setup.crew->stack_s == 120); // a bare number is minutes
    CHECK(setup.crew->load_s == 90);
    CHECK(setup.crew->unload_s == 60);
    CHECK(setup.crew->close_s == 30);
    CHECK(setup.crew->helpers == 1);
    CHECK(setup.shop.hours_a_day == 7.5);
    CHECK(setup.shop.days_a_week == 4);
    CHECK(setup.shop.presses == 2);
    CHECK(setup.shop.molds == 6);
    CHECK(setup.shop.racks == 30);
    CHECK(setup.costs.mold == 250);
    CHECK(setup.costs.platen == 90);
    CHECK(setup.costs.frame_a_metre == 140.5);
    CHECK(setup.costs.press == 3000);
    CHECK(setup.costs.hour == 35);
    CHECK(setup.press_file == "presses/oak.press.json");
    REQUIRE(setup.press != nullptr);
    CHECK(setup.press->name == "Every key");
    CHECK(setup.press->file == (shop.folder.path() / "presses/oak.press.json").string());
    REQUIRE(setup.openings.size() == 1);
    CHECK(setup.openings[0].mold_file == "molds/dune.mold.json");
    REQUIRE(setup.openings[0].mold != nullptr);
    CHECK(setup.openings[0].mold->name == "Dune");
    CHECK(setup.openings[0].at_mm == Vec2{0, 5});
    CHECK(within(setup.openings[0].turn_rad, std::numbers::pi, 1e-15));
    CHECK(setup.limits.running_clearance_mm == 4);
    CHECK(setup.limits.loading_clearance_mm == 12);
    CHECK(setup.limits.stroke_reserve_mm == 8);
    CHECK(setup.limits.level_over_deck_mm == 0.4);
    CHECK(setup.limits.seat_flatness_mm == 0.2);
    CHECK(setup.limits.cavity_tolerance_mm == 0.25);
    CHECK(within(setup.limits.least_draft_rad, 3 * 3.14159265358979 / 180, 1e-12));
    CHECK(setup.limits.seat_overhang_mm == 1);
    CHECK(setup.closing_force_N == 28000);
    CHECK(loaded.notes.size() == 2); // the mold's: a guessed unit, a shut height that is not as drawn
}

TEST_CASE("limits that are left out keep their defaults") {
    const Shop shop;
    shop.folder.write("monday.json", R"({ "evenclose": "set-up", "version": 1, "unit": "in", "name": "x",
        "press": "presses/oak.press.json", "openings": [ { "mold": "molds/dune.mold.json" } ],
        "limits": { "stroke_reserve": 0.5 } })");
    const Loaded<Setup> loaded = shop.read();
    REQUIRE_MESSAGE(loaded.value, all_sentences(loaded.faults));
    CHECK(loaded.value->limits.stroke_reserve_mm == 12.7);
    CHECK(loaded.value->limits.running_clearance_mm == Limits{}.running_clearance_mm);
    CHECK(loaded.value->openings[0].at_mm == Vec2{0, 0});
    // The press document keeps its own unit.
    CHECK(loaded.value->press->head_underside_z_mm == 1100);
}

TEST_CASE("paths start from the document that names them, wherever the program runs") {
    const Shop shop;
    const std::filesystem::path before = std::filesystem::current_path();
    std::filesystem::current_path(shop.folder.path() / "molds");
    MeshShelf shelf{BoxImporter{}};
    const Loaded<Setup> loaded = read_setup("../monday.json", shelf);
    const Loaded<Setup> plain = (std::filesystem::current_path(shop.folder.path()), read_setup("monday.json", shelf));
    std::filesystem::current_path(before);
    REQUIRE_MESSAGE(loaded.value, all_sentences(loaded.faults));
    CHECK(loaded.value->openings[0].mold->file == "../molds/dune.mold.json");
    REQUIRE_MESSAGE(plain.value, all_sentences(plain.faults));
    CHECK(plain.value->press->file == "presses/oak.press.json");
}

TEST_CASE("an unknown key and a negative thickness, in a box on a post: both are told in one reading") {
    const TemporaryFolder folder;
    folder.write("post.press.json", R"({
  // one post under a box
  "evenclose": "press", "version": 1, "name": "Box on post",
  "members": [ { "name": "post", "from": [-300, 0, 0], "to": [-300, 0, 600], "section": { "timber": [90, 90] } } ],
  "head": { "underside": 600, "size": [700, 300], "thickness": -40 },
  "platen": { "size": [400, 300], "thickness": 30 },
  "jacks": [
    { "name": "left", "foot": [-150, 0, 0], "closed_height": 200, "stroke": 250, "lead": 4, "rated_load": 5000,
      "body_diameter": 60, "screw_diameter": 30, "head_diameter": 50, "head_thickness": 10 },
    { "name": "right", "foot": [150, 0, 0], "closed_height": 200, "stroke": 250, "lead": 4, "rated_load": 5000,
      "body_diameter": 60, "screw_diameter": 30, "head_diameter": 50, "head_thickness": 10 } ]
})");
    folder.write("box.mold.json", kBlockMoldSample);
    const std::filesystem::path setup = folder.write("s.json", R"({ "evenclose": "set-up", "version": 1, "name": "x",
        "press": "post.press.json", "opennings": [], "openings": [ { "mold": "box.mold.json" } ] })");
    MeshShelf shelf{BoxImporter{}};
    const Loaded<Setup> loaded = read_setup(setup, shelf);
    CHECK_FALSE(loaded.value);
    const std::string here = folder.path().string();
    CHECK(all_sentences(loaded.faults) == here + "/s.json: opennings: no such word here; did you mean \"openings\"?\n" +
                                              here +
                                              "/post.press.json: head.thickness: -40 is no length; give a positive "
                                              "one, such as \"180 mm\" or \"7 in\"\n");
}

TEST_CASE("one fault a kind of mistake in a set-up, those of the named documents among them") {
    struct Row {
        const char *file, *from, *to, *sentence;
    };
    const Row rows[] = {
        {"monday.json", "\"press\": \"presses", "\"press\": \"press",
         "monday.json: press: \"press/oak.press.json\" names no file that is there: HERE/press/oak.press.json; a path "
         "starts "
         "from this document's folder"},
        {"monday.json", "oak.press", "oka.press",
         "monday.json: press: \"presses/oka.press.json\" names no file that is there: HERE/presses/oka.press.json; did "
         "you mean "
         "\"presses/oak.press.json\"?"},
        {"monday.json", "presses/oak", "presses\\\\oak",
         "monday.json: press: \"presses\\\\oak.press.json\" names no file that is there: HERE/presses\\oak.press.json; "
         "folders are "
         "parted by /, also where disks have letters"},
        {"molds/dune.mold.json", "upper.stl", "brokn.stl",
         "molds/dune.mold.json: upper.mesh: \"brokn.stl\" names no file that is there: HERE/molds/brokn.stl; did you "
         "mean "
         "\"broken.stl\"?"},
        {"monday.json", "molds/dune.mold.json", "molds", "molds: is a folder; name the document in it"},
        {"monday.json", "molds/dune.mold.json", "presses/oak.press.json",
         "presses/oak.press.json: evenclose: \"press\" is the wrong kind here: a mold document is wanted; a mold "
         "document "
         "starts with \"evenclose\": \"mold\", \"version\": 1"},
        {"monday.json", "molds/dune.mold.json", "monday.json",
         "monday.json: evenclose: \"set-up\" is the wrong kind here: a mold document is wanted; a mold document starts "
         "with "
         "\"evenclose\": \"mold\", \"version\": 1"},
        {"monday.json", "[ { \"mold\"", "[ {\"mold\": \"molds/dune.mold.json\"}, { \"mold\"",
         "monday.json: intermediate_platens: missing; give one for 2 openings: one lies between two of them"},
        {"monday.json", "\"limits\": {",
         "\"intermediate_platens\": [ { \"size\": [9, 9], \"thickness\": 9 } ], \"limits\": {",
         "monday.json: intermediate_platens: [ { \"size\": [9, 9], \"thickness\": 9 } ] has nothing to lie between; "
         "one opening closes between platen "
         "and head; leave it out"},
        {"monday.json", "[ { \"mold\": \"molds/dune.mold.json\", \"at\": [0, 5], \"turn\": 180 } ]", "[]",
         "monday.json: openings: [] is too few; give one opening or more"},
        {"monday.json", "\"running_clearance\": 4", "\"running_clearance\": -4",
         "monday.json: limits.running_clearance: -4 is no length; give 0 or a positive one, such as \"180 mm\" or \"7 "
         "in\""},
        {"monday.json", "\"seat_flatness\"", "\"seat_flatnes\"",
         "monday.json: limits.seat_flatnes: no such word here; did you mean \"seat_flatness\"?"},
        {"monday.json", "\"limits\": {", "\"limits\": 5, \"note\": {", nullptr},
        {"presses/oak.press.json", "\"stroke\": 180", "\"stroke\": -20",
         "presses/oak.press.json: jacks[1].stroke: -20 is no length; give a positive one, such as \"180 mm\" or \"7 "
         "in\""},
        {"presses/oak.press.json", "\"stroke\": 180", "\"stroke\" 180",
         "presses/oak.press.json: line 37, column 78: 180 stands where a colon is due; a key is followed by : and its "
         "value"},
        {"molds/dune.mold.json", "\"upper.stl\"", "\"broken.stl\"",
         "molds/dune.mold.json: upper.mesh: \"broken.stl\" cannot be used: HERE/molds/broken.stl: it ends after 2 of "
         "12 triangles"},
    };
    for (const Row& row : rows) {
        CAPTURE(row.from);
        CAPTURE(row.to);
        const Shop shop;
        const std::string before = bytes_of(shop.folder.path() / row.file);
        shop.folder.write(row.file, changed(before, row.from, row.to));
        std::string sentences = all_sentences(shop.read().faults);
        const std::string here = shop.folder.path().string();
        if (const std::size_t at = sentences.find(here); at != std::string::npos) {
            sentences.replace(at, here.size(), "HERE");
        }
        if (row.sentence == nullptr) {
            CHECK(sentences.find("limits: 5 is no limits; give an object { \"running_clearance\": ... }") !=
                  std::string::npos);
        } else {
            CHECK(sentences == std::string{row.sentence} + "\n");
        }
    }
}

TEST_CASE("a set-up of three openings: molds read once, decks, intermediate platens") {
    const Shop shop;
    shop.folder.write("monday.json", kStackSample);
    shop.folder.write("molds/blocks.mold.json", kBlockMoldSample);
    const Loaded<Setup> loaded = shop.read();
    REQUIRE_MESSAGE(loaded.value, all_sentences(loaded.faults));
    const Setup& setup = *loaded.value;
    REQUIRE(setup.openings.size() == 3);
    CHECK(setup.openings[0].decks == 1);
    CHECK(setup.openings[1].decks == 2);
    CHECK(setup.openings[0].mold->stack.decks == 1);
    CHECK(setup.openings[1].mold->stack.decks == 2);
    CHECK(setup.openings[1].mold->lower.mesh == setup.openings[0].mold->lower.mesh);
    CHECK(within(setup.openings[1].mold->stack.pressed_thickness_mm(),
                 2 * setup.openings[0].mold->stack.pressed_thickness_mm(), 1e-12));
    CHECK(setup.openings[2].mold->name == "Blocks");
    CHECK(setup.press->rests_z_mm == std::vector<double>{450, 620});
    REQUIRE(setup.intermediate_platens.size() == 2);
    const IntermediatePlaten& first = setup.intermediate_platens[0];
    CHECK(first.plate.size_mm == Vec2{850, 350});
    CHECK(first.plate.thickness_mm == 25);
    CHECK(first.plate.centre_mm == Vec2{1, 2});
    CHECK(first.plate.mass_kg == 22);
    CHECK_FALSE(first.guided);
    CHECK(first.rest_z_mm == 480);
    CHECK(setup.intermediate_platens[1].guided);
    CHECK(setup.intermediate_platens[1].plate.mesh != nullptr);
    CHECK_FALSE(setup.intermediate_platens[1].rest_z_mm);
}

TEST_CASE("what is wrong with a stack is told, with what would be right") {
    struct Row {
        const char *from, *to, *sentence;
    };
    const Row rows[] = {
        {"\"count\": 1", "\"count\": 2",
         "monday.json: intermediate_platens: a list of 2 comes to 3; give 2 for 3 openings: one lies between two of "
         "them"},
        {"    { \"mold\": \"molds/blocks.mold.json\" }",
         "    { \"mold\": \"molds/blocks.mold.json\" }, { \"mold\": \"molds/blocks.mold.json\" }",
         "monday.json: intermediate_platens: a list of 2 is not as many as it takes; give 3 for 4 openings: one lies "
         "between two of them"},
        {"\"rest\": 480", "\"rest\": 480, \"count\": 2",
         "monday.json: intermediate_platens: a list of 2 comes to 3; give 2 for 3 openings: one lies between two of "
         "them\nmonday.json: intermediate_platens[0].rest: 480 is one height for 2 platens; leave it out (they are "
         "spaced "
         "evenly, or lie on the press's rests), or list each by itself"},
        {"\"guided\"", "\"giuded\"",
         "monday.json: intermediate_platens[0].giuded: no such word here; did you mean \"guided\"?"},
        {"\"intermediate_platens\"", "\"intermediate_platen\"",
         "monday.json: intermediate_platen: no such word here; did you mean \"intermediate_platens\"?"},
        {"\"decks\": 2", "\"decks\": 11", nullptr},
    };
    for (const Row& row : rows) {
        CAPTURE(row.to);
        const Shop shop;
        shop.folder.write("monday.json", changed(kStackSample, row.from, row.to));
        shop.folder.write("molds/blocks.mold.json", kBlockMoldSample);
        const std::string sentences = all_sentences(shop.read().faults);
        if (row.sentence == nullptr) {
            CHECK(sentences.find("openings[1].decks: 11") != std::string::npos);
        } else {
            CHECK(sentences == std::string{row.sentence} + "\n");
        }
    }
    const Shop shop;
    std::string many = "[ { \"mold\": \"molds/dune.mold.json\" }";
    for (int i = 0; i < 20; ++i) {
        many += ", { \"mold\": \"molds/dune.mold.json\" }";
    }
    shop.folder.write("monday.json",
                      changed(kSetupSample, "[ { \"mold\": \"molds/dune.mold.json\", \"at\": [0, 5], \"turn\": 180 } ]",
                              many + " ]"));
    CHECK(all_sentences(shop.read().faults).find("monday.json: openings: a list of 21 is too many; give 20 at most") !=
          std::string::npos);
    const Shop low;
    low.folder.write("presses/oak.press.json", changed(kPressSample, "[450, 620]", "[450, 450]"));
    CHECK(all_sentences(low.read().faults) ==
          "presses/oak.press.json: rests[1]: 450 is not above the one before; give the heights of the rests from the "
          "bottom up\n");
}

TEST_CASE("faults of set-up, press and mold come together") {
    const Shop shop;
    shop.folder.write("monday.json", changed(kSetupSample, "\"name\": \"Monday\"", "\"name\": 1"));
    shop.folder.write("presses/oak.press.json", changed(kPressSample, "\"lead\": 4", "\"lead\": 0"));
    shop.folder.write("molds/dune.mold.json", changed(kMoldSample, "\"along\"", "\"up\""));
    const Loaded<Setup> loaded = shop.read();
    REQUIRE(loaded.faults.size() == 3);
    CHECK(loaded.faults[0].place == "name");
    CHECK(loaded.faults[1].place == "jacks[0].lead");
    CHECK(loaded.faults[2].place == "stack.plies[0].grain");
}
