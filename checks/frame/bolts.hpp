// checks/frame/bolts.hpp: what a bolt in single shear may bear between two members.
//
// The bolt itself: alpha_v f_ub A_s / 1.25 (EN 1993-1-8, table 3.4; alpha_v 0.6, of 10.9 0.5; A_s the stress area of the
// coarse thread, ISO 724). In timber: Johansen's modes of EN 1995-1-1, 8.2.2 and 8.2.3, without the rope effect, embedment
// 0.082 (1 - 0.01 d) rho_k turned to the grain by 8.31 and 8.32, yield moment 0.3 f_ub d^2.6; times k_mod 0.8 over gamma_M
// 1.3. Both are divided by 1.5, the load factor of those standards. All from memory.
//
// Not covered: edge and end distances, groups that split the timber, double shear (the bolt then bears more), pull.
#pragma once

#include "scene/materials/material.hpp"

#include <string>

namespace evenclose {

inline constexpr const char* kBoltSource =
    "EN 1993-1-8 table 3.4 and EN 1995-1-1 8.2 (from memory), over a load factor of 1.5";

struct BoltedSide {
    Material material;
    double thickness_mm = 0;       // that the bolt goes through
    double angle_to_grain_rad = 0; // of the shear
};

struct BoltCapacity {
    double allowed_N = 0;
    std::string by; // "the bolt shears", "the timber gives"
};

/// ISO metric coarse thread; between the listed sizes that of the next smaller one's share. Needs: above 0.
[[nodiscard]] double stress_area_mm2(double diameter_mm);

/// Ultimate strength by the property class that a bolt's material is called ("8.8": 800 MPa); of another word its yield.
[[nodiscard]] double bolt_ultimate_MPa(const Material& grade);

/// Characteristic resistance of a bolt between two timbers in single shear, N (EN 1995-1-1, 8.6). `f1`, `f2`: embedment
/// strengths, MPa; `My`: yield moment, N mm.
[[nodiscard]] double timber_to_timber_N(double f1_MPa, double t1_mm, double f2_MPa, double t2_mm, double d_mm,
                                        double My_Nmm);
/// The same of a bolt between a steel plate and a timber (8.9, 8.10), between thin and thick plates by a straight line.
[[nodiscard]] double steel_to_timber_N(double f_MPa, double t_mm, double plate_mm, double d_mm, double My_Nmm);

/// Needs: sizes above 0.   Threads: pure, any.
[[nodiscard]] BoltCapacity bolt_capacity(double diameter_mm, const Material& grade, const BoltedSide& first,
                                         const BoltedSide& second);

} // namespace evenclose
