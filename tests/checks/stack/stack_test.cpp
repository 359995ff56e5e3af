#include "checks/stack/stack.hpp"

#include "checks/check_list.hpp"
#include "checks/phrase.hpp"
#include "checks/stack/lifting_limit.hpp"
#include "checks/stack/platen_bend.hpp"
#include "checks/weights.hpp"
#include "tests/checks/stack/stacked_blocks.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

using namespace evenclose;
using namespace evenclose::test;

namespace {

constexpr double kG = 9.80665;

std::vector<Finding> judged(const StackedBlocks& blocks) {
    const Assembly assembly = assemble(blocks.setup);
    return judge(measure_stack(blocks.setup, assembly), blocks.setup, assembly);
}

const Finding& about(const std::vector<Finding>& findings, const std::string& words) {
    for (const Finding& finding : findings) {
        if (shown(finding.title).find(words) != std::string::npos) {
            return finding;
        }
    }
    std::string all;
    for (const Finding& finding : findings) {
        all += shown(finding.title) + "\n";
    }
    FAIL("nothing says \"" << words << "\":\n" << all);
    throw std::logic_error(words);
}

} // namespace

TEST_CASE(
    "REFERENCE 15.1: 60 kN at the head, molds of 18 kg, platens of 22 and 40: what each opening and the jacks bear") {
    StackedBlocks blocks(3);
    // The mold's weight lies in its lower half: 18 kg of steel (7850 kg/m3) in 700 x 200 on plan.
    const double high = 18.0 / 7850 * 1e9 / (700 * 200);
    BlockSetup::half(blocks.mold.lower, {-350, -100, 0}, {350, 100, high});
    blocks.mold.lower.material = "S235";
    const auto mold = std::make_shared<const Mold>(blocks.mold);
    for (Opening& opening : blocks.setup.openings) {
        opening.mold = mold;
    }
    for (IntermediatePlaten& platen : blocks.setup.intermediate_platens) {
        platen.plate.mass_kg = 22;
    }
    blocks.press.platen.mass_kg = 40;
    blocks.setup.closing_force_N = 60000;
    const Assembly assembly = assemble(blocks.made_anew());
    const StackMeasure measure = measure_stack(blocks.setup, assembly);
    CHECK(near(measure.openings[2].force_N, 60000, 1e-9));
    CHECK(near(measure.openings[1].force_N, 60392.266, 1e-6)); // printed to three places
    CHECK(near(measure.openings[0].force_N, 60784.532, 1e-6));
    CHECK(near(measure.jacks_N, 61353.3177, 1e-6));
    CHECK(near(measure.openings[0].force_N, 60000 + 2 * (18 + 22) * kG, 1e-7));
    CHECK(near(measure.jacks_N, 60000 + (3 * 18 + 2 * 22 + 40) * kG, 1e-7));
    CHECK(near(measure.openings[0].pressure_MPa, measure.openings[0].force_N / (700.0 * 200), 1e-12));
    CHECK(measure.weakest == 2);
    CHECK(near(measure.stroke_needed_mm, 120, 1e-9));
    CHECK(near(measure.closed_mm, 320, 1e-9));
}

