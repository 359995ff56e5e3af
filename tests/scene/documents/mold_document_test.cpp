#include "scene/documents/mold_document.hpp"

#include "tests/scene/documents/samples.hpp"
#include "tests/scene/documents/temporary_folder.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <glm/geometric.hpp>
#include <glm/matrix.hpp>

#include <numbers>
#include <string>

using namespace evenclose;
using namespace evenclose::test;

namespace {

Loaded<Mold> read(std::string_view text) {
    const TemporaryFolder folder;
    folder.write("parts/broken.stl", "");
    MeshShelf shelf{BoxImporter{}};
    Loaded<Mold> loaded = read_mold(folder.write("m.json", text), shelf);
    const std::string here = folder.path().string() + "/";
    for (DocumentFault& fault : loaded.faults) {
        CHECK(fault.file == here + "m.json");
        fault.file = "m.json";
    }
    for (std::string& note : loaded.notes) {
        CHECK(note.starts_with(here));
        note.erase(0, here.size());
    }
    CHECK(loaded.value.has_value() == loaded.faults.empty());
    return loaded;
}

bool same(const Vec3& a, const Vec3& b) { return glm::distance(a, b) < 1e-9; }

} // namespace

TEST_CASE("a mold document with meshes: every key arrives where it belongs") {
    const Loaded<Mold> loaded = read(kMoldSample);
    REQUIRE_MESSAGE(loaded.value, all_sentences(loaded.faults));
    const Mold& mold = *loaded.value;
    CHECK(mold.name == "Dune");
    const auto& lower = std::get<MeshHalf>(mold.lower.shape);
    CHECK(lower.file == "lower.stl");
    CHECK(lower.unit == "mm");
    CHECK(lower.offset_mm == Vec3{1, 2, 3});
    CHECK(within(lower.turn_rad, std::numbers::pi / 2, 1e-15));
    CHECK(lower.flip);
    CHECK(mold.lower.material == "PETG");
    CHECK(mold.lower.unit_note == "taken as mm (stated)");
    CHECK(mold.upper.unit_note == "taken as mm (guessed: it would be small in cm)");
    CHECK(mold.shut_height_mm == 131.1);
    CHECK(mold.deck_size_mm == Vec2{800, 220});
    REQUIRE(mold.stack.glue);
    const Glue& glue = *mold.stack.glue;
    CHECK(glue.name == "white glue, sheet of 2024");
    CHECK(glue.spread_g_per_m2 == 180);
    CHECK(glue.open_time_s == 720);
    CHECK(glue.closed_time_s == 1200); // a bare number is minutes
    CHECK(glue.post_cure_s == 172800);
    REQUIRE(glue.press_times.size() == 2);
    CHECK(glue.press_times[0].temperature_C == 10);
    CHECK(glue.press_times[0].time_s == 7200);
    CHECK(within(glue.press_times[1].temperature_C, 20, 1e-12));
    CHECK(glue.press_times[1].time_s == 4200);
    REQUIRE(mold.stack.plies.size() == 7);
    CHECK(mold.stack.plies[1].thickness_mm == 1.5);
    CHECK(mold.stack.plies[1].species == "maple");
    CHECK(mold.stack.plies[1].grain == Grain::along);
    CHECK(within(mold.stack.plies[2].thickness_mm, 1.5875, 1e-15)); // REFERENCE 9: 1/16 in
    CHECK(mold.stack.plies[2].grain == Grain::across);
    CHECK(mold.stack.plies[2].bend_radius_mm == 80.0);
    CHECK(mold.stack.plies[2].bend_radius_across_mm == 50.8);
    CHECK(mold.stack.plies[6].species.empty());
    CHECK_FALSE(mold.stack.plies[6].bend_radius_mm.has_value());
    CHECK(mold.stack.glue_line_mm == 0.1);
    CHECK(mold.stack.squeeze_mm == 0.05);
    CHECK(within(mold.stack.glue_pressure_MPa.value_or(0), 0.3, 1e-12));
    REQUIRE(mold.print);
    CHECK(mold.print->build_volume_mm == Vec3{250, 210, 220});
    CHECK(mold.print->fill == 0.2);
    CHECK(mold.print->wall_mm == 1.2);
    CHECK(mold.print->cost_a_kilo == 24.5);
    // Flipped about X, (x, -y, -z), then turned a quarter, (-y, x, z), then moved: (x, y, z) -> (y + 1, x + 2, 3 - z).
    const Box box = bounds_of(*mold.lower.mesh);
    CHECK(same(box.low_mm, {0 + 1, 0 + 2, 3 - 30}));
    CHECK(same(box.high_mm, {20 + 1, 10 + 2, 3 - 0}));
    CHECK(signed_volume_mm3(*mold.lower.mesh) > 0); // turned over, not mirrored
    CHECK(loaded.notes ==
          std::vector<std::string>{
              "m.json: upper.mesh: \"upper.stl\" is taken as mm (guessed: it would be small in cm); state it with "
              "\"unit\"",
              "m.json: shut_height: 131.1 mm, but the halves are drawn 158.1 mm from seat to seat; nothing was moved"});
}

