// Several openings over one another: order, travel and heights of uniform blocks, worked by hand.
#include "scene/motion/stacked.hpp"

#include "scene/motion/assembly.hpp"
#include "scene/motion/drawn_pose.hpp"
#include "scene/motion/lifting.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <stdexcept>

using namespace evenclose;
using namespace evenclose::test;

namespace {

constexpr double kExact_mm = 1e-9;

/// Molds that shut at 90, so many over one another with platens of 25 between, each with a gap of 40 to close.
BlockSetup stack_of(std::size_t openings, double gap_mm = 40) {
    BlockSetup blocks;
    BlockSetup::half(blocks.mold.lower, {-350, -100, 0}, {350, 100, 40});
    BlockSetup::half(blocks.mold.upper, {-350, -100, 50}, {350, 100, 90});
    blocks.mold.shut_height_mm = 90;
    const auto n = static_cast<double>(openings);
    blocks.press.head_underside_z_mm = 340 + n * (90 + gap_mm) + (n - 1) * 25;
    for (Jack& jack : blocks.press.jacks) {
        jack.stroke_mm = n * gap_mm + 30;
    }
    blocks.made();
    blocks.setup.openings.assign(openings, blocks.setup.openings.front());
    IntermediatePlaten platen;
    platen.plate = {{0, 0}, {1000, 300}, 25, "steel", {}, {}, nullptr};
    blocks.setup.intermediate_platens.assign(openings - 1, platen);
    return blocks;
}

const Body& body(const Assembly& assembly, const std::string& name) {
    for (const Body& each : assembly.bodies) {
        if (each.name == name) {
            return each;
        }
    }
    FAIL("no body called " << name);
    throw std::logic_error(name);
}

double bottom_mm(const Assembly& assembly, const std::string& name, double travel_mm) {
    const Body& of = body(assembly, name);
    return bounds_of(*of.mesh, drawn_pose(assembly, of, {travel_mm})).low_mm.z;
}

} // namespace

TEST_CASE(
    "REFERENCE 15.1: three gaps of 40 take a stroke of 120 and leave 3 x 90 + 2 x 25 = 320, the lowest closes first") {
    const BlockSetup blocks = stack_of(3);
    const Assembly a = assemble(blocks.setup);
    CHECK(near(a.shut_height_mm, 320, kExact_mm));
    CHECK(near(a.closed.mm, 120, kExact_mm));
    REQUIRE(a.openings.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) {
        CAPTURE(i);
        CHECK(near(a.openings[i].heights.gap_mm(), 40, kExact_mm));
        CHECK(near(a.openings[i].heights.daylight_mm(), 130, kExact_mm));
        CHECK(near(a.openings[i].closes.mm, 40.0 * static_cast<double>(i + 1), kExact_mm));
        CHECK(a.bodies[a.openings[i].lower].opening == i);
    }
    // Face of the platen at 340; each opening 130 high, each platen 25.
    struct Row {
        const char* body;
        double open_mm, at_30, at_40, at_75, at_120;
    };
    const Row rows[] = {
        {"platen", 300, 330, 340, 375, 420},
        {"opening 1 lower half", 340, 370, 380, 415, 460},
        {"opening 1 upper half", 430, 430, 430, 465, 510}, // hangs 40 under 470
        {"intermediate platen 1", 470, 470, 470, 505, 550},
        {"opening 2 lower half", 495, 495, 495, 530, 575},
        {"opening 2 upper half", 585, 585, 585, 585, 625},
        {"intermediate platen 2", 625, 625, 625, 625, 665},
        {"opening 3 lower half", 650, 650, 650, 650, 690},
        {"opening 3 upper half", 740, 740, 740, 740, 740},
        {"head", 780, 780, 780, 780, 780},
    };
    for (const Row& row : rows) {
        CAPTURE(row.body);
        CHECK(near(bottom_mm(a, row.body, 0), row.open_mm, kExact_mm));
        CHECK(near(bottom_mm(a, row.body, 30), row.at_30, kExact_mm));
        CHECK(near(bottom_mm(a, row.body, 40), row.at_40, kExact_mm));
        CHECK(near(bottom_mm(a, row.body, 75), row.at_75, kExact_mm));
        CHECK(near(bottom_mm(a, row.body, 120), row.at_120, kExact_mm));
    }
    // The middle one is open, closing, closed.
    CHECK(a.state_of(1, {40}) == OpeningState::open);
    CHECK(a.state_of(1, {41}) == OpeningState::closing);
    CHECK(a.state_of(1, {80}) == OpeningState::closed);
    CHECK(a.state_of(0, {0}) == OpeningState::open);
    CHECK(a.state_of(0, {1}) == OpeningState::closing);
    // One mesh for each half, however many openings.
    CHECK(body(a, "opening 1 lower half").mesh == body(a, "opening 3 lower half").mesh);
}

