#include "checks/phrase.hpp"
#include "checks/pressure/deck_cells.hpp"
#include "checks/pressure/pressure.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>

namespace evenclose {

using test::BlockSetup;
using test::near;
using test::within;

namespace {

PressureMeasure pressure_of(BlockSetup& blocks) { return measure_pressure(blocks.made(), assemble(blocks.made())); }

std::vector<Finding> findings_of(BlockSetup& blocks) {
    const Setup& setup = blocks.made();
    const Assembly assembly = assemble(setup);
    return judge(measure_pressure(setup, assembly), setup, assembly);
}

/// A press whose moving parts weigh nothing: force is what the jacks give.
BlockSetup weightless() {
    BlockSetup blocks;
    blocks.press.platen.material = "";
    return blocks;
}

} // namespace

TEST_CASE("6.2 pressure: two jacks of 20 kN on a deck of 32 x 8 in press with 0.242188 MPa") {
    BlockSetup blocks = weightless();
    blocks.mold.deck_size_mm = Vec2{32 * 25.4, 8 * 25.4};
    const PressureMeasure measure = pressure_of(blocks);
    CHECK(within(measure.force_N, 40000, 1e-12));
    CHECK(near(measure.mean_MPa, 0.242188, 0.5e-6)); // REFERENCE 6.2
    CHECK(shown("{MPa:" + std::to_string(measure.mean_MPa) + "}", UnitSystem::inch) == "35 psi");
    CHECK(within(measure.least_MPa, measure.mean_MPa, 1e-9));
}

TEST_CASE("6.1 pressure: 150 psi on 32 x 8 in takes 170.8 kN, and the remedy says so") {
    BlockSetup blocks = weightless();
    blocks.mold.deck_size_mm = Vec2{32 * 25.4, 8 * 25.4};
    blocks.mold.stack.glue_pressure_MPa = 150 * kMPaPerPsi;
    const Finding glue = findings_of(blocks).front();
    CHECK(glue.verdict == Verdict::no_go);
    CHECK(within(pressure_of(blocks).total_for_N(150 * kMPaPerPsi), 38400 * kNPerPoundForce, 1e-12)); // REFERENCE 6.1
    CAPTURE(shown(glue.remedy));
    CHECK(shown(glue.remedy).find("170.8 kN") != std::string::npos);
    CHECK(shown(glue.remedy).find("2 jacks rated 86 kN each") != std::string::npos); // 85.4 each
    CHECK(shown(glue.remedy, UnitSystem::inch).find("38400 lbf") != std::string::npos);
    // 85.4 kN over the bore of 125 mm (12271.846 mm2, REFERENCE 2.7) is 6.96 MPa.
    CHECK(shown(glue.remedy).find("2 cylinders of 125 mm bore at 6.96 MPa") != std::string::npos);
}

TEST_CASE("7.5 pressure: the deck 40 off the middle of two jacks 800 apart, shares 0.55 and 0.45") {
    BlockSetup blocks = weightless();
    blocks.setup.openings = {Opening{{}, nullptr, {40, 0}, 0}};
    const PressureMeasure measure = pressure_of(blocks);
    CHECK(within(measure.jacks[1].share, 0.55, 1e-12));
    CHECK(within(measure.jacks[0].share, 0.45, 1e-12));
    // The right jack is at its 20 kN when both give 20 / 0.55.
    CHECK(within(measure.available_N, 20000 / 0.55, 1e-12));
    CHECK(measure.limit.by == "right jack");
    CHECK(near(measure.eccentricity_mm.x, 40, 1e-9));
}

TEST_CASE(
    "7.2 pressure: driven alike, 60 kN on 800 x 200 off by 40 press with 0.4875 and 0.2625, off by 200 on 600 mm") {
    BlockSetup blocks = weightless();
    blocks.mold.deck_size_mm = Vec2{800, 200};
    blocks.setup.closing_force_N = 60000;
    for (Jack& jack : blocks.press.jacks) {
        jack.rated_load_N = 100000;
    }
    blocks.setup.openings = {Opening{{}, nullptr, {40, 0}, 0}};
    PressureMeasure measure = pressure_of(blocks);
    CHECK(within(measure.greatest_MPa, 0.4875, 1e-3)); // REFERENCE 7.2; cells of 8 mm
    CHECK(within(measure.least_MPa, 0.2625, 1e-3));
    blocks.setup.openings = {Opening{{}, nullptr, {-200, 0}, 0}};
    measure = pressure_of(blocks);
    CHECK(within(measure.greatest_MPa, 1.0, 5e-3));
    REQUIRE(measure.map);
    CHECK(near(measure.map->contact_share, 0.75, 0.01));
    const std::vector<Finding> findings = findings_of(blocks);
    CHECK(findings.back().verdict == Verdict::marginal);
    CHECK(findings.back().title.find("25 % of it without pressure") != std::string::npos);

    // Turned a quarter the deck's width lies along the jacks: 200 off 100 is outside it.
    blocks.setup.openings = {Opening{{}, nullptr, {-200, 0}, glm::radians(90.0)}};
    CHECK_FALSE(pressure_of(blocks).map);
    CHECK(findings_of(blocks).back().title.find("tip") != std::string::npos);
}

TEST_CASE("pressure: weights are taken off, and a stated mass counts before volume times density") {
    BlockSetup blocks;                  // platen 1000 x 300 x 40 of steel, 7850 kg/m3: 94.2 kg
    blocks.mold.lower.material = "PLA"; // 700 x 200 x 80, 1240 kg/m3: 13.888 kg
    const MovingWeights weights = pressure_of(blocks).weights;
    CHECK(within(weights.platen_N, 94.2 * 9.80665, 1e-9));
    CHECK(within(weights.lower_half_N, 13.888 * 9.80665, 1e-9));
    CHECK(weights.left_out.empty());
    CHECK(within(pressure_of(blocks).force_N, 40000 - weights.all_N(), 1e-12));
    blocks.press.platen.mass_kg = 50;
    CHECK(within(pressure_of(blocks).weights.platen_N, 50 * 9.80665, 1e-12));
    blocks.mold.lower.material = "unobtainium";
    CHECK(pressure_of(blocks).weights.left_out.size() == 1);
}

TEST_CASE("pressure: the glue's sheet first, the handbook's band second and never a no-go") {
    BlockSetup blocks = weightless(); // 40 kN over 700 x 200: 0.2857 MPa
    struct Row {
        std::optional<double> asked;
        Verdict verdict;
    };
    for (const Row& row : {Row{std::nullopt, Verdict::marginal}, Row{0.28, Verdict::go}, Row{0.30, Verdict::marginal},
                           Row{0.40, Verdict::no_go}}) {
        CAPTURE(row.asked.value_or(-1));
        blocks.mold.stack.glue_pressure_MPa = row.asked;
        CHECK(findings_of(blocks).front().verdict == row.verdict);
    }
    // Birch between the light woods' 0.7 MPa and the densest woods' 1.7 MPa (REFERENCE 6).
    const GlueBand band = glue_band(blocks.mold.stack);
    CHECK(band.species == "birch");
    CHECK(band.least_MPa > 0.7);
    CHECK(band.most_MPa <= 1.7);
    CHECK(glue_band({{{1.5, "moonwood", Grain::along}}, 0, 0}).species.empty());
}

TEST_CASE("pressure: a stated force that overloads one jack is a no-go with the load that would do") {
    BlockSetup blocks = weightless();
    blocks.setup.closing_force_N = 38000;
    blocks.mold.stack.glue_pressure_MPa = 0.25;
    CHECK(findings_of(blocks)[1].verdict == Verdict::go);       // 19 of 20 each
    blocks.setup.openings = {Opening{{}, nullptr, {80, 0}, 0}}; // 0.6: 22.8
    const Finding jacks = findings_of(blocks)[1];
    CHECK(jacks.verdict == Verdict::no_go);
    CHECK(jacks.bodies == std::vector<std::string>{"right jack"});
    CHECK(shown(jacks.remedy).find("33.3 kN") != std::string::npos); // 20 / 0.6
    CHECK(shown(jacks.remedy).find("23 kN") != std::string::npos);
    blocks.setup.openings = {Opening{{}, nullptr, {500, 0}, 0}}; // beyond the right jack
    CHECK(findings_of(blocks)[1].title.find("left jack would have to pull") == 0);
}

TEST_CASE("pressure: a pump that gives less than the rated load sets the force, by bore and pressure") {
    BlockSetup blocks = weightless();
    for (Jack& jack : blocks.press.jacks) {
        jack.kind = CylinderJack{{80, 45}, 100, 60, 10};
        jack.rated_load_N = 80000;
    }
    Drive pump;
    pump.name = "pump";
    pump.jacks = {0, 1};
    pump.speed = 1e5;
    pump.limit = 10.0;
    blocks.press.drives = {pump};
    const PressureMeasure measure = pressure_of(blocks);
    CHECK(within(measure.available_N, 2 * 10 * 5026.548, 1e-6)); // REFERENCE 2.7: bore 80
    CHECK(measure.limit.drive);
    CHECK(measure.limit.by == "pump");
}

TEST_CASE("6.3 pressure: a stadium by its corners is pressed over its own area, on its own middle, to its own rim") {
    BlockSetup blocks = weightless();
    // 32 x 8 in with half-round ends (REFERENCE 6.3: 156 299.9987 mm2), the ends by 90 corners each.
    const double L = 812.8;
    const double B = 203.2;
    std::vector<Vec2> outline;
    for (int i = 0; i <= 180; ++i) {
        const double angle = (i - 45 * 2) * 3.14159265358979 / 180;
        outline.push_back({0.5 * (L - B) + 0.5 * B * std::cos(angle), 0.5 * B * std::sin(angle)});
    }
    for (int i = 0; i <= 180; ++i) {
        const double angle = (i + 45 * 2) * 3.14159265358979 / 180;
        outline.push_back({-0.5 * (L - B) + 0.5 * B * std::cos(angle), 0.5 * B * std::sin(angle)});
    }
    blocks.mold.deck_outline_mm = outline;
    blocks.setup.closing_force_N = 30000;
    PressureMeasure measure = pressure_of(blocks);
    CHECK(within(measure.area_mm2, 156299.9987, 1e-4)); // of the polygon
    REQUIRE(measure.map);
    CHECK(within(measure.least_MPa, 30000 / measure.area_mm2, 1e-9));
    CHECK(within(measure.greatest_MPa, 30000 / measure.area_mm2, 1e-9));
    // Off by e along it, inside the kern: q = F/A (1 +- e x A / I), I of a rectangle and two half discs (parallel axes, half
    // disc about its own centroid r^4 (pi/8 - 8 / 9 pi)).
    const double r = 0.5 * B;
    const double a = L - B;
    const double pi = 3.14159265358979;
    const double disc = r * r * r * r * (pi / 8 - 8 / (9 * pi));
    const double arm = 0.5 * a + 4 * r / (3 * pi);
    const double I = B * a * a * a / 12 + 2 * (disc + 0.5 * pi * r * r * arm * arm);
    const double e = 30;
    blocks.setup.openings = {Opening{{}, nullptr, {e, 0}, 0}};
    measure = pressure_of(blocks);
    REQUIRE(measure.map);
    const double lean = e * 0.5 * L * measure.area_mm2 / I;
    CHECK(within(measure.greatest_MPa, 30000 / measure.area_mm2 * (1 + lean), 2e-3));
    CHECK(within(measure.least_MPa, 30000 / measure.area_mm2 * (1 - lean), 5e-3));
    CHECK(within(measure.kern, lean, 2e-3));
}

TEST_CASE("pressure: a deck that is a triangle is pressed on its centroid, not on the middle of its box") {
    BlockSetup blocks = weightless();
    blocks.mold.deck_outline_mm = {{-300, -90}, {300, -90}, {-300, 90}}; // centroid at -100, -30
    const PressureMeasure measure = pressure_of(blocks);
    CHECK(within(measure.area_mm2, 54000, 1e-12));
    CHECK(within(measure.jacks[0].share, 0.5 + 100.0 / 800, 1e-12)); // jacks 800 apart
    CHECK(near(measure.eccentricity_mm.x, -100, 1e-9));
    CHECK(near(measure.eccentricity_mm.y, -30, 1e-9));
    double area = 0;
    Vec2 sum{0.0};
    for (const FootprintCell& cell : deck_cells(measure.deck, 60, 20)) {
        area += cell.area_mm2;
        sum += cell.area_mm2 * measure.deck.world_mm(cell.at_mm);
    }
    CHECK(within(area, 54000, 1e-12));
    CHECK(near(sum.x / area, -100, 1));
    CHECK(near(sum.y / area, -30, 0.5));
}

} // namespace evenclose
