// The plan on the press of plain blocks: openings, what stops one more, and the documents that are written of it.
#include "checks/plan/plan.hpp"
#include "checks/plan/plan_basis.hpp"
#include "checks/plan/plan_documents.hpp"
#include "checks/plan/taller_press.hpp"

#include "checks/fit/fit.hpp"
#include "scene/documents/documents.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/scene/documents/temporary_folder.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <memory>
#include <sstream>
#include <string>

using namespace evenclose;
using namespace evenclose::test;

namespace {

std::string text_of(const std::filesystem::path& file) {
    std::ostringstream text;
    text << std::ifstream(file).rdbuf();
    return text.str();
}

// Closed form, by head. Platen's face at z 200 + 40 = 240. Mold: 60 + 10 + 60 = 130 loose and shut; asked for over it 15.
constexpr const char* kPress = R"({ // as it stands
  "evenclose": "press", "version": 1, "name": "Blocks",
  "members": [
    { "name": "left post", "from": [-600, 0, 0], "to": [-600, 0, 700], "section": { "timber": [60, 60] }, "material": "pine" },
    { "name": "shelf", "from": [-600, 200, 500], "to": [600, 200, 500], "section": { "timber": [40, 40] }, "material": "pine" },
    { "name": "beam", "from": [-600, 0, 640], "to": [600, 0, 640], "section": { "timber": [60, 60] }, "material": "pine" }
  ],
  "head":   { "underside": 540, "size": [900, 300], "thickness": 40 },
  "platen": { "size": [900, 300], "thickness": 40, "mass": "30 kg", "material": "S235" },
  "jacks": [
    { "name": "left jack",  "foot": [-300, 0, 0], "closed_height": 200, "stroke": 180, "lead": 4, "rated_load": "20 kN",
      "body_diameter": 80, "screw_diameter": 30, "head_diameter": 60, "head_thickness": 10 },
    { "name": "right jack", "foot": [300, 0, 0], "closed_height": 200, "stroke": 180, "lead": 4, "rated_load": "20 kN",
      "body_diameter": 80, "screw_diameter": 30, "head_diameter": 60, "head_thickness": 10 }
  ]
}
)";
constexpr const char* kMold = R"({ "evenclose": "mold", "version": 1, "name": "Board",
  "lower": { "block": [500, 200, 60] }, "upper": { "block": [500, 200, 60] },
  "stack": { "plies": [ { "thickness": 10, "grain": "along" } ] } })";

struct Blocks {
    TemporaryFolder folder;
    PlanRequest request;

    Blocks() {
        const auto press = read_press(folder.write("blocks.press.json", kPress));
        const auto file = folder.write("board.mold.json", kMold);
        const auto mold = read_mold(file);
        REQUIRE(press.value);
        REQUIRE(mold.value);
        PlanBasis& basis = request.basis;
        basis.like.press = std::make_shared<const Press>(*press.value);
        basis.like.limits.stroke_reserve_mm = 10;
        basis.molds = {{file.string(), std::make_shared<const Mold>(*mold.value)}};
        basis.platen.plate = press.value->platen;
        basis.platen.plate.thickness_mm = 20;
        basis.platen.plate.mass_kg = 15;
    }
};

} // namespace

TEST_CASE("a taller press: what is fastened at the head goes up, what stands below stays, nothing else changes") {
    const Blocks blocks;
    Press press = *blocks.request.basis.like.press;
    Guide guide;
    guide.post_from_z_mm = 0;
    guide.post_to_z_mm = 600;
    press.guides = {guide};
    const Press after = taller(press, {100, 30}, 1.5);
    CHECK(after.head_underside_z_mm == 640);
    CHECK(after.members[0].a_mm.z == 0);
    CHECK(after.members[0].b_mm.z == 800);
    CHECK(after.members[1].a_mm.z == 500); // the shelf stays
    CHECK(after.members[2].a_mm.z == 740);
    CHECK(after.members[2].b_mm.z == 740);
    CHECK(after.guides[0].post_from_z_mm == 0);
    CHECK(after.guides[0].post_to_z_mm == 700);
    CHECK(after.jacks[0].stroke_mm == 210);
    CHECK(after.jacks[0].closed_height_mm == 230);
    CHECK(after.jacks[1].rated_load_N == 30000);
    Press bare = press;
    bare.guides.clear();
    CHECK(room_of(taller(bare, {100, 30})).daylight_mm == room_of(bare).daylight_mm + 100 - 30);
    Press scissors = press;
    scissors.jacks[0].kind = ScissorJack{};
    CHECK(no_such_press(scissors, {100, 0}).empty());
    CHECK(no_such_press(scissors, {100, 1}).find("left jack is a scissor") == 0);
}