TEST_CASE("stack: nothing is said of one opening, three alike are a go, and say when each closes") {
    CHECK(judged(StackedBlocks(1)).empty());
    StackedBlocks blocks(3);
    blocks.mold.stack.glue_pressure_MPa = 0.4;
    blocks.mold.lower.material = blocks.mold.upper.material = "PLA"; // 5.6 dm3 each: 6.9 kg
    for (Opening& opening : blocks.setup.openings) {
        opening.mold = std::make_shared<const Mold>(blocks.mold);
    }
    const std::vector<Finding> findings = judged(blocks);
    CHECK(shown(about(findings, "close from below").title) ==
          "3 openings close from below, after 40 mm, 80 mm and 120 mm of travel");
    CHECK(about(findings, "close from below").verdict == Verdict::go);
    CHECK(near(about(findings, "close from below").margin.value_or(0), 30, 1e-9));
    const Finding& thickness = about(findings, "out of thickness");
    CHECK(thickness.verdict == Verdict::go);
    CHECK(near(thickness.value.value_or(0), 3 * 0.3, 1e-12));
    CHECK(near(thickness.margin.value_or(0), 30 - 0.9, 1e-9));
    CHECK(about(findings, "is pressed least").verdict == Verdict::go);
    CHECK(about(findings, "closes last").verdict == Verdict::go);
    CHECK(near(about(findings, "closes last").value.value_or(0), 0.3 * std::sqrt(2.0), 1e-12));
    CHECK(std::none_of(findings.begin(), findings.end(),
                       [](const Finding& f) { return f.title.find("unlike") != std::string::npos; }));
}

TEST_CASE("stack: a stroke that ends early, and a rest that is too low") {
    StackedBlocks blocks(3);
    for (Jack& jack : blocks.press.jacks) {
        jack.stroke_mm = 100;
    }
    blocks.made_anew();
    const std::vector<Finding> short_stroke = judged(blocks);
    const Finding& order = about(short_stroke, "Only 2 of 3 openings close");
    CHECK(order.verdict == Verdict::no_go);
    CHECK(near(order.margin.value_or(0), -20, 1e-9));

    StackedBlocks low(3);
    low.setup.intermediate_platens[0].rest_z_mm = 340 + 90 - 7;
    const std::vector<Finding> rest = judged(low);
    const Finding& finding = about(rest, "The rest of intermediate platen 1 is 7 mm too low");
    CHECK(finding.verdict == Verdict::marginal);
    CHECK(near(finding.margin.value_or(0), -7, 1e-9));
}

TEST_CASE("stack: the weakest opening is the one whose deck is largest for what its glue asks") {
    StackedBlocks blocks(3);
    blocks.setup.closing_force_N = 56000; // 0.4 MPa over 700 x 200
    blocks.mold.stack.glue_pressure_MPa = 0.4;
    const auto usual = std::make_shared<const Mold>(blocks.mold);
    Mold wide = blocks.mold;
    wide.deck_size_mm = Vec2{700, 220};
    for (Opening& opening : blocks.setup.openings) {
        opening.mold = usual;
    }
    blocks.setup.openings[1].mold = std::make_shared<const Mold>(wide);
    const std::vector<Finding> findings = judged(blocks);
    const Finding& weakest = about(findings, "Opening 2 is pressed least");
    CHECK(weakest.verdict == Verdict::marginal); // 56 kN + what lies above: some 0.365 of 0.4
    const double area = 700.0 * 220;
    CHECK(weakest.value.value_or(0) > 56000 / area);
    CHECK(weakest.value.value_or(0) < 57000 / area);
}

TEST_CASE("a free beam between unlike decks against the cantilever formulas (Roark, Table 8.1 case 2)") {
    // Symmetric: its half is a cantilever from the middle. From below F over all of 800, from above F over the middle 400.
    const double F = 60000;
    const double EI = 210000.0 * 300 * 25 * 25 * 25 / 12;
    const double c = 400;
    const double b = 200;
    const double q_below = F / 800;
    const double q_above = F / 400;
    const double tip = (q_below * c * c * c * c / 8 - q_above * b * b * b * (4 * c - b) / 24) / EI;
    CHECK(within(free_beam_bend_mm({-400, 400}, {-200, 200}, F, EI), std::abs(tip), 1e-5));
    CHECK(within(free_beam_bend_mm({-200, 200}, {-400, 400}, F, EI), std::abs(tip), 1e-5)); // the other way up
    CHECK(near(free_beam_bend_mm({-400, 400}, {-400, 400}, F, EI), 0, 1e-12));
    CHECK(within(free_beam_bend_mm({-400, 400}, {-200, 200}, 2 * F, EI), 2 * std::abs(tip), 1e-5));
}