TEST_CASE("flip, turn and offset make a proper placement, in that order") {
    MeshHalf half;
    half.flip = true;
    half.turn_rad = 0.3;
    half.offset_mm = {10, 20, 30};
    const Pose pose = placement_of(half);
    CHECK(within(glm::determinant(pose.rotation), 1, 1e-12));
    const Vec3 p{3, 5, 7};
    const Vec3 by_hand{3 * std::cos(0.3) + 5 * std::sin(0.3) + 10, 3 * std::sin(0.3) - 5 * std::cos(0.3) + 20, -7 + 30};
    CHECK(same(pose.apply(p), by_hand));
}

TEST_CASE("a deck's outline, in the document's unit") {
    const Loaded<Mold> loaded = read(
        changed(kBlockMoldSample, "\"stack\"", "\"deck_outline\": [[-10, 0], [\"1 in\", 0], [0, 20.5]], \"stack\""));
    REQUIRE_MESSAGE(loaded.value, all_sentences(loaded.faults));
    CHECK(loaded.value->deck_outline_mm == std::vector<Vec2>{{-10, 0}, {25.4, 0}, {0, 20.5}});
}

TEST_CASE("squeeze as a share of the loose stack") {
    const auto squeezed = [](const char* written) {
        return read(changed(kBlockMoldSample, "\"glue_line\": 0.1",
                            std::string{"\"glue_line\": 0.1, \"squeeze\": "} + written));
    };
    // Seven of 1.5 and six of 0.1 are 11.1 (REFERENCE 9.1).
    const Loaded<Mold> loaded = squeezed("\"3 %\"");
    REQUIRE_MESSAGE(loaded.value, all_sentences(loaded.faults));
    CHECK(within(loaded.value->stack.squeeze_mm, 0.333, 1e-12));
    CHECK(within(loaded.value->stack.pressed_thickness_mm(), 10.767, 1e-12));
    CHECK(all_sentences(squeezed("\"100 %\"").faults) ==
          "m.json: stack.squeeze: \"100 %\" is the whole stack or more; it is how much the stack gives under "
          "pressure\n");
    CHECK_FALSE(squeezed("\"120 %\"").value);
    CHECK(within(squeezed("\"0.2 mm\"").value->stack.squeeze_mm, 0.2, 1e-12));
}

