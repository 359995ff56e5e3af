// scene/motion/level.hpp: how the platen lies on its jacks: the plane through the jack heads, and what may become of it.
//
// Plane z = z0 + sx x + sy y by least squares in coordinates about the heads' centroid (REFERENCE 3). Three heads not in
// line: exact. Two, or more in one line: the slope along the line; across it the heads say nothing and the guides hold
// the platen level, so the slope there is 0. More than three: the residuals are what the platen must bend or the jacks
// carry unequally; the plane does not show that.
#pragma once

#include "scene/motion/ride.hpp"
#include "scene/press/press.hpp"

#include <vector>

namespace evenclose {

struct HeadHeight {
    Vec2 at_mm{0.0};
    double height_mm = 0;
};

struct LevelPlane {
    Vec2 centroid_mm{0.0};            // of the heads, X Y
    double height_at_centroid_mm = 0; // always the mean of the heads
    Slope slope;                      // dz/dx, dz/dy
    bool in_line = false;             // the slope across the line of the heads is held by the guides, not by the heads
    std::vector<double> residual_mm;  // head less plane, in the order of the heads
    std::vector<Slope> slope_a_mm_head; // how much the slope changes when this head alone rises by 1 mm

    [[nodiscard]] double height_mm(Vec2 at_mm) const;
    [[nodiscard]] double tilt_rad() const; // atan |slope|
};

/// Needs: one head or more, finite.   Threads: pure, any.
[[nodiscard]] LevelPlane plane_through(const std::vector<HeadHeight>& heads);

/// Heads of the jacks at this travel, each at its own nominal rate.
[[nodiscard]] std::vector<HeadHeight> head_heights(const std::vector<ScrewJack>& jacks, Travel at);

/// The slopes that the platen may have at this travel when each jack may have risen travel * rate_tolerance more or less
/// than its nominal rate says; the middle is the nominal slope. Exact an axis, as the slope is linear in the heights;
/// together the two axes span a box that holds all that can happen, and some more where they depend on each other.
/// Needs: two jacks or more.   Threads: pure, any.
[[nodiscard]] SlopeRange slope_range_of(const std::vector<ScrewJack>& jacks, Travel at);

} // namespace evenclose