TEST_CASE("stack: unlike decks bend the platen between them, alike ones and steel unknown") {
    StackedBlocks blocks(2);
    Mold small = blocks.mold;
    small.deck_size_mm = Vec2{350, 200};
    blocks.setup.openings[1].mold = std::make_shared<const Mold>(small);
    blocks.setup.intermediate_platens[0].plate.material = "S235";
    blocks.setup.closing_force_N = 60000;
    std::vector<Finding> findings = judged(blocks);
    const Finding& bend = about(findings, "Between unlike molds intermediate platen 1 bends");
    const double EI = 210000.0 * 300 * 25 * 25 * 25 / 12;
    const double c = 350;
    const double b = 175;
    const double tip = (60000.0 / 700 * c * c * c * c / 8 - 60000.0 / 350 * b * b * b * (4 * c - b) / 24) / EI;
    CHECK(within(bend.value.value_or(0), std::abs(tip), 0.01)); // the opening below bears some more than the head
    blocks.setup.intermediate_platens[0].plate.material = "";
    findings = judged(blocks);
    CHECK(about(findings, "is not known").verdict == Verdict::not_checked);
}

TEST_CASE("stack: decks that stand beside one another press askew: 6 e / L of the kern") {
    struct Row {
        double off_mm;
        Verdict verdict;
    };
    const Row rows[] = {{20, Verdict::go}, {60, Verdict::marginal}, {130, Verdict::no_go}};
    for (const Row& row : rows) {
        CAPTURE(row.off_mm);
        StackedBlocks blocks(2);
        blocks.setup.openings[1].at_mm = {row.off_mm, 0};
        const std::vector<Finding> findings = judged(blocks);
        const Finding& askew = about(findings, "beside the mold below it");
        CHECK(near(askew.value.value_or(0), 100 * 6 * row.off_mm / 700, 1e-9));
        CHECK(askew.verdict == row.verdict);
    }
}

TEST_CASE(
    "the lifting limit: 23 kg near the body at knuckle height, 0.78 of it on the floor, 0.70 at 1750 (NIOSH 94-110)") {
    CHECK(near(lifting_limit_kg(750, 250), 23, 1e-12));
    CHECK(near(lifting_limit_kg(0, 250), 23 * 0.775, 1e-12)); // printed as 0.78
    CHECK(near(lifting_limit_kg(1750, 250), 23 * 0.70, 1e-12));
    CHECK(near(lifting_limit_kg(750, 500), 11.5, 1e-12));
    CHECK(lifting_limit_kg(1751, 250) == 0);
}

TEST_CASE("stack: the top of 20 openings is out of reach") {
    StackedBlocks blocks(20);
    blocks.mold.lower.material = blocks.mold.upper.material = "PLA";
    for (Opening& opening : blocks.setup.openings) {
        opening.mold = std::make_shared<const Mold>(blocks.mold);
    }
    const std::vector<Finding> findings = judged(blocks);
    const Finding& hands = about(findings, "nobody should lift a mold there");
    CHECK(hands.verdict == Verdict::no_go);
}