TEST_CASE("blocks: the lower stands on z = 0, the upper hangs from the shut height") {
    const Loaded<Mold> loaded = read(kBlockMoldSample);
    REQUIRE_MESSAGE(loaded.value, all_sentences(loaded.faults));
    const Mold& mold = *loaded.value;
    // 60 + 50 + seven of 1.5 + six of 0.1 (REFERENCE 9.1: 11.1)
    CHECK(within(mold.closed_shut_height_mm(), 121.1, 1e-12));
    CHECK(same(bounds_of(*mold.lower.mesh).low_mm, {10 - 400, -125, 0}));
    CHECK(same(bounds_of(*mold.lower.mesh).high_mm, {10 + 400, 125, 60}));
    CHECK(same(bounds_of(*mold.upper.mesh).low_mm, {-390, -120, 71.1}));
    CHECK(same(bounds_of(*mold.upper.mesh).high_mm, {390, 120, 121.1}));
    CHECK(within(signed_volume_mm3(*mold.lower.mesh), 800.0 * 250 * 60, 1e-12));
    CHECK(within(signed_volume_mm3(*mold.upper.mesh), 780.0 * 240 * 50, 1e-12));
    CHECK(mold.lower.unit_note.empty());
    CHECK(loaded.notes.empty());
}

TEST_CASE("halves and a stated shut height that do not agree are noted, and nothing is moved") {
    const auto stated = [](const char* shut) {
        return changed(kBlockMoldSample, "\"name\": \"Blocks\"",
                       std::string{"\"name\": \"Blocks\", \"shut_height\": "} + shut);
    };
    const Loaded<Mold> wide = read(stated("125"));
    REQUIRE(wide.value);
    CHECK(within(bounds_of(*wide.value->upper.mesh).low_mm.z, 75, 1e-12));
    CHECK(wide.notes ==
          std::vector<std::string>{
              "m.json: shut_height: 125 mm leaves 15 mm between the blocks; the pressed stack is 11.1 mm"});
    CHECK(read(stated("121.105")).notes.empty());
    CHECK(all_sentences(read(stated("110")).faults) ==
          "m.json: shut_height: 110 is no more than both blocks are high; they would be inside each other\n");

    // A mesh above a block: drawn with its top at 131.1, so that 60 + 61.1 + 11.1 = 132.2 does not agree.
    const Loaded<Mold> mixed = read(
        changed(kBlockMoldSample, "{ \"block\": [780, 240, 50] }", "{ \"mesh\": \"upper.stl\", \"unit\": \"mm\" }"));
    REQUIRE(mixed.value);
    CHECK(bounds_of(*mixed.value->upper.mesh).high_mm.z == 131.1);
    CHECK(mixed.notes ==
          std::vector<std::string>{"m.json: lower.block: blocks and stack make a shut height of: 132.2 mm, but the "
                                   "halves are drawn 131.1 mm from seat to seat; nothing was moved"});
    // A block above a mesh whose seat is drawn at z = -27: its top is a shut height above that seat.
    std::string text = changed(kMoldSample, "{ \"mesh\": \"upper.stl\" }", "{ \"block\": [780, 240, 50] }");
    text = changed(text, "\"shut_height\": 131.1,", "\"shut_height\": 100,");
    const Loaded<Mold> above = read(text);
    REQUIRE_MESSAGE(above.value, all_sentences(above.faults));
    CHECK(within(bounds_of(*above.value->upper.mesh).high_mm.z, -27 + 100, 1e-12));
    CHECK(within(bounds_of(*above.value->upper.mesh).low_mm.z, -27 + 50, 1e-12));
}

TEST_CASE("both halves from one file as drawn are one mesh") {
    const TemporaryFolder folder;
    int calls = 0;
    MeshShelf shelf{BoxImporter{&calls}};
    const std::string text =
        changed(changed(kBlockMoldSample, "{ \"block\": [780, 240, 50] }", "{ \"mesh\": \"upper.stl\" }"),
                "{ \"block\": [800, 250, 60], \"seat_centre\": [10, 0], \"material\": \"pine\" }",
                "{ \"mesh\": \"./upper.stl\" }");
    const Loaded<Mold> loaded = read_mold(folder.write("m.json", text), shelf);
    REQUIRE(loaded.value);
    CHECK(loaded.value->lower.mesh == loaded.value->upper.mesh);
    CHECK(calls == 1);
}