TEST_CASE("closed form: the block press takes two openings, and 37 more of daylight a third") {
    Blocks blocks;
    // Daylight 540 - 240 = 300. Two: 2 x 130 + 20 = 280, 10 of room each where 15 are asked for: marginal, but they go.
    // Three: 3 x 130 + 2 x 20 = 430 do not go into 300.
    Progress progress;
    const OpeningsThatFit fit = openings_that_fit(blocks.request.basis, progress);
    CHECK(fit.most == 2);
    REQUIRE(fit.stop);
    CHECK(fit.stop->verdict == Verdict::no_go);
    // The very reason of the checks: the same functions asked by themselves say the same.
    const Setup three = stacked(blocks.request.basis, 3);
    CHECK(three.intermediate_platens.size() == 2);
    const Finding again = first_stop(asked_of(three, progress));
    CHECK(again.check == fit.stop->check);
    CHECK(again.title == fit.stop->title);
    // Two openings: 20 of room, 10 each; the platen between rests at 240 + 130 + 10.
    CHECK(within(*stacked(blocks.request.basis, 2).intermediate_platens[0].rest_z_mm, 380, 1e-12));
}

TEST_CASE("closed form: the lowest press for three decks, written, read and checked, and none lower") {
    Blocks blocks;
    blocks.request.target.decks = 3;
    Progress progress;
    const Plan plan = make_plan(blocks.request, progress);
    for (const RefusedChoice& refused : plan.refused) {
        MESSAGE(refused.openings << " " << refused.why
                                 << (refused.stop ? refused.stop->check + ": " + refused.stop->title : ""));
    }
    REQUIRE(plan.least);
    const OfferedChoice& least = *plan.least;
    CHECK(least.choice.openings == 3);
    // Daylight needed 3 x (130 + 15) + 2 x 20 = 475 of 300: 175. Closed 3 x 130 + 40 = 430: stroke 45 and 10 of reserve.
    CHECK(least.choice.change.raise_head_mm == 175);
    CHECK(least.choice.change.longer_stroke_mm == 0);
    CHECK(within(least.stroke_mm, 55, 1e-9));
    CHECK(least.head_underside_mm == 715);
    CHECK(least.frame_height_mm == 875); // the post, 700 + 175
    CHECK(least.stronger == 1);

    const WrittenPlan written = write_plan(plan, blocks.request.basis, blocks.folder.path() / "plans");
    for (const std::string& fault : written.faults) {
        MESSAGE(fault);
    }
    CHECK(written.faults.empty());
    REQUIRE(written.setups.size() >= 1);
    for (const std::filesystem::path& file : written.setups) {
        CAPTURE(file.string());
        const Loaded<Setup> loaded = read_setup(file);
        REQUIRE(loaded.value);
        CHECK(worst_of(asked_of(*loaded.value, progress)) != Verdict::no_go);
    }
    // What was read back is what was offered, and the comment in the press document is still there.
    const Loaded<Setup> read = read_setup(blocks.folder.path() / "plans" / (least.name + ".set-up.json"));
    REQUIRE(read.value);
    const Press& press = *read.value->press;
    CHECK(press.head_underside_z_mm == 715);
    CHECK(press.members[0].b_mm.z == 875);
    CHECK(press.members[1].a_mm.z == 500);
    CHECK(text_of(blocks.folder.path() / "plans" / "3-openings.press.json").starts_with("{ // as it stands"));
    CHECK(read.value->intermediate_platens.size() == 2);
    CHECK(within(*read.value->intermediate_platens[1].rest_z_mm, 240 + 2 * 145 + 20, 1e-12));

    // One millimetre lower and the checks miss it.
    PlanBasis lower = blocks.request.basis;
    lower.like.press = std::make_shared<const Press>(taller(*blocks.request.basis.like.press, {174, 0}));
    bool short_of_room = false;
    for (const Finding& finding : asked_of(stacked(lower, 3), progress)) {
        short_of_room = short_of_room || (finding.check == "daylight" && finding.verdict == Verdict::marginal);
    }
    CHECK(short_of_room);

    // One more than goes: written, read, and stopped for the very reason that was told.
    REQUIRE(plan.fit.stop);
    const Loaded<Setup> more = read_setup(written.one_more);
    REQUIRE(more.value);
    const Finding stop = first_stop(asked_of(*more.value, progress));
    CHECK(stop.check == plan.fit.stop->check);
    CHECK(stop.title == plan.fit.stop->title);
}

TEST_CASE(
    "a plan's basis from a set-up: each mold once, named from where the set-up stands, platens as they are in it") {
    const Blocks blocks;
    Setup setup = blocks.request.basis.like;
    setup.file = "shop/three.set-up.json";
    Opening opening;
    opening.mold_file = "../molds/board.mold.json";
    opening.mold = blocks.request.basis.molds.front().mold;
    setup.openings = {opening, opening};
    PlanBasis basis = basis_of(setup);
    REQUIRE(basis.molds.size() == 1);
    CHECK(basis.molds.front().file == "molds/board.mold.json");
    CHECK(basis.platen.plate.thickness_mm == 40); // as the press's own
    setup.intermediate_platens = {blocks.request.basis.platen};
    basis = basis_of(setup);
    CHECK(basis.platen.plate.thickness_mm == 20);
    CHECK(basis.platen.plate.mass_kg == 15);
    CHECK(platen_like(setup, 25.0).plate.thickness_mm == 25);
    CHECK(!platen_like(setup, 25.0).plate.mass_kg); // it was of 20 mm
}
