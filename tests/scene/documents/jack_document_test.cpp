#include "scene/documents/height_table.hpp"
#include "scene/documents/press_document.hpp"

#include "tests/scene/documents/jacks_sample.hpp"
#include "tests/scene/documents/samples.hpp"
#include "tests/scene/documents/temporary_folder.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <numbers>
#include <string>

using namespace evenclose;
using namespace evenclose::test;

namespace {

Loaded<Press> read(std::string_view text, std::string_view csv = {}) {
    const TemporaryFolder folder;
    if (!csv.empty()) {
        folder.write("heights.csv", csv);
    }
    MeshShelf shelf{BoxImporter{}};
    Loaded<Press> loaded = read_press(folder.write("p.json", text), shelf);
    for (DocumentFault& fault : loaded.faults) {
        fault.file = "p.json";
    }
    CHECK(loaded.value.has_value() == loaded.faults.empty());
    return loaded;
}

/// The sample without its drives and measured heights, and only its two screws: what is left to be changed.
std::string two_screws() {
    std::string text{kJacksSample};
    const auto cut = [&](std::string_view from, std::string_view to) {
        const std::size_t a = text.find(from);
        const std::size_t b = text.find(to, a);
        REQUIRE(a != std::string::npos);
        REQUIRE(b != std::string::npos);
        text.erase(a, b - a);
    };
    cut(",\n    { \"name\": \"scissor\"", "\n  ],\n  \"guides\"");
    cut("    { \"name\": \"crank\"", "    { \"name\": \"pump\"");
    cut(",\n    { \"name\": \"pump\"", "\n  ],\n  \"link_shafts\"");
    cut(",\n    { \"name\": \"box\"", "\n  ],\n  \"measured");
    cut("  \"measured_heights\"", "  \"load_from\"");
    return text;
}

} // namespace

