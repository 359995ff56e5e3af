// scene/sections/section_properties.hpp: area, moments of inertia, torsion constant and shear areas of a section.
//
// Area and moments are boundary integrals (Green's theorem) over the true outline, arcs as arcs, not over the facets
// that are drawn; root and toe radii of rolled angles count. Torsion: rectangle by Saint-Venant's series, closed walls
// by Bredt plus their own s t^3 / 3 (as EN 10219-2 Annex B), angles by sum b t^3 / 3 over the legs' middle lines, which
// leaves out the root fillet (some 6 % low). Shear areas: rectangle 5/6, round bar 9/10 (Wood Handbook, ch. 9), pipe
// after G. R. Cowper (J. Appl. Mech. 33, 1966) at Poisson's ratio 0, box and angle: the walls that run with the force.
//
// Not covered: the shear centre of an angle (loads are taken to go through the centroid), warping, local buckling.
#pragma once

#include "scene/press/press.hpp"
#include "scene/vec.hpp"

#include <optional>
#include <vector>

namespace evenclose {

/// In the section's own u, v as press.hpp says. Moments are about axes through the centroid.
struct SectionProperties {
    double area_mm2 = 0;
    Vec2 centroid_mm{0.0}; // from the member's axis
    double Iu_mm4 = 0;     // about u: integral of v^2
    double Iv_mm4 = 0;     // about v: integral of u^2
    double Iuv_mm4 = 0;    // integral of u v
    double J_mm4 = 0;
    double shear_area_u_mm2 = 0, shear_area_v_mm2 = 0; // for forces along u and along v
    std::vector<Vec2> fibres_mm; // the outline's outermost places, from the centroid: bending stress peaks at one
    double thinnest_mm = 0;      // wall, leg, plate thickness; the lesser side of a timber: what a yield table asks for

    [[nodiscard]] double major_mm4() const; // greatest moment of inertia
    [[nodiscard]] double minor_mm4() const;
    /// From u to the axis about which the moment is greatest, counter-clockwise, within (-pi/2, pi/2].
    [[nodiscard]] double principal_angle_rad() const;
    /// Elastic section modulus about u (v): moment over the stress at the farthest fibre.
    [[nodiscard]] double modulus_u_mm3() const;
    [[nodiscard]] double modulus_v_mm3() const;
    /// Normal stress at a fibre under N (tension > 0) and the moments about u and v through the centroid (Mu > 0 pulls
    /// at v > 0, Mv > 0 pulls at u > 0), unsymmetrical sections too.
    [[nodiscard]] double normal_stress_MPa(double N, double Mu_Nmm, double Mv_Nmm, Vec2 fibre_mm) const;
};

/// The AISC manual computes welded box and pipe sections with 0.93 of the nominal wall, EN 10219 with the nominal wall.
inline constexpr double kDesignWallAisc = 0.93;

/// `wall_factor` thins the walls of tubes and pipes (outside kept) and sharpens a tube's corners alike. A solid rod is never thinned.
/// Gives: nothing for a mesh, which has no section to compute from, nor for a built-up one (see composite.hpp).
/// Faults: std::invalid_argument with what does not fit (as outline_of does).   Threads: pure, any.
[[nodiscard]] std::optional<SectionProperties> properties_of(const Section& section, double wall_factor = 1.0);

} // namespace evenclose
