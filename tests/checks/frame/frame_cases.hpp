// tests/checks/frame/frame_cases.hpp: small frames that several tests build.
#pragma once

#include "checks/frame/solve.hpp"

#include <cmath>
#include <glm/geometric.hpp>
#include <limits>

namespace evenclose::test {

inline constexpr double kNoShear = std::numeric_limits<double>::infinity();

/// The way of the books quoted: own y points along global Y; for a member along Y, along X.
inline FrameBeam book_beam(const SpaceFrame& frame, std::size_t a, std::size_t b, const BeamStiffness& stiffness) {
    const Vec3 along = glm::normalize(frame.nodes[b].at_mm - frame.nodes[a].at_mm);
    FrameBeam beam;
    beam.a = a;
    beam.b = b;
    beam.y_axis = std::abs(along.y) > 0.999 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
    beam.stiffness = stiffness;
    return beam;
}

/// Nodes 0..pieces along X, beams between them, bending in X-Z; nothing held.
inline SpaceFrame straight_beam(double length, int pieces, const BeamStiffness& stiffness) {
    SpaceFrame frame;
    for (int i = 0; i <= pieces; ++i) {
        frame.nodes.push_back({{length * i / pieces, 0, 0}, kFree});
    }
    for (int i = 0; i < pieces; ++i) {
        frame.beams.push_back(
            book_beam(frame, static_cast<std::size_t>(i), static_cast<std::size_t>(i) + 1, stiffness));
    }
    return frame;
}

/// Held so that it may only bend in X-Z: ends on supports.
inline void support_ends(SpaceFrame& frame) {
    frame.nodes.front().held = {true, true, true, true, false, true};
    frame.nodes.back().held = {false, true, true, true, false, true};
}
inline void clamp_ends(SpaceFrame& frame) {
    frame.nodes.front().held = kClamped;
    frame.nodes.back().held = {false, true, true, true, true, true};
}

inline BeamStiffness isotropic(double E, double G, double A, double Iy, double Iz, double J) {
    return {E * A, E * Iy, E * Iz, G * J, kNoShear, kNoShear};
}

/// Sum of loads and reactions, and of their moments about the origin, over the greatest single one.
inline double imbalance(const SpaceFrame& frame, const LoadCase& load, const FrameState& state) {
    Vec3 force{0.0};
    Vec3 moment{0.0};
    double greatest_force = 0;
    double greatest_moment = 0;
    const auto add = [&](const Vec3& at, const Action& action) {
        force += action.force_N;
        const Vec3 turning = action.moment_Nmm + glm::cross(at, action.force_N);
        moment += turning;
        greatest_force = std::max(greatest_force, glm::length(action.force_N));
        greatest_moment = std::max(greatest_moment, glm::length(turning));
    };
    for (const NodeAction& at : load.actions) {
        add(frame.nodes[at.node].at_mm, at.action);
    }
    for (std::size_t i = 0; i < frame.nodes.size(); ++i) {
        add(frame.nodes[i].at_mm, state.reactions[i]);
    }
    for (const FrameBeam& beam : frame.beams) {
        const Vec3 a = frame.nodes[beam.a].at_mm + beam.arm_a_mm;
        const Vec3 b = frame.nodes[beam.b].at_mm + beam.arm_b_mm;
        add(0.5 * (a + b), {load.distributed * glm::distance(a, b) * beam.load_N_per_mm, Vec3{0.0}});
    }
    return std::max(glm::length(force) / std::max(greatest_force, 1e-30),
                    glm::length(moment) / std::max(greatest_moment, 1e-30));
}

} // namespace evenclose::test