TEST_CASE("a press document with jacks of every kind: every key arrives where it belongs") {
    const Loaded<Press> loaded = read(kJacksSample);
    REQUIRE_MESSAGE(loaded.value, all_sentences(loaded.faults));
    const Press& press = *loaded.value;
    CHECK(press.platen.mass_kg == 85);
    CHECK(press.load_from == PressSide::front);
    REQUIRE(press.jacks.size() == 6);
    CHECK(press.jacks[0].moving_mass_kg == 6);
    CHECK_FALSE(press.jacks[1].moving_mass_kg);
    const auto& screw = std::get<ScrewJack>(press.jacks[0].kind);
    CHECK(screw.thread.lead_mm == 8);
    CHECK(screw.thread.starts == 2);
    CHECK(screw.thread.form == ThreadForm::square);
    CHECK(screw.thread.friction == 0.08);
    CHECK(screw.thread.collar_friction == 0.1);
    CHECK(screw.thread.collar_diameter_mm == 40);
    CHECK(std::get<ScrewJack>(press.jacks[1].kind).thread.form == ThreadForm::acme);
    const auto& rhombus = std::get<ScissorJack>(press.jacks[2].kind);
    CHECK(rhombus.rhombus());
    CHECK(rhombus.arm_mm == 200);
    CHECK(rhombus.both_ends_threaded);
    CHECK(rhombus.base_height_mm == 25);
    CHECK(rhombus.head_height_mm == 15);
    CHECK(rhombus.foot_size_mm == Vec2{120, 80});
    CHECK(rhombus.head_size_mm == Vec2{80, 60});
    CHECK(rhombus.link_width_mm == 24);
    CHECK(rhombus.link_depth_mm == 40);
    CHECK(within(rhombus.direction_rad, std::numbers::pi / 2, 1e-15));
    CHECK(rhombus.thread.lead_mm == 2);
    CHECK(rhombus.thread.friction == 0.15);
    CHECK(rhombus.screw_diameter_mm == 16);
    CHECK(std::get<ScissorJack>(press.jacks[3].kind).stages == 2);
    const auto& ram = std::get<CylinderJack>(press.jacks[4].kind);
    CHECK(ram.cylinder.bore_mm == 80);
    CHECK(ram.cylinder.rod_mm == 45);
    CHECK(ram.body_diameter_mm == 100);
    CHECK(ram.head_diameter_mm == 70);
    CHECK(ram.head_thickness_mm == 20);
    const auto& bag = std::get<HoseJack>(press.jacks[5].kind);
    CHECK(bag.hose.free_diameter_mm == 100);
    CHECK(bag.hose.length_mm == 600);
    CHECK(bag.direction_rad == 0);
    CHECK(press.guides[0].friction == 0.15);

    REQUIRE(press.drives.size() == 3);
    const Drive& motor = press.drives[0];
    CHECK(motor.name == "left motor");
    CHECK(motor.jacks == std::vector<std::size_t>{0});
    CHECK(within(motor.speed, 1400.0 / 60, 1e-15));
    CHECK(within(motor.tolerance, 0.02, 1e-15));
    CHECK(motor.gear_ratio == 20);
    CHECK(motor.limit == 4000);
    CHECK(within(motor.drive_a_second(false), 1400.0 / 60 / 20, 1e-15));
    CHECK(press.drives[1].jacks == std::vector<std::size_t>{2, 3});
    CHECK(press.drives[1].speed == 0.5); // a bare number: turns a minute
    CHECK(press.drives[1].gear_ratio == 1);
    CHECK_FALSE(press.drives[1].limit);
    CHECK(within(press.drives[2].speed, 2e6 / 60, 1e-15)); // 2 l/min in mm3/s
    CHECK(within(*press.drives[2].limit, 16, 1e-15));      // 160 bar
    CHECK(within(press.drives[2].drive_a_second(true), 1e6 / 60, 1e-15));

    REQUIRE(press.link_shafts.size() == 2);
    const ShaftLink& shaft = press.link_shafts[0];
    CHECK(shaft.from == 0);
    CHECK(shaft.to == 1);
    CHECK(std::get<RoundShaft>(shaft.shaft.section).diameter_mm == 20);
    CHECK(std::get<RoundShaft>(shaft.shaft.section).bore_mm == 16);
    CHECK(shaft.shaft.length_mm == 560);
    CHECK(within(shaft.shaft.shear_modulus_MPa, 79300, 1e-15));
    CHECK(within(play_rad(shaft.shaft), 0.03 + std::numbers::pi / 180, 1e-14));
    CHECK(shaft.height_mm == 90);
    CHECK(std::get<BoxShaft>(press.link_shafts[1].shaft.section).wall_mm == 2);
    CHECK(press.link_shafts[1].shaft.shear_modulus_MPa == 79300); // steel, if nothing is said
    CHECK(play_rad(press.link_shafts[1].shaft) == 0);

    REQUIRE(press.measured_heights);
    CHECK(press.measured_heights->spread_mm == 0.1);
    CHECK(press.measured_heights->travel_mm == std::vector<double>{0, 30});
    CHECK(press.measured_heights->heads_mm[1] == std::vector<double>{380, 380.2, 290, 370, 430, 145});
    CHECK(loaded.notes.empty());
}

