// checks/pressure/no_tension.hpp: pressure under an eccentric force where nothing can pull (REFERENCE 7).
//
// A rigid platen on an even bed: q = max(0, c0 + c1 x + c2 y), with the force and its two moments given. Closed forms for
// a strip and a rectangle inside its kern; any footprint by Newton's method over its cells. The problem is convex (the
// complementary energy of a bed that only pushes), so there is one answer, and a step that is halved until the energy
// falls finds it.
//
// Not covered: a platen that bends, a bed that is stiffer in one place than in another.
#pragma once

#include "scene/vec.hpp"

#include <optional>
#include <vector>

namespace evenclose {

struct FootprintCell {
    Vec2 at_mm{0.0};
    double area_mm2 = 0;
};

/// q at a place is max(0, level + slope . place).
struct NoTensionPressure {
    double level_MPa = 0;
    Vec2 slope_MPa_per_mm{0.0};
    double contact_share = 0; // of the footprint's area that is pressed at all

    [[nodiscard]] double at_MPa(Vec2 place_mm) const;
};

/// Needs: cells of area above 0 that span a plan, not a line; force above 0.
/// Gives: nothing when the force acts outside the footprint, or so near its rim that less than one cell would bear it:
/// then the footprint tips.   Threads: pure, any.
[[nodiscard]] std::optional<NoTensionPressure> no_tension_pressure(const std::vector<FootprintCell>& cells,
                                                                   double force_N, Vec2 acts_at_mm);

/// A rectangle cut into cells, its middle at the origin.
[[nodiscard]] std::vector<FootprintCell> rectangle_cells(Vec2 size_mm, int along, int across);

/// 6 |ex| / L + 6 |ey| / B: up to 1 the force acts inside the kern and the whole rectangle is pressed.
[[nodiscard]] double kern_use(Vec2 size_mm, Vec2 eccentricity_mm);

/// Closed forms for a force off the middle of a rectangle along one axis.
/// Needs: eccentricity from 0 to below half the length.
struct StripPressure {
    double contact_mm = 0; // length that is pressed
    double greatest_MPa = 0, least_MPa = 0;
};
[[nodiscard]] StripPressure strip_pressure(double force_N, double length_mm, double width_mm, double eccentricity_mm);

/// The force near a corner, so that a triangle is pressed: `from_corner_mm` along both sides.
/// Gives: nothing when the triangle would not fit (4 times the distance beyond a side).
struct CornerPressure {
    Vec2 legs_mm{0.0};
    double greatest_MPa = 0;
};
[[nodiscard]] std::optional<CornerPressure> corner_pressure(double force_N, Vec2 size_mm, Vec2 from_corner_mm);

/// What each jack of a rigid platen bears of a force at `acts_at_mm`, as shares that sum to 1: jacks alike and elastic.
/// Jacks in one line bear nothing across it: only the place along their line counts, the rest is the guides'.
/// A share below 0: that jack would have to pull.
/// Needs: two jacks or more, not all in one spot.
[[nodiscard]] std::vector<double> jack_shares(const std::vector<Vec2>& jacks_mm, Vec2 acts_at_mm);

} // namespace evenclose
