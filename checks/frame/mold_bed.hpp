// checks/frame/mold_bed.hpp: the closed mold with its stack as a bed of springs (Winkler's foundation): how much it gives.
//
// In series: the lower half, the plies, the upper half, each by its mean thickness over its modulus along the stroke.
// A printed half is a cellular solid: E = Es (w + (1 - w) fill^2), w the share of its plan that its walls take (perimeter
// times wall over plan): open cells bend, so they give as the square of their density (L. J. Gibson and M. F. Ashby,
// Cellular Solids, eq. 5.6 with C1 = 1, from memory), walls stand along the stroke beside them and share the strain.
//
// Not covered: that a half spreads the force sideways, its skins, its shape under the deck.
#pragma once

#include "scene/materials/material.hpp"
#include "scene/mold/mold.hpp"

#include <string>
#include <vector>

namespace evenclose {

/// Stiffness of a printed half along the stroke, MPa, where its fill or its plastic is not told: a third of solid plastic
/// filled by a fifth, with its walls (common practice, no source; shells and infill pattern change it twofold).
inline constexpr double kPrintedHalf_MPa = 300;
/// Of veneer across its grain where the species is not known (birch: 0.050 to 0.078 of 13 900 MPa, Wood Handbook).
inline constexpr double kStackAcross_MPa = 700;

struct HalfStiffness {
    double E_MPa = 0;
    enum class From { material, print, nothing } from = From::nothing; // nothing: kPrintedHalf_MPa stands in
};
/// Along the stroke. Needs: the half loaded.   Threads: pure, any.
[[nodiscard]] HalfStiffness half_stiffness(const Mold& mold, const MoldHalf& half, const std::vector<Material>& own);

/// MPa for each mm that head and platen close on it.
[[nodiscard]] double bed_MPa_per_mm(const Mold& mold, const std::vector<Material>& own);

/// "A printed half is taken as giving like 250 MPa along the stroke (from its fill)": with marks (checks/phrase.hpp).
[[nodiscard]] std::string half_stiffness_told(const Mold& mold, const std::vector<Material>& own);

} // namespace evenclose
