#include "checks/level/level.hpp"
#include "checks/level/level_curves.hpp"
#include "checks/phrase.hpp"
#include "scene/press/guide_limits.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>
#include <string>

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

/// The first finding whose title holds this; there must be one.
Finding titled(const std::vector<Finding>& findings, const char* words) {
    for (const Finding& finding : findings) {
        if (shown(finding.title).find(words) != std::string::npos) {
            return finding;
        }
    }
    std::string all;
    for (const Finding& finding : findings) {
        all += "\n" + shown(finding.title);
    }
    FAIL("no finding \"" << words << "\" among" << all);
    throw std::logic_error(words);
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
    for (Jack& jack : blocks.press.jacks) {
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
        const Finding finding = titled(level_of(blocks), "allows");
        CHECK(finding.verdict == row.verdict);
        CHECK(within(*finding.limit, tilt_until_contact_rad(20.5, 20, 60), 1e-12));
    }
}

TEST_CASE("level: the tightest guide is named, without guides that question is not checked") {
    BlockSetup blocks;
    blocks.press.guides = {guide(21, 60), guide(20.2, 100)};
    blocks.press.guides[1].name = "tight guide";
    CHECK(titled(level_of(blocks), "allows").bodies == std::vector<std::string>{"tight guide"});
    blocks.press.guides.clear();
    const Finding finding = titled(level_of(blocks), "was not checked");
    CHECK(finding.verdict == Verdict::not_checked);
    CHECK(finding.why.find("guides") != std::string::npos);
}

namespace {

/// Two motors of 2 %, threads of known friction.
BlockSetup with_motors() {
    BlockSetup blocks;
    blocks.mold.deck_size_mm = Vec2{800, 200};
    for (Jack& jack : blocks.press.jacks) {
        jack.kind = ScrewJack{{4, 1, ThreadForm::trapezoidal, 0.15, 0, 0}, 80, 20, 60, 10}; // REFERENCE 1.6
    }
    blocks.press.drives = {{"left motor", {0}, 1.0, 0.02, 1.0, {}}, {"right motor", {1}, 1.0, 0.02, 1.0, {}}};
    return blocks;
}

} // namespace

TEST_CASE("3.6, 3.7 level: with the link shaft the tilt is bounded over the travel, without it it grows, taking it out "
          "turns go into no-go") {
    BlockSetup blocks = with_motors();
    blocks.press.link_shafts = {
        {"link shaft", 0, 1, {RoundShaft{25, 21}, 800, 79300, {PinCoupling{0.3, 15}, PinCoupling{0.3, 15}}}, {}}};
    const std::vector<Finding> with = level_of(blocks);
    CHECK(with.front().verdict == Verdict::go);
    // phi = T L / G J + plays, J = pi/32 (25^4 - 21^4); lag = 4 phi / 2 pi over the deck as long as the jacks are apart.
    const double j = 3.14159265358979 / 32 * (390625.0 - 194481.0);
    const double lag = 4 * (41136.7 * 800 / (79300 * j) + 0.04) / (2 * 3.14159265358979);
    CHECK(within(*with.front().value, lag, 1e-5));
    const Finding buys = titled(with, "hold the deck's ends");
    CHECK(buys.verdict == Verdict::go);
    CHECK(within(*buys.limit, 4.0, 1e-9)); // 100 of travel, 2 % fast against 2 % slow

    const Setup& setup = blocks.made();
    const std::vector<LevelCurve> curves = level_curves(setup, assemble(setup));
    REQUIRE(curves.size() == 2);
    CHECK(curves[0].source == LevelSource::unlinked);
    CHECK_FALSE(curves[0].counts);
    CHECK(curves[1].source == LevelSource::linked);
    CHECK(curves[1].counts);
    double before = -1;
    for (const LevelPoint& point : curves[0].points) {
        CHECK(point.high_over_deck_mm > before); // grows all the way
        before = point.high_over_deck_mm;
        CHECK(near(point.high_over_deck_mm, 0.04 * point.at.mm, 1e-9));
        CHECK(near(point.low_over_deck_mm, -point.high_over_deck_mm, 1e-9));
    }
    for (const LevelPoint& point : curves[1].points) {
        CHECK(point.high_over_deck_mm <= lag * (1 + 1e-5)); // bounded
        CHECK(point.nominal_over_deck_mm == 0);
    }
    CHECK(curves[1].points.back().at.mm == doctest::Approx(100));

    blocks.press.link_shafts.clear();
    const Finding without = level_of(blocks).front();
    CHECK(without.verdict == Verdict::no_go);
    CHECK(within(*without.value, 4.0, 1e-9));
    CHECK(shown(without.remedy).find("couple their screws by a steel") != std::string::npos);
}

