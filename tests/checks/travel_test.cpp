#include "checks/phrase.hpp"
#include "checks/travel/travel.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/scene/motion/jack_presses.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>

namespace evenclose {

using test::BlockSetup;
using test::bolt;
using test::near;

namespace {

const Finding* about(const std::vector<Finding>& findings, const std::string& body) {
    const auto found = std::find_if(findings.begin(), findings.end(), [&](const Finding& finding) {
        return std::find(finding.bodies.begin(), finding.bodies.end(), body) != finding.bodies.end();
    });
    return found == findings.end() ? nullptr : &*found;
}

std::vector<Finding> travel_of(BlockSetup& blocks) {
    const Setup& setup = blocks.made();
    const Assembly assembly = assemble(setup);
    Progress progress;
    return judge(measure_travel(setup, assembly, progress), setup, assembly, progress);
}

} // namespace

TEST_CASE("travel: a clear press goes, and says that it was certified") {
    BlockSetup blocks;
    const std::vector<Finding> findings = travel_of(blocks);
    CHECK(worst_of(findings) == Verdict::go);
    // The halves close to the 10 of the stack; they may come as near as half of that.
    const Finding* halves = about(findings, "block mold upper half");
    REQUIRE(halves != nullptr);
    CHECK(halves->verdict == Verdict::go);
    CHECK(near(halves->bounds->first, 10, 0.051));
    CHECK(halves->bounds->first <= 10.0 + 1e-9);
    CHECK(halves->bounds->second >= 10.0 - 1e-9);
}

TEST_CASE("travel: a bolt beside the mold's path, by how near it passes") {
    // The lower half is 700 long: its end is at x 350. It rises from z 340-420 to 440-520; the bolt is at z 480, 16 thick.
    struct Row {
        double tip_x_mm;
        Verdict verdict;
        double clearance_mm;
    };
    const Row rows[] = {
        {360, Verdict::go, 10}, {355, Verdict::go, 5}, {353, Verdict::marginal, 3}, {348, Verdict::no_go, 0}};
    for (const Row& row : rows) {
        CAPTURE(row.tip_x_mm);
        BlockSetup blocks;
        blocks.press.members = {bolt("bolt", {row.tip_x_mm, 0, 480}, {600, 0, 480}, 16)};
        const std::vector<Finding> findings = travel_of(blocks);
        const Finding* finding = about(findings, "bolt");
        REQUIRE(finding != nullptr);
        // 5 asked for and exactly 5 there: a certified lower bound may fall short of it by its tightness.
        CHECK((finding->verdict == row.verdict || (row.clearance_mm == 5 && finding->verdict == Verdict::marginal)));
        CHECK(near(*finding->value, row.clearance_mm, 0.051));
    }
}

TEST_CASE("travel: a foul is told with its interval, and the shift that frees it is one that does") {
    BlockSetup blocks;
    blocks.press.members = {bolt("bolt", {340, 0, 480}, {600, 0, 480}, 16)};
    const std::vector<Finding> findings = travel_of(blocks);
    REQUIRE(worst_of(findings) == Verdict::no_go);
    const Finding& foul = findings.front();
    CHECK(foul.bodies == std::vector<std::string>{"bolt", "block mold lower half"});
    // The bolt's underside is at z 472 (round: its lowest corner lies on the circle), the half's top reaches it after
    // 472 - 420 = 52, and is still beside it at closed, 100.
    REQUIRE(foul.travel);
    CHECK(near(foul.travel->from.mm, 52, 0.2)); // a round bolt in facets
    CHECK(near(foul.travel->to.mm, 100, 0.011));
    // 10 deep in the mold and 5 asked for, to the half millimetre above: the certified bound falls short by its tightness.
    CHECK(shown(foul.remedy) ==
          "Move the mold, both halves, 15.5 mm to the left (-X): tried, and 5 mm clear over the whole stroke.");
    blocks.setup.openings.front().at_mm = {-15.5, 0};
    CHECK(worst_of(travel_of(blocks)) == Verdict::go);
}

TEST_CASE("travel: touches only when the platen tilts") {
    // A stop 0.4 above the end of the closed lower half. Jacks that may stray by 1 % tilt the platen by 100 / 800 0.02 =
    // 2.5 mrad at closed: the end, 350 out, rises 0.875.
    BlockSetup blocks;
    blocks.half(blocks.mold.upper, {-200, -100, 90}, {200, 100, 160}); // leaves room over the ends
    blocks.press.members = {bolt("stop", {340, 0, 520.4}, {340, 0, 560}, 8)};
    const Finding* level = nullptr;
    std::vector<Finding> findings = travel_of(blocks);
    level = about(findings, "stop");
    REQUIRE(level != nullptr);
    CHECK(level->verdict == Verdict::marginal);
    CHECK(near(*level->value, 0.4, 0.051));
    for (Jack& jack : blocks.press.jacks) {
        jack.rate_tolerance = 0.01;
    }
    findings = travel_of(blocks);
    const Finding* tilted = about(findings, "stop");
    REQUIRE(tilted != nullptr);
    CHECK(tilted->verdict == Verdict::no_go);
}

TEST_CASE("travel: what reaches the room that a link swings through is not told to foul, and not passed over") {
    BlockSetup blocks;
    const ScissorJack scissor = test::scissor_of(100, 80, ThreadForm::square);
    for (Jack& jack : blocks.press.jacks) { // closed 300: links 120 high, their corners 191 out and 160 up
        jack.kind = scissor;
    }
    // Beside the path of the left jack's outer corner: it swings from 60 to 110 above its foot pin at z 100.
    blocks.press.members = {bolt("bolt beside", {-700, 0, 130}, {-590, 0, 130}, 16)};
    std::vector<Finding> findings = travel_of(blocks);
    const Finding* reached = about(findings, "bolt beside");
    REQUIRE(reached != nullptr);
    CHECK(reached->verdict == Verdict::not_checked);
    CHECK(reached->why.find("room") != std::string::npos);
    blocks.press.members = {bolt("bolt beside", {-700, 0, 130}, {-640, 0, 130}, 16)};
    findings = travel_of(blocks);
    CHECK(about(findings, "bolt beside") == nullptr); // farther than 25
    CHECK(worst_of(findings) == Verdict::go);
}

TEST_CASE("travel: a mold half that cannot stand where it is drawn") {
    BlockSetup blocks;
    blocks.press.members = {
        bolt("head bolt", {0, 0, 580}, {0, 0, 650}, 12)}; // comes out of the head into the upper half
    const Assembly assembly = assemble(blocks.made());
    Progress progress;
    const std::vector<StandingFoul> fouls = standing_fouls(assembly, progress);
    REQUIRE(fouls.size() == 1);
    CHECK(assembly.bodies[fouls.front().other].name == "head bolt");
    CHECK(judge(fouls.front(), assembly).verdict == Verdict::no_go);
    blocks.press.members.clear();
    CHECK(standing_fouls(assemble(blocks.made()), progress).empty());
}

TEST_CASE("travel: a mesh that cannot be prepared is not checked, and named") {
    BlockSetup blocks;
    auto spoiled = std::make_shared<TriangleMesh>(*blocks.mold.lower.mesh);
    spoiled->triangles[0][0] = 4711;
    blocks.press.members = {bolt("post", {470, 200, 0}, {470, 200, 600}, 60)};
    const Setup& setup = blocks.made();
    Assembly assembly = assemble(setup);
    for (Body& body : assembly.bodies) {
        if (body.part == Part::mold_lower) {
            body.mesh = spoiled;
        }
    }
    Progress progress;
    const std::vector<Finding> findings = judge(measure_travel(setup, assembly, progress), setup, assembly, progress);
    const Finding* finding = about(findings, "block mold lower half");
    REQUIRE(finding != nullptr);
    CHECK(finding->verdict == Verdict::not_checked);
    CHECK(finding->why.find("block mold lower half") != std::string::npos);
}

TEST_CASE("travel: cancelled before it began says so for every pair") {
    BlockSetup blocks;
    const Setup& setup = blocks.made();
    const Assembly assembly = assemble(setup);
    Progress progress;
    progress.cancel();
    const std::vector<PairProfile> profiles = measure_travel(setup, assembly, progress);
    REQUIRE(profiles.size() == assembly.moving_pairs().size());
    for (const PairProfile& profile : profiles) {
        CHECK(profile.sweep.contact == Contact::cancelled);
    }
    CHECK(worst_of(judge(profiles, setup, assembly, progress)) == Verdict::not_checked);
}

} // namespace evenclose
