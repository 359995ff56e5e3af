// scene/sections/composite.hpp: one section of several parts of different stiffness: flitch beams, doubled members.
//
// Transformed section: every part weighs by its E, plane sections stay plane over the whole (REFERENCE 5d):
// EI = sum E (I + A y^2) about the E-weighted centroid, stress = E y M / EI.
//
// Full bond is assumed. Bolts, screws and rubber-like glue slip, and then the section is softer and the parts are
// stressed more than this says.
#pragma once

#include "scene/sections/section_properties.hpp"

#include <vector>

namespace evenclose {

/// `at_mm` is where the part's own centroid lies in the common u, v; the part is not turned.
struct CompositePart {
    SectionProperties section;
    Vec2 at_mm{0.0};
    double E_MPa = 0, G_MPa = 0;
};

struct CompositeSection {
    std::vector<CompositePart> parts;
    double EA_N = 0;
    Vec2 centroid_mm{0.0}; // weighted by E A
    double EIu_Nmm2 = 0, EIv_Nmm2 = 0, EIuv_Nmm2 = 0;
    double GJ_Nmm2 = 0; // sum of the parts: they are taken to twist one by one, which is on the soft side
    double GA_u_N = 0, GA_v_N = 0;

    [[nodiscard]] double major_Nmm2() const; // greatest bending stiffness
    [[nodiscard]] double minor_Nmm2() const;
    /// From u to the axis about which it is stiffest, counter-clockwise, within (-pi/2, pi/2].
    [[nodiscard]] double principal_angle_rad() const;

    /// Normal stress in a part, at a place given from that part's centroid. Signs as in SectionProperties.
    [[nodiscard]] double normal_stress_MPa(std::size_t part, Vec2 fibre_mm, double N, double Mu_Nmm,
                                           double Mv_Nmm) const;
    /// Greatest magnitude over the part's fibres.
    [[nodiscard]] double greatest_stress_MPa(std::size_t part, double N, double Mu_Nmm, double Mv_Nmm) const;
};

/// Needs: one part or more, E above 0.
[[nodiscard]] CompositeSection composite_of(std::vector<CompositePart> parts);

} // namespace evenclose
