// scene/motion/level.hpp: how the platen lies on its jacks: the plane through the jack heads.
//
// Plane z = z0 + sx x + sy y by least squares in coordinates about the heads' centroid (REFERENCE 3). Three heads not in
// line: exact. Two, or more in one line: the slope along the line; across it the heads say nothing and the guides hold
// the platen level, so the slope there is 0. More than three: the residuals are what the platen must bend or the jacks
// carry unequally; the plane does not show that.
#pragma once

#include "scene/motion/ride.hpp"
#include "scene/vec.hpp"

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
    Vec2 across_line{0.0};            // then: which way that is, a unit vector
    std::vector<double> residual_mm;  // head less plane, in the order of the heads
    std::vector<Slope> slope_a_mm_head; // how much the slope changes when this head alone rises by 1 mm

    [[nodiscard]] double height_mm(Vec2 at_mm) const;
    [[nodiscard]] double tilt_rad() const; // atan |slope|
};

/// Needs: one head or more, finite.   Threads: pure, any.
[[nodiscard]] LevelPlane plane_through(const std::vector<HeadHeight>& heads);

} // namespace evenclose
