#include "checks/level/level.hpp"
#include "checks/phrase.hpp"
#include "scene/press/guide_limits.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

namespace evenclose {

using test::BlockSetup;
using test::near;
using test::within;

namespace {

std::vector<Finding> level_of(BlockSetup& blocks) {
    const Setup& setup = blocks.made();
    const Assembly assembly = assemble(setup);
    return judge(measure_level(setup, assembly), setup, assembly);
}

Guide guide(double bore_mm, double length_mm) {
    Guide g;
    g.name = "left guide";
    g.at_mm = {-560, 0};
    g.post_diameter_mm = 20;
    g.bore_diameter_mm = bore_mm;
    g.sleeve_outside_diameter_mm = 40;
    g.length_mm = length_mm;
    g.post_from_z_mm = 100;
    g.post_to_z_mm = 590;
    return g;
}

} // namespace

TEST_CASE("3.1 level: two jacks 800 apart, one 1.2 higher, over a deck of 812.8 x 203.2") {
    BlockSetup blocks; // REFERENCE 3.1, derived there: 1.5 mrad, 1.2192 along, 0.3048 across
    blocks.mold.deck_size_mm = Vec2{812.8, 203.2};
    blocks.press.jacks[1].foot_mm.z = 1.2;
    const LevelMeasure along = measure_level(blocks.made(), assemble(blocks.made()));
    CHECK(within(along.over_deck.value, 1.2192, 1e-9));
    CHECK(within(along.nominal_over_deck_mm, 1.2192, 1e-9));
    CHECK(along.spread_over_deck_mm == 0.0);
    CHECK(near(along.lower_by_mm, 1.2, 1e-9));
    CHECK(along.lower_jack == "left jack");

    blocks.setup.openings.front().turn_rad = glm::radians(90.0); // the deck's width now lies along the jacks
    CHECK(within(measure_level(blocks.made(), assemble(blocks.made())).over_deck.value, 0.3048, 1e-9));
}

TEST_CASE("3.2 level: a rate that may stray by 1 % over the closing travel") {
    BlockSetup blocks;
    blocks.mold.deck_size_mm = Vec2{800, 200};
    for (ScrewJack& jack : blocks.press.jacks) {
        jack.rate_tolerance = 0.005; // one slow, the other fast: 1 % between them, lag = stroke (1 - r2 / r1)
    }
    const LevelMeasure measure = measure_level(blocks.made(), assemble(blocks.made()));
    CHECK(within(measure.over_deck.value, 1.0, 1e-9)); // 100 of travel, 1 %
    CHECK(measure.over_deck.at.mm == doctest::Approx(100));
    CHECK(within(measure.spread_over_deck_mm, 1.0, 1e-9));
    CHECK(measure.nominal_over_deck_mm == 0.0);
    const Finding finding = level_of(blocks).front();
    CHECK(finding.verdict == Verdict::marginal); // 0.5 allowed, 1.0 is twice that
    CHECK(shown(finding.remedy) == "Match the jacks' rates to within 0.25 % of each other, or couple their screws.");
}

TEST_CASE("level: verdicts at and beyond the limit, and the shim that cures it") {
    struct Row {
        double higher_mm;
        Verdict verdict;
    };
    const Row rows[] = {{0, Verdict::go}, {0.5, Verdict::go}, {0.6, Verdict::marginal}, {1.01, Verdict::no_go}};
    for (const Row& row : rows) {
        CAPTURE(row.higher_mm);
        BlockSetup blocks;
        blocks.mold.deck_size_mm = Vec2{800, 200};
        blocks.press.jacks[0].foot_mm.z = row.higher_mm;
        const Finding finding = level_of(blocks).front();
        CHECK(finding.verdict == row.verdict);
        if (row.verdict != Verdict::go) {
            const std::string shim = "Shim " + length_mark(row.higher_mm);
            CHECK(shown(finding.remedy).starts_with(shown(shim).substr(0, 9)));
            CHECK(finding.remedy.find("right jack") != std::string::npos);
            // Do what it says, and it is level.
            blocks.press.jacks[1].foot_mm.z += row.higher_mm;
            CHECK(level_of(blocks).front().verdict == Verdict::go);
        }
    }
}

TEST_CASE("4.2 level: a guide binds where the platen tilts more than its play allows") {
    BlockSetup blocks;
    blocks.setup.limits.level_over_deck_mm = 100;
    blocks.press.guides = {guide(20.5, 60)}; // allows 0.0083215994, jacks may differ by 6.6574
    struct Row {
        double higher_mm;
        Verdict verdict;
    };
    const Row rows[] = {
        {4.6, Verdict::go}, {4.7, Verdict::marginal}, {6.65, Verdict::marginal}, {6.66, Verdict::no_go}};
    for (const Row& row : rows) {
        CAPTURE(row.higher_mm);
        blocks.press.jacks[1].foot_mm.z = row.higher_mm;
        const Finding finding = level_of(blocks)[1];
        CHECK(finding.verdict == row.verdict);
        CHECK(within(*finding.limit, tilt_until_contact_rad(20.5, 20, 60), 1e-12));
    }
}

TEST_CASE("level: the tightest guide is named; without guides that question is not checked") {
    BlockSetup blocks;
    blocks.press.guides = {guide(21, 60), guide(20.2, 100)};
    blocks.press.guides[1].name = "tight guide";
    CHECK(level_of(blocks)[1].bodies == std::vector<std::string>{"tight guide"});
    blocks.press.guides.clear();
    const Finding finding = level_of(blocks)[1];
    CHECK(finding.verdict == Verdict::not_checked);
    CHECK(finding.why.find("guides") != std::string::npos);
}

} // namespace evenclose
