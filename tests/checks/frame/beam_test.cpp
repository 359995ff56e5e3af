// Beams, portals and rings with closed forms (REFERENCE 5a, 5b).
#include "checks/frame/solve.hpp"

#include "tests/checks/frame/frame_cases.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

namespace evenclose {
using namespace test;

namespace {

NodeAction push(std::size_t node, const Vec3& force) { return {node, {force, Vec3{0.0}}}; }

double sag(const SpaceFrame& frame, const LoadCase& load, std::size_t node) {
    return -solve(frame, {load}).states[0].motions[node].move_mm.z;
}

/// A frame in X-Z: everything out of that plane is held.
void keep_in_plane(SpaceFrame& frame) {
    for (FrameNode& node : frame.nodes) {
        node.held[1] = node.held[3] = node.held[5] = true;
    }
}

} // namespace

TEST_CASE("5.1 beams: centre load, uniform load, two loads, simple and fixed (Mott, App. 14)") {
    const BeamStiffness stiffness = isotropic(210000, 81000, 1000, 1e6, 1e6, 1e6);
    const double P = 10000;
    SpaceFrame frame = straight_beam(1000, 4, stiffness);
    const LoadCase centre{{push(2, {0, 0, -P})}};
    support_ends(frame);
    CHECK(within(sag(frame, centre, 2), 0.99206349, 5e-9));
    CHECK(within(sag(frame, centre, 2), P * 1e9 / (48 * 2.1e11), 1e-9));
    CHECK(within(sag(frame, {{push(1, {0, 0, -P}), push(3, {0, 0, -P})}}, 2), 1.36408730, 5e-9));
    const LoadCase halves{{push(1, {0, 0, -0.5 * P}), push(3, {0, 0, -0.5 * P})}};
    CHECK(within(sag(frame, halves, 2), 0.68204365, 5e-9));
    CHECK(within(sag(frame, halves, 1), 0.49603175, 1.1e-8));
    clamp_ends(frame);
    CHECK(within(sag(frame, centre, 2), 0.24801587, 2e-8));
    for (FrameBeam& beam : frame.beams) {
        beam.load_N_per_mm = {0, 0, -P / 1000};
    }
    CHECK(within(sag(frame, {}, 2), 0.12400794, 4e-8));
    CHECK(within(sag(frame, {}, 2), P * 1e9 / (384 * 2.1e11), 1e-9));
    support_ends(frame);
    CHECK(within(sag(frame, {}, 2), 0.62003968, 8e-9));
}

TEST_CASE("5.2 timber 89x140 over 900 with shear: 1.35684655 + 0.62809687 (Wood Handbook, table 9-1)") {
    const double A = 89.0 * 140;
    const double I = 89.0 * std::pow(140.0, 3) / 12;
    BeamStiffness stiffness = isotropic(11000, 690, A, I, I, I);
    SpaceFrame thin = straight_beam(900, 2, stiffness);
    support_ends(thin);
    const LoadCase load{{push(1, {0, 0, -20000})}};
    CHECK(within(sag(thin, load, 1), 1.35684655, 5e-9));
    stiffness.GAz_N = 690 * 5.0 / 6 * A;
    SpaceFrame thick = straight_beam(900, 2, stiffness);
    support_ends(thick);
    CHECK(within(sag(thick, load, 1), 1.98494341, 5e-9));
    CHECK(within(sag(thick, load, 1) - sag(thin, load, 1), 0.62809687, 1e-8));
    const BeamForces middle = forces_at(thick, solve(thick, {load}).states[0], 0, 450);
    CHECK(within(std::abs(middle.My) * 70 / I, 15.4781, 4e-6));
    CHECK(within(1.5 * std::abs(middle.Vz) / A, 1.20385, 4e-6));
}

TEST_CASE("shear deformation in the other load forms of table 9-1") {
    const double A = 6000;
    const double I = 5e6;
    const double E = 11000;
    const double GA = 690 * 5.0 / 6 * A;
    const double L = 800;
    const double W = 12000;
    BeamStiffness stiffness = isotropic(E, 690, A, I, I, I);
    stiffness.GAy_N = stiffness.GAz_N = GA;
    const auto form = [&](double kb, double ks) { return kb * W * L * L * L / (E * I) + ks * W * L / GA; };
    SpaceFrame frame = straight_beam(L, 4, stiffness);
    clamp_ends(frame);
    CHECK(within(sag(frame, {{push(2, {0, 0, -W})}}, 2), form(1.0 / 192, 0.25), 1e-9));
    support_ends(frame);
    const LoadCase quarters{{push(1, {0, 0, -W / 2}), push(3, {0, 0, -W / 2})}};
    CHECK(within(sag(frame, quarters, 2), form(11.0 / 768, 0.125), 1e-9));
    CHECK(within(sag(frame, quarters, 1), form(1.0 / 96, 0.125), 1e-9));
    frame.nodes.front().held = kClamped;
    frame.nodes.back().held = kFree;
    CHECK(within(sag(frame, {{push(4, {0, 0, -W})}}, 4), form(1.0 / 3, 1), 1e-9));
    for (FrameBeam& beam : frame.beams) {
        beam.load_N_per_mm = {0, 0, -W / L};
    }
    CHECK(within(sag(frame, {}, 4), form(1.0 / 8, 0.5), 1e-9));
    clamp_ends(frame);
    CHECK(within(sag(frame, {}, 2), form(1.0 / 384, 0.125), 1e-9));
    support_ends(frame);
    CHECK(within(sag(frame, {}, 2), form(5.0 / 384, 0.125), 1e-9));
}

TEST_CASE("5.3 two supports under a uniform load: least sag at 0.2231 of the length, level ends at 0.2113 (Airy)") {
    const BeamStiffness stiffness = isotropic(1, 1, 1, 1, 1, 1);
    const auto bent = [&](double share) {
        SpaceFrame frame;
        constexpr int kOverhang = 8;
        constexpr int kBetween = 24;
        const auto node = [&](double x) { frame.nodes.push_back({{x, 0, 0}, kFree}); };
        for (int i = 0; i < kOverhang; ++i) {
            node(share * i / kOverhang);
        }
        for (int i = 0; i <= kBetween; ++i) {
            node(share + (1 - 2 * share) * i / kBetween);
        }
        for (int i = 1; i <= kOverhang; ++i) {
            node(1 - share + share * i / kOverhang);
        }
        for (std::size_t i = 0; i + 1 < frame.nodes.size(); ++i) {
            frame.beams.push_back(book_beam(frame, i, i + 1, stiffness));
            frame.beams.back().load_N_per_mm = {0, 0, -1};
        }
        keep_in_plane(frame);
        frame.nodes[kOverhang].held[0] = frame.nodes[kOverhang].held[2] = true;
        frame.nodes[kOverhang + kBetween].held[2] = true;
        const FrameState state = solve(frame, {{}}).states[0];
        double most = 0;
        for (const Motion& motion : state.motions) {
            most = std::max(most, std::abs(motion.move_mm.z));
        }
        return std::array<double, 2>{most, state.motions[0].turn_rad.y};
    };
    CHECK(within(bent(0.2231)[0], 2.70e-4, 0.003));
    CHECK(bent(0.2231)[0] < bent(0.2231 * 1.004)[0]); // a minimum, to 0.4 %
    CHECK(bent(0.2231)[0] < bent(0.2231 * 0.996)[0]);
    CHECK(within(bent(1e-6)[0], 1.302e-2, 0.002));
    const double airy = 0.5 * (1 - 1 / std::sqrt(3.0));
    CHECK(near(airy, 0.2113, 5e-5));
    CHECK(std::abs(bent(airy)[1]) < 1e-9);
    CHECK(bent(airy * 1.002)[1] * bent(airy * 0.998)[1] < 0);
}

namespace {

/// Posts at x 0 and L, `height` high, a beam on them in two pieces (middle node) or more.
SpaceFrame portal(double L, double h, const BeamStiffness& beam, const BeamStiffness& post) {
    SpaceFrame frame;
    frame.nodes = {
        {{0, 0, 0}, kClamped}, {{0, 0, h}, kFree}, {{L / 2, 0, h}, kFree}, {{L, 0, h}, kFree}, {{L, 0, 0}, kClamped}};
    frame.beams = {book_beam(frame, 0, 1, post), book_beam(frame, 1, 2, beam), book_beam(frame, 2, 3, beam),
                   book_beam(frame, 3, 4, post)};
    keep_in_plane(frame);
    return frame;
}

} // namespace

TEST_CASE("5.4 portal, fixed and pinned feet, load at the middle (Kleinlogel's forms, axially rigid)") {
    const BeamStiffness beam = isotropic(210000, 81000, 1e9, 4e6, 4e6, 4e6);
    const BeamStiffness post = isotropic(210000, 81000, 1e9, 2e6, 2e6, 2e6);
    SpaceFrame frame = portal(2000, 1500, beam, post);
    const LoadCase load{{push(2, {0, 0, -20000})}};
    const FrameState fixed = solve(frame, {load}).states[0];
    CHECK(within(std::abs(fixed.beam_forces[0][10]), 2857142.857, 1e-6)); // corner
    CHECK(within(std::abs(fixed.beam_forces[0][4]), 1428571.429, 1e-6));  // foot
    CHECK(within(std::abs(fixed.reactions[0].force_N.x), 2857.1429, 1e-6));
    CHECK(within(-fixed.motions[2].move_mm.z, 2.2675737, 1e-6));
    frame.nodes[0].held[4] = frame.nodes[4].held[4] = false;
    const FrameState pinned = solve(frame, {load}).states[0];
    CHECK(within(std::abs(pinned.beam_forces[0][10]), 2500000, 1e-6));
    CHECK(within(std::abs(pinned.reactions[0].force_N.x), 1666.6667, 1e-6));
    CHECK(within(-pinned.motions[2].move_mm.z, 2.4801587, 1e-6));

    // Hinges in the posts' own ends say the same as feet that may turn.
    frame.nodes[0].held[4] = frame.nodes[4].held[4] = true;
    frame.beams[0].released[4] = frame.beams[3].released[10] = true;
    CHECK(within(-solve(frame, {load}).states[0].motions[2].move_mm.z, 2.4801587, 1e-6));
}

TEST_CASE("5.4 portal under a uniform load: corner wL2/6(k+2) fixed, wL2/4(2k+3) pinned") {
    const BeamStiffness beam = isotropic(210000, 81000, 1e9, 4e6, 4e6, 4e6);
    const BeamStiffness post = isotropic(210000, 81000, 1e9, 2e6, 2e6, 2e6);
    SpaceFrame frame = portal(2000, 1500, beam, post);
    frame.beams[1].load_N_per_mm = frame.beams[2].load_N_per_mm = {0, 0, -10};
    const double wLL = 10 * 2000.0 * 2000;
    CHECK(within(std::abs(solve(frame, {{}}).states[0].beam_forces[0][10]), wLL / (6 * 3.5), 1e-6));
    frame.nodes[0].held[4] = frame.nodes[4].held[4] = false;
    CHECK(within(std::abs(solve(frame, {{}}).states[0].beam_forces[0][10]), wLL / (4 * 6.0), 1e-6));
}

TEST_CASE("5.5 closed ring of head, base and two posts under 60 kN") {
    const BeamStiffness beam = isotropic(210000, 81000, 1e9, 5e6, 5e6, 5e6);
    const BeamStiffness post = isotropic(210000, 81000, 1000, 1e6, 1e6, 1e6);
    SpaceFrame frame;
    frame.nodes = {{{0, 0, 0}, kFree},      {{450, 0, 0}, kFree},    {{900, 0, 0}, kFree},  {{900, 0, 550}, kFree},
                   {{900, 0, 1100}, kFree}, {{450, 0, 1100}, kFree}, {{0, 0, 1100}, kFree}, {{0, 0, 550}, kFree}};
    frame.beams = {book_beam(frame, 0, 1, beam), book_beam(frame, 1, 2, beam), book_beam(frame, 2, 3, post),
                   book_beam(frame, 3, 4, post), book_beam(frame, 4, 5, beam), book_beam(frame, 5, 6, beam),
                   book_beam(frame, 6, 7, post), book_beam(frame, 7, 0, post)};
    keep_in_plane(frame);
    frame.nodes[1].held[0] = frame.nodes[1].held[2] = frame.nodes[1].held[4] = true; // takes nothing: loads balance
    const LoadCase load{{push(1, {0, 0, -60000}), push(5, {0, 0, 60000})}};
    const FrameState state = solve(frame, {load}).states[0];
    CHECK(within(std::abs(state.beam_forces[0][4]), 949218.75, 1e-6));
    CHECK(within(std::abs(state.beam_forces[0][10]), 12550781.25, 1e-6));
    CHECK(within(state.motions[5].move_mm.z, 1.70979353, 1e-6));
    CHECK(within(state.motions[0].move_mm.z, 0.77632533, 1e-6));
    CHECK(within(state.motions[6].move_mm.z - state.motions[0].move_mm.z, 0.15714286, 1e-6));
    // The corners come together as the beams hang between the posts, axially rigid: so all of this is bow.
    CHECK(within(std::abs(state.motions[7].move_mm.x - state.motions[0].move_mm.x), 0.68366350, 1e-6));
    CHECK(std::abs(state.reactions[1].force_N.z) < 1e-6);
    // Energy put in: half force times opening (REFERENCE 12.1).
    CHECK(within(0.5 * 60000 * state.motions[5].move_mm.z / 1000, 51.29, 0.01));
}

} // namespace evenclose
