// Published space frames (REFERENCE 5c) and what any linear frame must obey.
#include "checks/frame/solve.hpp"

#include "tests/checks/frame/frame_cases.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <glm/gtc/matrix_transform.hpp>

#include <algorithm>
#include <cmath>
#include <random>

namespace evenclose {
using namespace test;

namespace {

double part(const Motion& motion, int i) { return i < 3 ? motion.move_mm[i] : motion.turn_rad[i - 3]; }

void check_motion(const Motion& motion, const std::array<double, 6>& expected, double relative) {
    for (int i = 0; i < 6; ++i) {
        CAPTURE(i);
        CAPTURE(part(motion, i));
        CHECK(within(part(motion, i), expected[static_cast<std::size_t>(i)], relative));
    }
}

SpaceFrame logan_5_8() {
    SpaceFrame frame;
    frame.nodes = {{{0, 0, 0}, kFree}, {{-100, 0, 0}, kClamped}, {{0, 0, -100}, kClamped}, {{0, -100, 0}, kClamped}};
    for (const std::size_t end : {1U, 2U, 3U}) {
        frame.beams.push_back(book_beam(frame, 0, end, isotropic(30000, 10000, 10, 100, 100, 50)));
    }
    return frame;
}

LoadCase logan_5_8_load() { return {{{0, {{0, -50, 0}, {-1000, 0, 0}}}}}; }

/// Storeys of a building, 4 posts each, ring on top: many members, known to be sound.
SpaceFrame tower(int storeys) {
    const BeamStiffness stiffness = isotropic(210000, 81000, 2000, 4e6, 2e6, 1e6);
    SpaceFrame frame;
    for (int level = 0; level <= storeys; ++level) {
        for (const Vec2 at : {Vec2{0, 0}, Vec2{800, 0}, Vec2{800, 600}, Vec2{0, 600}}) {
            frame.nodes.push_back({{at.x, at.y, 900.0 * level}, level == 0 ? kClamped : kFree});
        }
    }
    const auto join = [&](std::size_t a, std::size_t b) {
        FrameBeam beam;
        beam.a = a;
        beam.b = b;
        beam.y_axis = a + 4 == b ? Vec3{0, 1, 0} : Vec3{0, 0, 1};
        beam.stiffness = stiffness;
        beam.load_N_per_mm = {0, 0, -0.2};
        frame.beams.push_back(beam);
    };
    for (std::size_t level = 0; level < static_cast<std::size_t>(storeys); ++level) {
        for (std::size_t i = 0; i < 4; ++i) {
            join(4 * level + i, 4 * level + i + 4);
            join(4 * level + 4 + i, 4 * level + 4 + (i + 1) % 4);
        }
    }
    return frame;
}

} // namespace

TEST_CASE("5.6 space frame: Logan, A First Course in the FEM, 4th ed., example 5.8") {
    const FrameSolution solution = solve(logan_5_8(), {logan_5_8_load()});
    CHECK(solution.stable());
    check_motion(solution.states[0].motions[0],
                 {7.0982576e-5, -1.39951349e-2, -2.3518893e-3, -3.9960904e-3, 1.7800692e-5, -1.03342904e-4}, 1e-6);
    check_motion(solution.states[0].motions[0], {7.098e-5, -0.014, -2.352e-3, -3.996e-3, 1.78e-5, -1.033e-4}, 5e-4);
}

TEST_CASE("5.7 space frame: Logan, problem 5.58, a vertical member turned a quarter would show") {
    SpaceFrame frame;
    frame.nodes = {{{0, 0, 0}, kClamped}, {{120, 0, 0}, kFree}, {{120, 0, -120}, kFree}, {{120, -240, -120}, kClamped}};
    const BeamStiffness stiffness = isotropic(30000, 10000, 100, 200, 1000, 100);
    for (std::size_t i = 0; i < 3; ++i) {
        frame.beams.push_back(book_beam(frame, i, i + 1, stiffness));
    }
    const LoadCase load{{{1, {{0, -5, 0}, {-1200, 0, 0}}}, {2, {{0, 0, 40}, {0, 0, 0}}}}};
    const FrameState state = solve(frame, {load}).states[0];
    CHECK(within(state.motions[1].move_mm.y, -0.0622319, 1e-6));
    CHECK(within(state.motions[2].move_mm.z, 1.8217624, 1e-6));
    CHECK(within(state.motions[1].move_mm.y, -0.063, 0.015));
    CHECK(within(state.motions[2].move_mm.z, 1.825, 0.015));
    frame.beams[2].y_axis = {0, 0, 1};
    const FrameState turned = solve(frame, {load}).states[0];
    CHECK(within(turned.motions[1].move_mm.y, -0.2184, 3e-4));
    CHECK(within(turned.motions[2].move_mm.z, 1.4172, 3e-4));
}

TEST_CASE("5.8 space frame: Ferreira, MATLAB Codes for Finite Element Analysis, example 8.3") {
    SpaceFrame frame; // metres and kN: the solver does not care
    frame.nodes = {{{0, 0, 0}, kFree}, {{3, 0, 0}, kClamped}, {{0, 0, -3}, kClamped}, {{0, -4, 0}, kClamped}};
    for (const std::size_t end : {1U, 2U, 3U}) {
        frame.beams.push_back(book_beam(frame, 0, end, isotropic(210e6, 84e6, 0.02, 10e-5, 20e-5, 5e-5)));
    }
    const LoadCase load{{{0, {{-10, 0, 20}, {0, 0, 0}}}}};
    const FrameState state = solve(frame, {load}).states[0];
    check_motion(state.motions[0],
                 {-7.0514775e-6, -6.653671e-8, 1.41769582e-5, 1.44778793e-6, 1.74858422e-6, 1.13605431e-6}, 1e-6);
    for (FrameBeam& beam : frame.beams) {
        std::swap(beam.stiffness.EIy_Nmm2, beam.stiffness.EIz_Nmm2);
    }
    CHECK(within(solve(frame, {load}).states[0].motions[0].turn_rad.x, 3.119e-6, 2e-4));
}

TEST_CASE("5.9 space frame: Ferreira, problem 13, four posts and a ring") {
    SpaceFrame frame;
    for (const double y : {0.0, 5.0}) {
        for (const Vec2 at : {Vec2{0, 0}, Vec2{0, 4}, Vec2{4, 4}, Vec2{4, 0}}) {
            frame.nodes.push_back({{at.x, y, at.y}, y == 0 ? kClamped : kFree});
        }
    }
    const BeamStiffness stiffness = isotropic(210e9, 84e9, 0.02, 10e-5, 20e-5, 5e-5);
    for (std::size_t i = 0; i < 4; ++i) {
        frame.beams.push_back(book_beam(frame, i, i + 4, stiffness));
    }
    for (std::size_t i = 0; i < 4; ++i) {
        frame.beams.push_back(book_beam(frame, 4 + i, 4 + (i + 1) % 4, stiffness));
    }
    const FrameState state = solve(frame, {{{{6, {{-15000, 0, 0}, {0, 0, 0}}}}}}).states[0];
    check_motion(state.motions[6],
                 {-2.13205233e-3, 6.8433497e-6, 5.8934587e-4, 3.5524999e-5, -3.5939637e-4, 2.2304731e-4}, 1e-6);
}

TEST_CASE("a frame turned as a whole answers turned alike, reactions balance the loads to 1e-9") {
    const Mat3 turn{glm::mat3_cast(glm::angleAxis(1.1, glm::normalize(Vec3{0.3, -0.8, 0.5})))};
    SpaceFrame frame = tower(6);
    frame.beams[5].released[4] = frame.beams[5].released[5] = true; // a hinge, an arm, a spring and a plate as well
    frame.beams[9].arm_a_mm = {20, -35, 60};
    frame.springs.push_back({26, FrameSpring::kGround, {10, 0, 5}, {}, Mat3{1.0}, {500, 20, 30, 1e5, 1e5, 2e5}, 0});
    frame.plates.push_back({{24, 25, 26, 27}, 12, 210000, 0.3, {0, 0, -0.01}});
    LoadCase load{{{27, {{900, -400, 300}, {2e5, 1e5, -3e5}}}, {14, {{0, 700, 0}, {0, 0, 0}}}}};
    const FrameState straight = solve(frame, {load}).states[0];

    SpaceFrame turned = frame;
    for (FrameNode& node : turned.nodes) {
        node.at_mm = turn * node.at_mm + Vec3{100, 20, -3000};
    }
    for (FrameBeam& beam : turned.beams) {
        beam.y_axis = turn * beam.y_axis;
        beam.arm_a_mm = turn * beam.arm_a_mm;
        beam.load_N_per_mm = turn * beam.load_N_per_mm;
    }
    turned.springs[0].arm_a_mm = turn * turned.springs[0].arm_a_mm;
    turned.springs[0].axes = turn;
    turned.plates[0].load_MPa = turn * turned.plates[0].load_MPa;
    LoadCase turned_load = load;
    for (NodeAction& at : turned_load.actions) {
        at.action = {turn * at.action.force_N, turn * at.action.moment_Nmm};
    }
    const FrameState answer = solve(turned, {turned_load}).states[0];
    double largest = 0;
    double off = 0;
    for (std::size_t i = 0; i < frame.nodes.size(); ++i) {
        largest = std::max(largest, glm::length(straight.motions[i].move_mm));
        off = std::max(off, glm::distance(turn * straight.motions[i].move_mm, answer.motions[i].move_mm));
    }
    CHECK(largest > 0.1);
    CHECK(off < 1e-9 * largest);
    for (std::size_t i = 0; i < frame.beams.size(); ++i) {
        for (std::size_t d = 0; d < 12; ++d) {
            CHECK(near(answer.beam_forces[i][d], straight.beam_forces[i][d], d % 6 < 3 ? 1e-5 : 1e-2));
        }
    }
    frame.springs.clear(); // the ground's share is no reaction of a node
    frame.plates.clear();
    CHECK(imbalance(frame, load, solve(frame, {load}).states[0]) < 1e-9);
}

TEST_CASE("reciprocity: what a load here does there, the same load there does here (Maxwell and Betti)") {
    const SpaceFrame frame = tower(5);
    std::mt19937 random(4711);
    std::uniform_int_distribution<std::size_t> any_node(4, frame.nodes.size() - 1);
    std::uniform_int_distribution<int> any_way(0, 5);
    const auto unit = [](std::size_t node, int way) {
        NodeAction at{node, {}};
        (way < 3 ? at.action.force_N[way] : at.action.moment_Nmm[way - 3]) = way < 3 ? 1000 : 1e6;
        return LoadCase{{at}, 0.0, 0.0};
    };
    for (int trial = 0; trial < 20; ++trial) {
        const std::size_t a = any_node(random);
        const std::size_t b = any_node(random);
        const int way_a = any_way(random);
        const int way_b = any_way(random);
        CAPTURE(trial);
        const FrameSolution solution = solve(frame, {unit(a, way_a), unit(b, way_b)});
        const double there = part(solution.states[0].motions[b], way_b) * (way_b < 3 ? 1000 : 1e6);
        const double here = part(solution.states[1].motions[a], way_a) * (way_a < 3 ? 1000 : 1e6);
        CHECK(near(there, here, 1e-9 * std::max({std::abs(there), std::abs(here), 1e-3})));
    }
}

TEST_CASE("a beam cut into pieces, or turned end for end, bends the same") {
    const BeamStiffness stiffness{2e8, 3e10, 5e10, 1e10, 4e6, 6e6};
    const auto tip = [&](int pieces, bool backward) {
        SpaceFrame frame = straight_beam(700, pieces, stiffness);
        for (FrameBeam& beam : frame.beams) {
            beam.load_N_per_mm = {1, 3, -2};
            if (backward) {
                std::swap(beam.a, beam.b);
            }
        }
        frame.nodes.front().held = kClamped;
        return solve(frame, {{{{static_cast<std::size_t>(pieces), {{5, 6, 7}, {800, 900, 1000}}}}}})
            .states[0]
            .motions.back();
    };
    const Motion once = tip(1, false);
    for (const auto& [pieces, backward] : {std::pair{7, false}, std::pair{1, true}, std::pair{3, true}}) {
        const Motion again = tip(pieces, backward);
        for (int i = 0; i < 6; ++i) {
            CHECK(within(part(again, i), part(once, i), 1e-9));
        }
    }
}

TEST_CASE("forces along a beam meet those at its ends, and the moment is the integral of the shear") {
    SpaceFrame frame = tower(2);
    const FrameState state = solve(frame, {{{{9, {{3000, 500, -200}, {0, 0, 0}}}}}}).states[0];
    for (std::size_t i = 0; i < frame.beams.size(); ++i) {
        const double L = axes_of(frame, frame.beams[i]).length_mm;
        const BeamForces from = forces_at(frame, state, i, 0);
        const BeamForces to = forces_at(frame, state, i, L);
        const std::array<double, 12>& end = state.beam_forces[i];
        CHECK(near(to.N, end[6], 1e-6));
        CHECK(near(to.Vy, end[7], 1e-6));
        CHECK(near(to.Vz, end[8], 1e-6));
        CHECK(near(to.My, end[10], 1e-3));
        CHECK(near(to.Mz, end[11], 1e-3));
        CHECK(near(from.My, -end[4], 1e-9));
    }
}

TEST_CASE("a frame that is a mechanism says which nodes move, the rest is solved all the same") {
    SpaceFrame frame = tower(2);
    const auto first = static_cast<std::size_t>(frame.nodes.size());
    // A bar that hangs on one hinge at the top, and may swing and spin.
    frame.nodes.push_back({frame.nodes[8].at_mm + Vec3{-400, 0, 0}, kFree});
    FrameBeam bar = book_beam(frame, 8, first, isotropic(210000, 81000, 500, 1e5, 1e5, 1e5));
    bar.released[3] = bar.released[4] = bar.released[5] = true;
    frame.beams.push_back(bar);
    const LoadCase elsewhere{{{5, {{1000, 0, 0}, {0, 0, 0}}}}};
    const FrameSolution solution = solve(frame, {elsewhere});
    CHECK(solution.mechanisms.size() == 2); // up and down, to and fro; its spin about X nothing ever sees
    for (const Mechanism& mechanism : solution.mechanisms) {
        CHECK(mechanism.nodes == std::vector<std::size_t>{first});
        CHECK(!mechanism.loaded);
    }
    const FrameState alone = solve(tower(2), {elsewhere}).states[0];
    for (std::size_t i = 0; i < first; ++i) {
        CHECK(near(glm::distance(alone.motions[i].move_mm, solution.states[0].motions[i].move_mm), 0, 1e-9));
    }
    // A load on the loose bar has nothing to stand on, and that is told.
    const FrameSolution loaded = solve(frame, {{{{first, {{0, 0, -10}, {0, 0, 0}}}}}});
    CHECK(std::any_of(loaded.mechanisms.begin(), loaded.mechanisms.end(),
                      [](const Mechanism& mechanism) { return mechanism.loaded; }));
}

TEST_CASE("a four-hinge frame, and a frame on nothing, are mechanisms") {
    SpaceFrame frame;
    frame.nodes = {{{0, 0, 0}, kPinned}, {{0, 0, 1000}, kFree}, {{800, 0, 1000}, kFree}, {{800, 0, 0}, kPinned}};
    const BeamStiffness stiffness = isotropic(210000, 81000, 500, 1e5, 1e5, 1e5);
    frame.beams = {book_beam(frame, 0, 1, stiffness), book_beam(frame, 1, 2, stiffness),
                   book_beam(frame, 2, 3, stiffness)};
    for (FrameNode& node : frame.nodes) {
        node.held[1] = node.held[3] = node.held[5] = true;
    }
    CHECK(solve(frame, {{}}).stable()); // rigid corners, pinned feet: a portal
    frame.beams[1].released[4] = frame.beams[1].released[10] = true;
    const FrameSolution swaying = solve(frame, {{{{1, {{100, 0, 0}, {0, 0, 0}}}}}});
    REQUIRE(swaying.mechanisms.size() == 1);
    CHECK(swaying.mechanisms[0].loaded);
    CHECK(swaying.mechanisms[0].nodes.size() == 2);
    CHECK(std::abs(swaying.mechanisms[0].motion.move_mm.x) > 0.99);

    SpaceFrame afloat = tower(1);
    for (FrameNode& node : afloat.nodes) {
        node.held = kFree;
    }
    CHECK(solve(afloat, {{}}).mechanisms.size() == 6);
}

TEST_CASE("what cannot be solved is refused with its reason") {
    SpaceFrame frame = straight_beam(100, 1, isotropic(1, 1, 1, 1, 1, 1));
    frame.nodes.front().held = kClamped;
    frame.beams[0].stiffness.GJ_Nmm2 = 0;
    CHECK_THROWS_WITH(static_cast<void>(solve(frame, {{}})), "frame: beam 0 has a stiffness that is not above 0");
    frame.beams[0].stiffness.GJ_Nmm2 = std::nan("");
    CHECK_THROWS(static_cast<void>(solve(frame, {{}})));
    frame.beams[0].stiffness.GJ_Nmm2 = 1;
    CHECK_THROWS_WITH(static_cast<void>(solve(frame, {{{{7, {}}}}})),
                      "frame: a load acts on node 7, which is not there");
    CHECK_THROWS(static_cast<void>(solve(frame, {{{{1, {{std::nan(""), 0, 0}, {}}}}}})));
    frame.nodes[1].at_mm = frame.nodes[0].at_mm;
    CHECK_THROWS_WITH(static_cast<void>(solve(frame, {{}})), "frame: a beam has no length");
}

} // namespace evenclose
