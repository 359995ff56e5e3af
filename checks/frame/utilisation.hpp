// checks/frame/utilisation.hpp: how much of what it may bear each part of a press bears.
//
// Metal: normal and shear stress together (von Mises) against yield over 1.67 (the AISC's factor of safety in allowable
// stress design). Timber and panels: bending and axial stress added as shares, shear 3 V / 2 A, each against its allowable
// stress at normal duration (C_D 1: a press stands loaded for hours, for years); where timber is pressed across its grain,
// force over the contact as drawn against F_c across, with the NDS area factor, after Hankinson at a slant. Plates: bending
// and membrane stress together at the middle of each element. A built-up member: each part by the transformed section, full
// bond assumed; bolts make it less. Bolts: see bolts.hpp.
//
// Not covered: buckling, notches and bolt holes, welds, stress concentration at a jack's head.
#pragma once

#include "checks/frame/stand.hpp"

#include <string>
#include <vector>

namespace evenclose {

inline constexpr double kYieldFactor = 1.67; // AISC 360, allowable strength design, from memory

struct PartUse {
    std::string part; // a member's name, "head", "platen"
    std::string by;   // "bending", "shear", "yield", "crushed across the grain under front head beam"
    double use = 0;   // stress over what is allowed
    double stress_MPa = 0, allowed_MPa = 0;
    Vec3 at_mm{0.0};
    bool known = true;       // false: its material is not, and a stand-in was judged
    std::string source = {}; // of what is allowed
};

/// The greatest along a member, wherever it is: axial force (tension above 0), shear, bending moment, torque.
struct MemberForces {
    double N_N = 0, V_N = 0, M_Nmm = 0, T_Nmm = 0;
};
[[nodiscard]] MemberForces forces_of(const FrameMember& member, const StoodFrame& stood);

/// The worst of each part, worst part first.   Threads: pure, any.
[[nodiscard]] std::vector<PartUse> uses_of(const Press& press, const Joints& joints, const StoodFrame& stood);

/// Yield over kYieldFactor, or allowable bending stress, for a plate or a section so thick.
[[nodiscard]] double allowed_MPa(const Material& material, double thickness_mm, double depth_mm);

} // namespace evenclose