TEST_CASE("all checks over stacks of blocks: what is alike is said once, for the openings it is said of") {
    Progress progress;
    StackedBlocks one(1);
    one.press.load_from = PressSide::front;
    one.made_anew();
    const CheckResults single = run_checks(one.setup, assemble(one.setup), {}, progress);
    StackedBlocks many(12);
    many.press.load_from = PressSide::front;
    many.made_anew();
    const Assembly assembly = assemble(many.setup);
    const CheckResults stacked = run_checks(many.setup, assembly, {}, progress);
    for (const Finding& finding : single.findings) {
        CHECK(finding.openings.empty());
        CHECK(finding.check != "stack");
    }
    // Not 12 times the text: what is new is the stack's own, and the lowest or topmost opening where it differs.
    CHECK(stacked.findings.size() < 3 * single.findings.size());
    std::size_t of_all = 0;
    for (const Finding& finding : stacked.findings) {
        CAPTURE(shown(finding.title));
        of_all += finding.openings.size() == 12;
        for (const std::size_t opening : finding.openings) {
            CHECK(opening < 12);
        }
        for (const std::string& named : finding.bodies) {
            const bool known = std::any_of(assembly.bodies.begin(), assembly.bodies.end(),
                                           [&](const Body& body) { return body.name == named; });
            const bool no_body = named == "ply stack" || named.find("jack") != std::string::npos;
            CHECK((known || no_body));
        }
    }
    CHECK(of_all >= 4);
    for (const char* check : {"seat", "load-in", "daylight", "cavity", "bend", "release", "print", "pressure"}) {
        CAPTURE(check);
        std::vector<bool> told(12, false);
        for (const Finding& finding : stacked.findings) {
            for (const std::size_t opening : finding.openings) {
                if (finding.check == check) {
                    told[opening] = true;
                }
            }
        }
        CHECK(std::all_of(told.begin(), told.end(), [](bool each) { return each; }));
    }
    // A mold is measured once.
    REQUIRE(stacked.cavities.size() == 12);
    CHECK(stacked.cavities[0] == stacked.cavities[11]);
    CHECK(stacked.bends[0] == stacked.bends[11]);
}

TEST_CASE("daylight names the opening that is too low, with its own number") {
    StackedBlocks blocks(3);
    blocks.setup.intermediate_platens[0].rest_z_mm = 440; // opening 1: 100 for a sandwich of 90
    Progress progress;
    const CheckResults results =
        run_checks(blocks.setup, assemble(blocks.setup), {.only = {"daylight"}, .jobs = 0}, progress);
    const auto low = std::find_if(results.findings.begin(), results.findings.end(),
                                  [](const Finding& finding) { return finding.verdict == Verdict::marginal; });
    REQUIRE(low != results.findings.end());
    CHECK(low->openings == std::vector<std::size_t>{0});
    CHECK(near(low->value.value_or(0), 10, 1e-9));
    CHECK(shown(low->title).rfind("Opening 1: ", 0) == 0);
    CHECK(low->bodies == std::vector<std::string>{"intermediate platen 1", "platen"});
}

TEST_CASE("travel: a bolt that one opening's upper half meets on its way, named with the opening") {
    StackedBlocks blocks(3);
    // Opening 2's upper half hangs at 585 to 625, rises by 40 after 80 of travel; the bolt lies over it at 640 to 650.
    blocks.press.members.push_back(bolt("lamp bolt", {330, -200, 655}, {330, -60, 655}, 10));
    const Assembly assembly = assemble(blocks.made_anew());
    Progress progress;
    const CheckResults results = run_checks(blocks.setup, assembly, {.only = {"travel"}, .jobs = 0}, progress);
    bool told = false;
    for (const Finding& finding : results.findings) {
        CAPTURE(shown(finding.title));
        told = told || (finding.verdict == Verdict::no_go &&
                        std::find(finding.bodies.begin(), finding.bodies.end(), "lamp bolt") != finding.bodies.end());
    }
    CHECK(told);
    // The halves of each opening come as near as the stack is thick, and no nearer.
    for (const PairProfile& pair : results.profiles) {
        const Body& a = assembly.bodies[pair.first];
        const Body& b = assembly.bodies[pair.second];
        if (a.part == Part::mold_lower && b.part == Part::mold_upper && a.opening == b.opening) {
            CAPTURE(a.name);
            CHECK(pair.sweep.least_lower_mm > 9.9);
            CHECK(pair.sweep.least_upper_mm < 10.1);
            CHECK(near(pair.sweep.least_at.mm, 40.0 * static_cast<double>(*a.opening + 1), 0.2));
            REQUIRE(!pair.sweep.spans.empty());
            CHECK(pair.sweep.spans.back().to == assembly.last); // it stays closed to the end
        }
    }
}