TEST_CASE("level: the shaft it names would do, and one size less would not, the play it names is the most") {
    BlockSetup blocks = with_motors();
    blocks.setup.limits.level_over_deck_mm = 0.1;
    const Setup& setup = blocks.made();
    const ShaftFound found = shaft_that_would_do(setup, assemble(setup), 0.1);
    REQUIRE(found.found);
    CHECK(found.section == "steel tube 20 x 2 mm"); // a bar of 12 twists by 0.204 rad = 0.13 mm by T L / G J
    blocks.press.link_shafts = {
        {"tried", 0, 1, {RoundShaft{20, 16}, 800, 79300, {AngleCoupling{found.most_play_rad}}}, {}}};
    CHECK(level_of(blocks).front().verdict == Verdict::go);
    CHECK(*level_of(blocks).front().value > 0.0999);
    blocks.press.link_shafts[0].shaft.section = RoundShaft{12};
    blocks.press.link_shafts[0].shaft.couplings.clear();
    const Finding thin = level_of(blocks).front();
    CHECK(thin.verdict != Verdict::go);
    CHECK(thin.remedy.find("steel tube 20 x 2 mm") != std::string::npos); // and says so
    // Threads whose friction nobody gave: no shaft can be tried.
    std::get<ScrewJack>(blocks.press.jacks[0].kind).thread.friction.reset();
    const Setup& silent = blocks.made();
    CHECK_FALSE(shaft_that_would_do(silent, assemble(silent), 0.1).found);
    const Finding uncounted = titled(level_of(blocks), "not counted");
    CHECK(uncounted.verdict == Verdict::not_checked);
    CHECK(uncounted.why.find("left jack") != std::string::npos);
    CHECK(level_of(blocks).front().verdict == Verdict::no_go); // judged as without it
}

TEST_CASE("level: the speed it names brings the slower side level") {
    BlockSetup blocks = with_motors();
    for (Drive& drive : blocks.press.drives) {
        drive.tolerance = 0;
    }
    blocks.press.drives[1].speed = 0.98;
    const Finding slow = level_of(blocks).front();
    CHECK(slow.verdict == Verdict::no_go);
    CHECK(
        shown(slow.remedy).starts_with("Run right motor at 1.0204 times its speed, or shim 2.02 mm under right jack"));
    blocks.press.drives[1].speed *= 1.0204;
    CHECK(level_of(blocks).front().verdict == Verdict::go);
    CHECK(*level_of(blocks).front().value < 0.005);
}