TEST_CASE("one fault a kind of mistake in a mold") {
    struct Row {
        std::string_view sample;
        const char *from, *to, *sentence;
    };
    const Row rows[] = {
        {kBlockMoldSample, "\"plies\": [ { \"thickness\": 1.5, \"grain\": \"along\", \"count\": 7 } ]", "\"plies\": []",
         "stack.plies: [] is too few; give one ply or more, from the lower half upward"},
        {kBlockMoldSample, "\"stack\"", "\"deck_outline\": [[0, 0], [10, 0]], \"stack\"",
         "deck_outline: [[0, 0], [10, 0]] is too few; give 3 places or more: [[x, y], [x, y], ...]"},
        {kBlockMoldSample, "\"stack\"", "\"deck_outline\": [[0, 0], [10, 0], [20]], \"stack\"",
         "deck_outline[2]: [20] is no list of 2 lengths; give [x, y]"},
        {kBlockMoldSample, "\"stack\"", "\"deck_outline\": [[0, 0], [100, 0], [200, 0]], \"stack\"",
         "deck_outline: [[0, 0], [100, 0], [200, 0]] encloses no area; give the corners in their order round the deck"},
        {kBlockMoldSample, "\"stack\"",
         "\"deck_size\": [10, 20], \"deck_outline\": [[0, 0], [100, 0], [0, 100]], \"stack\"",
         "deck_size: [10, 20] does not go with \"deck_outline\"; leave one of the two out"},
        {kBlockMoldSample, "\"plies\"", "\"veneers\"",
         "stack.plies: missing; give one ply or more, from the lower half upward"},
        {kBlockMoldSample, "\"thickness\": 1.5", "\"thickness\": -1.5",
         "stack.plies[0].thickness: -1.5 is no length; give a positive one, such as \"180 mm\" or \"7 in\""},
        {kBlockMoldSample, "\"thickness\": 1.5", "\"thickness\": 0",
         "stack.plies[0].thickness: 0 is no length; give a positive one, such as \"180 mm\" or \"7 in\""},
        {kBlockMoldSample, "\"along\"", "\"alnog\"",
         "stack.plies[0].grain: \"alnog\" is no word for this; did you mean \"along\"?"},
        {kBlockMoldSample, "\"along\"", "true",
         "stack.plies[0].grain: true is no word for this; give one of \"along\", \"across\""},
        {kBlockMoldSample, "\"grain\": \"along\", ", "",
         "stack.plies[0].grain: missing; give one of \"along\", \"across\""},
        {kBlockMoldSample, "\"count\": 7", "\"count\": 7.5",
         "stack.plies[0].count: 7.5 does not count anything; give a whole number from 1 to 500"},
        {kBlockMoldSample, "\"count\": 7", "\"count\": 1e15",
         "stack.plies[0].count: 1e15 does not count anything; give a whole number from 1 to 500"},
        {kBlockMoldSample, "\"count\": 7", "\"count\": 0",
         "stack.plies[0].count: 0 does not count anything; give a whole number from 1 to 500"},
        {kBlockMoldSample, "\"count\": 7", "\"count\": \"seven\"",
         "stack.plies[0].count: \"seven\" does not count anything; give a whole number from 1 to 500"},
        {kMoldSample, "\"count\": 2", "\"count\": 497",
         "stack.plies: a list of 3 has more than 500 plies; check the counts"},
        {kBlockMoldSample, "\"glue_line\": 0.1", "\"glue_line\": -0.1",
         "stack.glue_line: -0.1 is no length; give 0 or a positive one, such as \"180 mm\" or \"7 in\""},
        {kMoldSample, "\"squeeze\": 0.05", "\"squeeze\": 12",
         "stack.squeeze: 12 is the whole stack or more; it is how much the stack gives under pressure"},
        {kBlockMoldSample, "\"block\": [780, 240, 50]", "\"block\": [780, 240, 50], \"mesh\": \"upper.stl\"",
         "upper: has \"mesh\", \"block\" at once; give exactly one of \"mesh\", \"block\""},
        {kBlockMoldSample, "\"block\": [780, 240, 50]", "",
         "upper: says not what it is; give exactly one of \"mesh\", \"block\""},
        {kBlockMoldSample, "\"block\": [780, 240, 50]", "\"block\": [780, 240, 50], \"flip\": true",
         "upper.flip: true does not go with \"block\"; it belongs to \"mesh\"; a block has \"seat_centre\""},
        {kMoldSample, "\"mesh\": \"upper.stl\"", "\"mesh\": \"upper.stl\", \"seat_centre\": [0, 0]",
         "upper.seat_centre: [0, 0] does not go with \"mesh\"; it belongs to \"block\"; a mesh has \"offset\""},
        {kMoldSample, "\"flip\": true", "\"flip\": \"yes\"",
         "lower.flip: \"yes\" is neither true nor false; give true or false, without quotes"},
        {kMoldSample, "\"offset\": [1, 2, 3]", "\"ofset\": [1, 2, 3]",
         "lower.ofset: no such word here; did you mean \"offset\"?"},
        {kMoldSample, "\"offset\": [1, 2, 3]", "\"offset\": [1, 2]",
         "lower.offset: [1, 2] is no list of 3 lengths; give [x, y, z]"},
        {kMoldSample, "\"mesh\": \"upper.stl\"", "\"mesh\": \"\"",
         "upper.mesh: \"\" says nothing; give a word, or leave the key out if it may be"},
        {kMoldSample, "\"deck_size\": [800, 220]", "\"deck_size\": [800, 0]",
         "deck_size[1]: 0 is no length; give a positive one, such as \"180 mm\" or \"7 in\""},
        {kMoldSample, "\"shut_height\": 131.1", "\"shut_height\": 0",
         "shut_height: 0 is no length; give a positive one, such as \"180 mm\" or \"7 in\""},
    };
    for (const Row& row : rows) {
        CAPTURE(row.from);
        CAPTURE(row.to);
        std::string sentences = all_sentences(read(changed(row.sample, row.from, row.to)).faults);
        if (std::string_view{row.to} == "\"veneers\"") { // too far from "plies" to be taken for it: both are told
            const std::string unknown = "m.json: stack.veneers: no such word here; the words here are \"plies\", "
                                        "\"glue_line\", \"squeeze\", \"glue_pressure\", \"glue\"\n";
            CHECK(sentences.ends_with(unknown));
            sentences.erase(sentences.size() - unknown.size());
        }
        CHECK(sentences == std::string{"m.json: "} + row.sentence + "\n");
    }
}

TEST_CASE("a mold document: the rows of the glue's press times rise in temperature, and a time is a time") {
    struct Row {
        const char *from, *to, *told;
    };
    const Row rows[] = {
        {"\"at\": 10", "\"at\": 20", "stack.glue.press_times[1].at: \"68 F\" is no warmer than the row before"},
        {"\"at\": 10", "\"at\": 400", "stack.glue.press_times[0].at: 400 is no temperature"},
        {"\"12 min\"", "\"12 elephants\"", "stack.glue.open_time: \"12 elephants\" is no time"},
        {"\"closed_time\": 20", "\"closed_time\": -20", "stack.glue.closed_time: -20 is no time"},
        {"\"closed_time\": 20", "\"closed_tiem\": 20", "did you mean \"closed_time\"?"},
        {"\"spread\": 180", "\"spread\": 0.18", "give a number of grams a square metre, such as 180"},
    };
    for (const Row& row : rows) {
        CAPTURE(row.to);
        const Loaded<Mold> loaded = read(changed(kMoldSample, row.from, row.to));
        CAPTURE(all_sentences(loaded.faults));
        REQUIRE(loaded.faults.size() == 1);
        CHECK(loaded.faults.front().sentence().find(row.told) != std::string::npos);
    }
}