TEST_CASE("REFERENCE 15.1: at 4 mm/s the three gaps of 40 take 30 s") {
    BlockSetup blocks = stack_of(3);
    for (const char* jack : {"left", "right"}) { // lead 4 mm, one turn a second
        Drive drive;
        drive.name = jack;
        drive.jacks = {std::string(jack) == "left" ? 0UL : 1UL};
        drive.speed = 1;
        blocks.press.drives.push_back(drive);
    }
    const std::vector<Opening> openings = blocks.setup.openings;
    blocks.made();
    blocks.setup.openings = openings;
    const Assembly a = assemble(blocks.setup);
    CHECK(near(Lifting(*blocks.setup.press, a.level_source).seconds(a.closed).value_or(0), 30, 1e-9));
}

TEST_CASE("every platen's height is piecewise linear over the travel, for 1 to 20 openings") {
    for (std::size_t n = 1; n <= kMostOpenings; ++n) {
        CAPTURE(n);
        const BlockSetup blocks = stack_of(n, 30 + static_cast<double>(n));
        const double gap = 30 + static_cast<double>(n);
        const Assembly a = assemble(blocks.setup);
        REQUIRE(a.openings.size() == n);
        CHECK(near(a.closed.mm, static_cast<double>(n) * gap, kExact_mm));
        for (int step = 0; step <= 37; ++step) {
            const double travel = a.closed.mm * step / 37;
            for (std::size_t k = 0; k + 1 < n; ++k) {
                const double gone = gap * static_cast<double>(k + 1);
                const Ride& ride = a.rides[a.bodies[a.openings[k].above].ride];
                CHECK(near(ride.lift_mm({travel}), std::max(0.0, travel - gone), kExact_mm));
            }
        }
    }
}

TEST_CASE("where intermediate platens rest: the set-up's word, the press's, else even gaps") {
    BlockSetup blocks = stack_of(3);
    blocks.press.rests_z_mm = {480, 640};
    const std::vector<Opening> openings = blocks.setup.openings;
    blocks.made();
    blocks.setup.openings = openings;
    std::vector<OpenHeights> heights = open_heights(blocks.setup, 340);
    CHECK(near(heights[0].gap_mm(), 480 - 340 - 90, kExact_mm));
    CHECK(near(heights[1].gap_mm(), 640 - 505 - 90, kExact_mm));
    CHECK(near(heights[2].gap_mm(), 780 - 665 - 90, kExact_mm));
    blocks.setup.intermediate_platens[0].rest_z_mm = 460;
    heights = open_heights(blocks.setup, 340);
    CHECK(near(heights[0].gap_mm(), 30, kExact_mm));
    CHECK(near(heights[1].gap_mm(), 640 - 485 - 90, kExact_mm));

    // Only the upper one is told: the two openings below it share what is left.
    blocks = stack_of(3);
    blocks.setup.intermediate_platens[1].rest_z_mm = 605;
    heights = open_heights(blocks.setup, 340);
    CHECK(near(heights[0].gap_mm(), 30, kExact_mm));
    CHECK(near(heights[1].gap_mm(), 30, kExact_mm));
    CHECK(near(heights[2].gap_mm(), 60, kExact_mm));
}

TEST_CASE("molds of different height: even gaps, uneven daylights, the travel is the sum of the gaps") {
    BlockSetup blocks = stack_of(3);
    auto tall = std::make_shared<Mold>(blocks.mold);
    tall->shut_height_mm = 120; // 30 more: 10 less for each gap
    blocks.setup.openings[1].mold = tall;
    const Assembly a = assemble(blocks.setup);
    for (const AssembledOpening& opening : a.openings) {
        CHECK(near(opening.heights.gap_mm(), 30, kExact_mm));
    }
    CHECK(near(a.openings[0].heights.daylight_mm(), 120, kExact_mm));
    CHECK(near(a.openings[1].heights.daylight_mm(), 150, kExact_mm));
    CHECK(near(a.closed.mm, 90, kExact_mm));
    CHECK(near(a.shut_height_mm, 350, kExact_mm));
}