TEST_CASE("one fault a kind of mistake in jacks, drives, shafts and measured heights") {
    struct Row {
        const char *from, *to, *sentence;
    };
    const Row rows[] = {
        // kinds
        {"\"hose\": {", "\"lead\": 4, \"hose\": {",
         "jacks[5].lead: 4 does not go with \"hose\"; it belongs to a screw jack"},
        {"\"hose\": {", "\"cylinder\": {}, \"hose\": {",
         "jacks[5].hose: an object { ... } stands beside \"cylinder\"; a jack is of one kind"},
        {"\"scissor\": { \"arm\": 200", "\"scisor\": { \"arm\": 200",
         "jacks[2].scisor: no such word here; did you mean \"scissor\"?"},
        {"\"stages\": 2", "\"stages\": 1.5",
         "jacks[3].scissor.stages: 1.5 does not count anything; give a whole number from 0 to 20"},
        {"\"stages\": 2", "\"stages\": 2, \"one_nut\": true",
         "jacks[3].scissor.one_nut: true does not go with stages; it belongs to a rhombus: leave out \"stages\""},
        {"\"parked\": 20, \"stroke\": 200", "\"parked\": 20, \"stroke\": 300",
         "jacks[2]: its links stand 400 mm high at most, closed height and stroke ask for 400 mm of them; closed "
         "height "
         "and stroke go with the size of what lifts"},
        {"\"base_height\": 25", "\"base_height\": 130",
         "jacks[2]: foot (130 mm) and head (15 mm) leave no height for the links when closed; closed height and stroke "
         "go with the size of what lifts"},
        {"\"link_width\": 24", "\"link_width\": 240",
         "jacks[2].scissor.link_width: 240 is more than the arm is long; give the width as seen from the side"},
        {"\"rod\": 45", "\"rod\": 80",
         "jacks[4].cylinder.rod: 80 is not thinner than the bore; give less than the bore"},
        {"\"body_diameter\": 100", "\"body_diameter\": 80",
         "jacks[4].cylinder.body_diameter: 80 leaves no wall around the bore; give more than the bore"},
        {"\"stroke\": 70", "\"stroke\": 85",
         "jacks[5]: its hose is 100 mm in diameter, closed height and stroke ask for 100 mm; closed height and stroke "
         "go "
         "with the size of what lifts"},
        {"\"moving_mass\": 6", "\"moving_mass\": \"6 N\"",
         "jacks[0].moving_mass: \"6 N\" is no mass: \"N\" is no unit of mass here; write 18 kg, 350 g or 40 lb"},
        {"\"mass\": \"85 kg\"", "\"mass\": 0",
         "platen.mass: 0 is no mass; give a positive one up to 1e6 kg, such as \"18 kg\" or "
         "\"40 lb\""},
        // threads
        {"\"form\": \"square\"", "\"form\": \"sqare\"",
         "jacks[0].thread.form: \"sqare\" is no word for this; did you mean \"square\"?"},
        {"\"starts\": 2, \"friction\": 0.08", "\"starts\": 2",
         "jacks[0].thread.friction: missing; give a number, or text such as \"1 %\""},
        {"\"friction\": 0.08", "\"friction\": 8",
         "jacks[0].thread.friction: 8 is no ratio; give one above 0 and up to 1, such as 0.15"},
        {", \"collar_diameter\": 40", "",
         "jacks[0].thread.collar_friction: 0.1 has no collar diameter beside it; give \"collar_diameter\" as well"},
        {"\"lead\": 8, \"rated_load\": \"20 kN\",\n      \"body",
         "\"lead\": 40, \"rated_load\": \"20 kN\",\n      \"body",
         "jacks[1].lead: 40 is more than the screw is thick; lead over starts is the pitch of the thread"},
        // guides
        {"\"post_to\": 1100, \"friction\": 0.15", "\"post_to\": 1100, \"friction\": -1",
         "guides[0].friction: -1 is no ratio; give one above 0 and up to 1, such as 0.15"},
        // drives
        {"\"jacks\": [\"left\"]", "\"jacks\": [\"lft\"]",
         "drives[0].jacks[0]: \"lft\" is no jack of this press; did you mean \"left\"?"},
        {"\"jacks\": [\"left\"]", "\"jacks\": []",
         "drives[0].jacks: [] is not 1 or more jacks; give the names of 1 or more jacks in [ ]"},
        {"\"jacks\": [\"left\"]", "\"jacks\": [\"left\", \"left\"]",
         "drives[0].jacks[1]: \"left\" is named twice; name each once"},
        {"\"jacks\": [\"left\"]", "\"jacks\": [\"left\", \"ram\"]",
         "drives[0].jacks: [\"left\", \"ram\"] are screws and cylinders or hoses at once; a motor turns, a pump fills\n"
         "p.json: drives[2].jacks: [\"ram\", \"bag\"] names ram, which another drive has; a jack has one drive"},
        {"\"speed\": \"1400 rpm\"", "\"speed\": \"1400 mm/s\"",
         "drives[0].speed: \"1400 mm/s\" is no speed: \"mm/s\" is no unit of speed here; write 60 rpm, 1 turns/s or 90 "
         "deg/s"},
        {"\"speed\": \"1400 rpm\", ", "",
         "drives[0].speed: missing; give a number of turns a minute, or text such as \"60 rpm\""},
        {"\"tolerance\": \"2 %\", ", "", "drives[0].tolerance: missing; give a number, or text such as \"1 %\""},
        {"\"tolerance\": \"2 %\"", "\"tolerance\": 2",
         "drives[0].tolerance: 2 is no ratio; give one from 0 to 0.5, such as 0.02 or \"2 %\""},
        {"\"torque_limit\": \"4 N m\"", "\"pressure_limit\": \"4 bar\"",
         "drives[0].pressure_limit: \"4 bar\" does not go with screws; a motor has \"speed\" and \"torque_limit\""},
        {"\"flow\": \"2 l/min\"", "\"flow\": \"2 l/min\", \"gear_ratio\": 2",
         "drives[2].gear_ratio: 2 does not go with cylinders and hoses; a pump has \"flow\" and \"pressure_limit\""},
        {"\"name\": \"crank\"", "\"name\": \"pump\"",
         "drives[2].name: \"pump\" is taken by drives[1].name; give each its own name"},
        {"\"jacks\": [\"ram\", \"bag\"]", "\"jacks\": [\"ram\"]",
         "drives: a list of 3 leaves out bag; name it in a drive, or couple it by a link shaft to one that is"},
        {"\"closed_height\": 15", "\"closed_height\": 15, \"rate\": 0.9",
         "jacks[5].rate: 0.9 does not go with \"drives\"; speed and tolerance of the drive say it"},
        // shafts
        {"[\"left\", \"right\"]", "[\"left\"]",
         "link_shafts[0].between: [\"left\"] is not 2 jacks; give the names of 2 jacks in [ ]"},
        {"[\"scissor\", \"stages\"], \"box\"", "[\"ram\", \"bag\"], \"box\"",
         "link_shafts[1].between: [\"ram\", \"bag\"] are not both turned by a screw; a shaft couples screw or scissor "
         "jacks"},
        {"[\"scissor\", \"stages\"], \"box\"", "[\"scissor\", \"left\"], \"box\"",
         "link_shafts[1].between: [\"scissor\", \"left\"] are not of one kind; their screws would have to lie at one "
         "height throughout"},
        {"[\"scissor\", \"stages\"], \"box\"", "[\"left\", \"right\"], \"box\"",
         "link_shafts[1].between: [\"left\", \"right\"] are coupled already by other shafts; leave out one shaft of "
         "the ring"},
        {"\"tube\": [20, 2]", "\"tube\": [20, 10]",
         "link_shafts[0].tube[1]: 10 is too thick a wall; it must be less than half the diameter; a solid bar is { "
         "\"rod\": diameter }"},
        {"\"box\": [25, 25, 2]", "\"box\": [25, 25, 9]",
         "link_shafts[1].box[2]: 9 is too thick a wall; Bredt's formula holds for thin ones: at most a quarter of "
         "width and depth"},
        {"\"box\": [25, 25, 2]", "\"box\": [25, 25, 2], \"rod\": 12",
         "link_shafts[1]: has \"rod\", \"box\" at once; give exactly one of \"rod\", \"tube\", \"box\""},
        {"\"box\": [25, 25, 2]", "\"box\": [25, 25, 2], \"height\": 3",
         "link_shafts[1].height: 3 does not go with scissor jacks; the shaft lies where their screws lie"},
        {"\"play\": \"1 deg\"", "\"play\": \"100 deg\"",
         "link_shafts[0].couplings[1].play: \"100 deg\" is no play; give one from 0 to 90 deg, from one stop to the "
         "other"},
        {"\"play\": \"1 deg\"", "\"play\": 1, \"radius\": 3",
         "link_shafts[0].couplings[1].radius: 3 does not go with \"play\"; an angle needs no radius"},
        {"\"clearance\": 0.3, \"radius\": 10", "\"clearance\": 10, \"radius\": 10",
         "link_shafts[0].couplings[0].clearance: 10 is no less than the radius; give by how much the hole is wider "
         "than its pin"},
        // measured heights
        {"\"spread\": 0.1, ", "",
         "measured_heights.spread: missing; give a number of mm, or text such as \"180 mm\" or \"7 1/2 in\""},
        {"\"travel\": 0,", "\"travel\": 1,",
         "measured_heights.rows: a list of 2 row 1 does not begin at travel 0; readings from open (travel 0) upward, "
         "two or more"},
        {"\"travel\": \"30 mm\"", "\"travel\": 0",
         "measured_heights.rows: a list of 2 row 2 does not rise in travel; readings from open (travel 0) upward, two "
         "or more"},
        {"[380, 380.2, 290, 370, 430, 145]", "[380, 380.2, 290, 370, 430]",
         "measured_heights.rows[1].heads: a list of 5 is not a list of 6 lengths; give a list of 6 lengths in [ ]"},
        {"[380, 380.2, 290, 370, 430, 145]", "[340, 340, 250, 330, 390, 110]",
         "measured_heights.rows: a list of 2 row 2 does not lift the platen's middle; readings from open (travel 0) "
         "upward, two or more"},
        {"\"load_from\": \"front\"", "\"load_from\": \"bak\"",
         "load_from: \"bak\" is no word for this; did you mean \"back\"?"},
    };
    for (const Row& row : rows) {
        CAPTURE(row.from);
        CAPTURE(row.to);
        CHECK(all_sentences(read(changed(kJacksSample, row.from, row.to)).faults) ==
              std::string{"p.json: "} + row.sentence + "\n");
    }
}