TEST_CASE("level: what guides let the platen rock across the jacks' line is told by itself, and is no no-go") {
    BlockSetup blocks;
    blocks.mold.deck_size_mm = Vec2{800, 200};
    blocks.press.guides = {guide(20.5, 60)};
    const Finding rocks = titled(level_of(blocks), "let the platen rock");
    CHECK(rocks.verdict == Verdict::marginal);
    CHECK(within(*rocks.value, 200 * std::tan(0.0083215994), 1e-8)); // REFERENCE 4.2
    CHECK(level_of(blocks).front().verdict == Verdict::go);          // along the jacks it is level
    blocks.press.guides = {guide(20.1, 100)};
    CHECK(titled(level_of(blocks), "let the platen rock").verdict == Verdict::go);
    // Four jacks hold it both ways.
    blocks.press.guides = {guide(20.5, 60)};
    blocks.press.jacks.push_back(blocks.press.jacks[0]);
    blocks.press.jacks.push_back(blocks.press.jacks[1]);
    for (std::size_t i = 0; i < 4; ++i) {
        blocks.press.jacks[i].foot_mm.y = i < 2 ? -100 : 100;
    }
    for (const Finding& finding : level_of(blocks)) {
        CHECK(finding.title.find("rock") == std::string::npos);
    }
}

TEST_CASE(
    "4.1 level: a guide binds by friction at L / 2 mu from its axis, the nearest jack's lever is held against it") {
    struct Row {
        double friction, limit_mm;
        Verdict verdict;
    };
    // The guide stands 160 from the left jack; 60 long.
    const Row rows[] = {{0.10, 300, Verdict::go},
                        {0.15, 200, Verdict::marginal},
                        {0.20, 150, Verdict::no_go},
                        {0.25, 120, Verdict::no_go}};
    for (const Row& row : rows) {
        CAPTURE(row.friction);
        BlockSetup blocks;
        blocks.press.guides = {guide(20.5, 60)};
        blocks.press.guides[0].friction = row.friction;
        const Finding finding = titled(level_of(blocks), "friction");
        CHECK(finding.verdict == row.verdict);
        CHECK(near(*finding.limit, row.limit_mm, 1e-9));
        CHECK(near(*finding.value, 160, 1e-9));
        CHECK(finding.bodies == std::vector<std::string>{"left guide"});
    }
    BlockSetup silent;
    silent.press.guides = {guide(20.5, 60)};
    CHECK(titled(level_of(silent), "friction").verdict == Verdict::not_checked);
}

TEST_CASE("level: a sleeve that runs off its post, at which travel") {
    BlockSetup blocks;
    blocks.press.guides = {guide(20.5, 60)};
    blocks.press.guides[0].friction = 0.1;
    blocks.press.guides[0].post_to_z_mm = 410; // face at 340 + 100 when closed: 30 of 60 left
    const Finding leaves = titled(level_of(blocks), "is still on its post");
    CHECK(leaves.verdict == Verdict::marginal);
    CHECK(near(*leaves.value, 30, 1e-9));
    CHECK(near(leaves.travel->from.mm, 100, 1e-9));
    CHECK(near(*titled(level_of(blocks), "friction").limit, 30 / 0.2, 1e-9)); // the lever halves with it
    blocks.press.guides[0].post_to_z_mm = 370;
    CHECK(titled(level_of(blocks), "comes off its post").verdict == Verdict::no_go);
    for (const Finding& finding : level_of(blocks)) { // what is off its post cannot bind, nor allow a tilt
        CHECK(finding.title.find("bind") == std::string::npos);
        CHECK(finding.title.find("allows") == std::string::npos);
        CHECK((!finding.limit || std::isfinite(*finding.limit)));
    }
}