TEST_CASE("a rest that is too low: the platen lies on the closed mold, and moves from the start") {
    BlockSetup blocks = stack_of(3);
    blocks.setup.intermediate_platens[0].rest_z_mm = 340 + 90 - 7;
    blocks.setup.intermediate_platens[1].rest_z_mm = 625;
    const Assembly a = assemble(blocks.setup);
    CHECK(near(a.openings[0].heights.rest_short_mm, 7, kExact_mm));
    CHECK(near(a.openings[0].heights.gap_mm(), 0, kExact_mm));
    CHECK(near(a.openings[0].closes.mm, 0, kExact_mm));
    CHECK(near(bottom_mm(a, "intermediate platen 1", 0), 430, kExact_mm));
    CHECK(near(bottom_mm(a, "intermediate platen 1", 10), 440, kExact_mm));
    CHECK(near(a.openings[1].closes.mm, 625 - 455 - 90, kExact_mm));
    CHECK(near(a.closed.mm, 80 + 40, kExact_mm)); // the same in all: what is lost below is won above
}

TEST_CASE("a picked-up platen takes the slope of the moving one, about the same middle, on its rest it is level") {
    BlockSetup blocks = stack_of(2);
    blocks.press.jacks[1].rate = 1.01; // the right one gains 1 mm in 100
    const std::vector<Opening> openings = blocks.setup.openings;
    blocks.made();
    blocks.setup.openings = openings;
    const Assembly a = assemble(blocks.setup);
    const Body& middle = body(a, "intermediate platen 1");
    const auto turned = [&](const Body& of, double travel) { return drawn_pose(a, of, {travel}).rotation; };
    CHECK(turned(middle, 20) == Mat3{1.0});
    CHECK(turned(middle, 70) == turned(body(a, "platen"), 70));
    // Flush on the closed mold: what was 90 over the platen's face at rest stays as far off it.
    const Body& lower = body(a, "opening 1 lower half");
    const Pose under = drawn_pose(a, lower, {70});
    const Pose over = drawn_pose(a, body(a, "opening 1 upper half"), {70});
    const Vec3 corner{350, 100, 90}; // in the mold frame
    CHECK(near(glm::length(over.apply(corner) - under.apply(corner)), 0, 1e-9));
    // The envelope holds both, so the sweep engine does.
    const SlopeRange at_pick_up = a.rides[middle.ride].slope_range(a.openings[0].closes);
    CHECK(at_pick_up.low.x <= 0);
    CHECK(at_pick_up.high.x >= a.rides[1].slope_range(a.openings[0].closes).high.x);
}

TEST_CASE("several decks in one mold: the stack is so much thicker, the mold closes so much less far") {
    BlockSetup blocks;
    const Mold three = with_decks(blocks.mold, 3); // one ply of 10, shut at 160
    CHECK(near(three.stack.pressed_thickness_mm(), 30, kExact_mm));
    CHECK(near(three.stack.loose_thickness_mm(), 30, kExact_mm));
    CHECK(near(three.closed_shut_height_mm(), 180, kExact_mm));
    CHECK(three.lower.mesh == blocks.mold.lower.mesh);
    CHECK(with_decks(blocks.mold, 1).closed_shut_height_mm() == 160);
}

TEST_CASE("a stack that is not whole is refused with the reason") {
    BlockSetup blocks = stack_of(3);
    blocks.setup.intermediate_platens.pop_back();
    CHECK_THROWS_WITH_AS((void)assemble(blocks.setup), "set-up: intermediate platens must be one fewer than openings",
                         std::invalid_argument);
    blocks = stack_of(1);
    blocks.setup.openings.clear();
    CHECK(assemble(blocks.setup).openings.empty()); // the platen closes on the head
    blocks = stack_of(kMostOpenings);
    blocks.setup.openings.push_back(blocks.setup.openings.back());
    CHECK_THROWS_WITH_AS((void)assemble(blocks.setup), "set-up: 20 openings at most can be assembled",
                         std::invalid_argument);
}