TEST_CASE("screw jacks as documents had them before other kinds came are valid as they are") {
    const Loaded<Press> loaded = read(kPressSample);
    REQUIRE(loaded.value);
    CHECK(std::holds_alternative<ScrewJack>(loaded.value->jacks[0].kind));
    CHECK(loaded.value->drives.empty());
    CHECK(loaded.value->link_shafts.empty());
    CHECK_FALSE(loaded.value->measured_heights);
    CHECK_FALSE(loaded.value->load_from);
}

TEST_CASE("measured heights from a CSV file beside the document") {
    const std::string text =
        changed(two_screws(), "  \"load_from\"",
                "  \"measured_heights\": { \"file\": \"heights.csv\", \"spread\": \"0.1 mm\" }, \"load_from\"");
    struct Row {
        const char *csv, *fault; // empty: none
    };
    constexpr const char* kGood = "";
    const Row rows[] = {
        {"travel,left,right\n0,350,350.4\n50,399.5,400.5\n", kGood},
        {"\xEF\xBB\xBFtravel;right;left\r\n0;350.4;350\r\n\r\n# by the dial gauge\r\n50;400.5;399.5\r\n", kGood},
        {"travel,\"left\",right\n0,350 mm,350.4\n50,\"399.5\",400.5", kGood}, // no line end at the last
        {"travel,left,rihgt\n0,1,2\n", "line 1: \"rihgt\" is no jack of this press; did you mean \"right\"?"},
        {"travel,left\n0,1\n", "line 1: has no column \"right\""},
        {"left,right\n0,1\n", "line 1: begins with \"left\"; the first column is \"travel\", then the jacks by name"},
        {"travel,left,right\n0,350,350.4\n50,399.5\n", "line 3: has 2 columns, 3 are wanted"},
        {"travel,left,right\n0,350,x\n", "line 2: no length: \"x\""},
        {"travel,left,right\n0,nan,350\n", "line 2: no length: \"nan\""},
        {"travel,left,right\n0,1e30,350\n", "line 2: longer than 1 km; is the unit right?"},
        {"travel,left,right\n0,350,350.4\n", "row 1 has fewer than two readings"},
        {"travel,left,right\n10,350,350.4\n20,360,360\n", "row 1 does not begin at travel 0"},
        {"travel,left,right\n0,350,350\n20,360,360\n20,361,361\n", "row 3 does not rise in travel"},
        {"travel,left,right\n0,35,35.04\n5,39.95,40.05\n",
         "row 1 has left at 35 mm, which reaches from 350 to 530 mm; heights of the heads above the floor"},
        {"# nothing\n", "is empty; the first line is \"travel\" and the names of the jacks"},
    };
    for (const Row& row : rows) {
        CAPTURE(row.csv);
        const Loaded<Press> loaded = read(text, row.csv);
        if (*row.fault != '\0') {
            REQUIRE(loaded.faults.size() == 1);
            CHECK(loaded.faults[0].place == "measured_heights.file");
            CHECK_MESSAGE(loaded.faults[0].sentence().find(row.fault) != std::string::npos,
                          loaded.faults[0].sentence());
            continue;
        }
        REQUIRE_MESSAGE(loaded.value, all_sentences(loaded.faults));
        CHECK(loaded.value->measured_heights->file == "heights.csv");
        CHECK(loaded.value->measured_heights->heads_mm ==
              std::vector<std::vector<double>>{{350, 350.4}, {399.5, 400.5}});
    }
    CHECK(all_sentences(read(text).faults).find("heights.csv") != std::string::npos); // no such file
    // Bare numbers are in the document's unit.
    const auto inches = read_height_csv("travel,a\n0,1\n1,2 mm\n", {[] {
                                            Jack jack;
                                            jack.name = "a";
                                            return jack;
                                        }()},
                                        LengthUnit::inch);
    CHECK(std::get<0>(inches)[0].heads_mm[0] == 25.4);
    CHECK(std::get<0>(inches)[1].heads_mm[0] == 2);
}