TEST_CASE("3.4, 3.5 level: of four and of five jacks, which one stands how far out of the plane of the others") {
    BlockSetup blocks;
    blocks.mold.deck_size_mm = Vec2{800, 200};
    const auto jacks_at = [&](const std::vector<Vec3>& heads) { // REFERENCE 3.4, 3.5: heads about 100
        const Jack like = blocks.press.jacks.front();
        blocks.press.jacks.clear();
        for (const Vec3& head : heads) {
            Jack jack = like;
            jack.name = "jack " + std::to_string(blocks.press.jacks.size() + 1);
            jack.foot_mm = {head.x, head.y, head.z - 100};
            blocks.press.jacks.push_back(jack);
        }
    };
    jacks_at({{-400, -100, 100.0}, {400, -100, 100.6}, {-400, 100, 100.1}, {400, 100, 101.1}});
    const LevelMeasure four = measure_level(blocks.made(), assemble(blocks.made()));
    REQUIRE(four.off_plane);
    // Residuals are 0.1 each; the plane of three puts the fourth at 100.6 + 100.1 - 100.0 = 100.7: it is 0.4 off.
    CHECK(near(std::abs(four.off_plane->above_mm), 0.4, 1e-9));
    CHECK(titled(level_of(blocks), "All 4 jacks bear").verdict == Verdict::go);
    jacks_at({{-400, -100, 100.0}, {400, -100, 100.6}, {-400, 100, 100.1}, {400, 100, 101.1}, {50, 20, 100.9}});
    const LevelMeasure five = measure_level(blocks.made(), assemble(blocks.made()));
    REQUIRE(five.off_plane);
    CHECK(five.off_plane->jack == "jack 5");
    // REFERENCE 3.4: the other four's plane is 100.45 + 0.001 x + 0.0015 y: 100.53 there.
    CHECK(near(five.off_plane->above_mm, 0.37, 1e-9));
    jacks_at({{-400, -100, 100.0}, {400, -100, 100.6}, {-400, 100, 100.1}, {400, 100, 101.9}});
    const Finding twisted = titled(level_of(blocks), "the plane of the other jacks");
    CHECK(twisted.verdict == Verdict::marginal);
    CHECK(near(*twisted.value, 1.2, 1e-9));
    // Do what it says, and all bear.
    const double shim = *twisted.value * (twisted.remedy.starts_with("Shim") ? 1 : -1);
    for (Jack& jack : blocks.press.jacks) {
        jack.foot_mm.z += jack.name == twisted.bodies.front() ? shim : 0.0;
    }
    CHECK(near(*titled(level_of(blocks), "All 4 jacks bear").value, 0, 1e-9));
    blocks.press.jacks.pop_back();
    CHECK_FALSE(measure_level(blocks.made(), assemble(blocks.made())).off_plane); // three lie in a plane
}

TEST_CASE("level: rams on one pump are told of a flow divider, not of a shaft that nothing could turn") {
    BlockSetup blocks;
    blocks.mold.deck_size_mm = Vec2{800, 200};
    for (Jack& jack : blocks.press.jacks) {
        jack.kind = CylinderJack{{80, 45}, 100, 70, 15};
    }
    blocks.press.drives = {{"pump", {0, 1}, 33333, 0.02, 1, {}}};
    const Finding finding = level_of(blocks).front();
    CHECK(finding.verdict == Verdict::no_go);
    CHECK(within(*finding.value, 4.0, 1e-9)); // 100 of travel, each 2 % off: 4 mm over jacks 800 apart
    CHECK(finding.remedy.find("flow divider") != std::string::npos);
    CHECK(finding.remedy.find("screw") == std::string::npos);
}

TEST_CASE("level: measured heights are judged in place of the model") {
    BlockSetup blocks;
    blocks.mold.deck_size_mm = Vec2{800, 200};
    blocks.press.jacks[0].rate_tolerance = 0.05; // would be far out
    blocks.press.measured_heights = MeasuredHeights{"", {0, 120}, {{300, 300.1}, {420, 420.3}}, 0.02};
    const Finding finding = level_of(blocks).front();
    // Closed when the middle has risen 260 - 160 less what it stands higher at first: 99.95 of 120.1 mm.
    const double share = 99.95 / 120.1;
    CHECK(within(*finding.value, 0.1 + 0.2 * share + 0.04, 1e-9));
    CHECK(finding.verdict == Verdict::go);
    CHECK(finding.why.find("readings") != std::string::npos);
    blocks.press.measured_heights->spread_mm = 0.3;
    CHECK(level_of(blocks).front().verdict == Verdict::marginal);
    CHECK(shown(level_of(blocks).front().remedy).find("ead the heights more closely") != std::string::npos);
}

} // namespace evenclose
