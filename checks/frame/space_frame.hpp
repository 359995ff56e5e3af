// checks/frame/space_frame.hpp: a frame in space as plain data: nodes, beams, plates, springs, loads.
//
// mm, N, N mm, MPa, rad. Small displacements, linear. Turns follow the right hand.
#pragma once

#include "scene/vec.hpp"

#include <array>
#include <cstddef>
#include <limits>
#include <vector>

namespace evenclose {

/// What a node does, and what acts on it.
struct Motion {
    Vec3 move_mm{0.0}, turn_rad{0.0};
};
struct Action {
    Vec3 force_N{0.0}, moment_Nmm{0.0};
};

inline constexpr std::array<bool, 6> kFree{};
inline constexpr std::array<bool, 6> kClamped{true, true, true, true, true, true};
inline constexpr std::array<bool, 6> kPinned{true, true, true, false, false, false};

struct FrameNode {
    Vec3 at_mm{0.0};
    std::array<bool, 6> held = kFree; // moves along world X Y Z, turns about them
};

/// About the beam's own axes: x from a to b, y as given, z = x cross y. Bending in the x-z plane takes EIy and GAz.
/// An infinite GA leaves shear deformation out (Euler-Bernoulli).
struct BeamStiffness {
    double EA_N = 0, EIy_Nmm2 = 0, EIz_Nmm2 = 0, GJ_Nmm2 = 0;
    double GAy_N = std::numeric_limits<double>::infinity(), GAz_N = std::numeric_limits<double>::infinity();
};

struct FrameBeam {
    std::size_t a = 0, b = 0;
    Vec3 y_axis{0.0}; // roughly: what is along the beam is taken off. A principal axis of its section
    BeamStiffness stiffness;
    Vec3 arm_a_mm{0.0}, arm_b_mm{0.0}; // rigid arms, from the node to the beam's end
    std::array<bool, 12> released{};   // own axes: forces x y z, moments x y z at a, then at b. True: a hinge, a slide
    Vec3 load_N_per_mm{0.0};           // world, uniform over the beam
};

/// A joint with six stiffnesses between two nodes (or a node and the ground), at the ends of rigid arms that meet.
/// Own axes: the columns of `axes`, first along the joint's normal, which points from a to b.
struct FrameSpring {
    static constexpr std::size_t kGround = static_cast<std::size_t>(-1);
    std::size_t a = 0, b = kGround;
    Vec3 arm_a_mm{0.0}, arm_b_mm{0.0};
    Mat3 axes{1.0};
    std::array<double, 6> stiffness{}; // N/mm along the three axes, N mm/rad about them
    double extension_mm = 0;           // what it would like to grow along its normal: a jack screwed out
};

/// Flat four-cornered plate or shell element, corners in turn; a thick plate (Reissner-Mindlin).
struct FramePlate {
    std::array<std::size_t, 4> nodes{};
    double thickness_mm = 0, E_MPa = 0, poisson = 0;
    Vec3 load_MPa{0.0}; // world, on its area
};

struct SpaceFrame {
    std::vector<FrameNode> nodes;
    std::vector<FrameBeam> beams;
    std::vector<FrameSpring> springs;
    std::vector<FramePlate> plates;
};

struct NodeAction {
    std::size_t node = 0;
    Action action;
};

struct LoadCase {
    std::vector<NodeAction> actions;
    double distributed = 1.0; // factor on the beams' and plates' own loads
    double extension = 1.0;   // factor on the springs' extensions
};

/// Orthonormal axes (columns x, y, z) of a beam, and its length between the ends of its arms.
struct BeamAxes {
    Mat3 axes{1.0};
    double length_mm = 0;
};
/// Faults: std::invalid_argument if the ends coincide, or the y axis lies along the beam.
[[nodiscard]] BeamAxes axes_of(const SpaceFrame& frame, const FrameBeam& beam);

} // namespace evenclose
