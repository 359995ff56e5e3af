// checks/cavity/even_out.hpp: how the upper half would have to stand for the cavity to be as even as it can be.
//
// Least squares over all faced samples, weighted by area: the rigid motion of the upper half that brings the excess
// nearest to nothing. A plane m moved by v changes the gap along a ray of direction n by m.v / m.n; so the problem is
// linear in a small motion (Gauss-Newton), and after each step the rays are shot again. The same step as in aligning
// scans by their planes (Y. Chen & G. Medioni, "Object modelling by registration of multiple range images", Image and
// Vision Computing 10(3), 1992).
//
// Faces do not tell every motion: a straight trough may be shifted along itself. A motion that changes the gap by less
// than kTold of itself (root mean square) is not told, and not made.
#pragma once

#include "checks/cavity/gap_map.hpp"

#include <array>

namespace evenclose {

/// A motion of the upper half: turned about `about_mm` by the rotation vector, then shifted.
struct RigidShift {
    Vec3 shift_mm{0.0};
    Vec3 turn_rad{0.0}; // axis times angle
    Vec3 about_mm{0.0};

    [[nodiscard]] Pose pose() const;
};

struct Evened {
    RigidShift by;
    std::array<bool, 6> told{}; // shift X Y Z, turn about X Y Z: whether the faces say anything about it
    GapMap map;                 // with the upper half moved
    double rms_before_mm = 0;   // root mean square excess
    double rms_after_mm = 0;
    bool settled = false; // the last step was below 1e-4 mm
};

/// Needs: `map` made by `halves`.   Threads: runs on TBB's. With fewer than 20 faced samples nothing is told or moved.
[[nodiscard]] Evened even_out(const FacingHalves& halves, const GapMap& map);
/// The same along the stroke alone: how much further (shift Z below 0) or less the press should close.
[[nodiscard]] Evened even_out_by_travel(const FacingHalves& halves, const GapMap& map);

} // namespace evenclose
