// checks/clearance/triangle_distance.hpp: the two nearest points of two triangles.
//
// The nearest points lie on a corner and a face or on two edges (C. Ericson, Real-Time Collision Detection, 2005, sec.
// 5.1.9 and 5.1.10): six corner-face and nine edge-edge cases, and an edge through a face when they meet. No case is
// skipped for speed's sake by a guess.
//
// Rounding: the points lie in their triangles to a few units in the last place, so `distance` is an upper bound to that
// much. As a lower bound it is never trusted: whoever needs one projects the corners on `direction`, which separates the
// triangles by whatever it does separate them, however it came about.
#pragma once

#include "checks/clearance/piercing.hpp"
#include "scene/vec.hpp"

namespace evenclose {

struct NearestPoints {
    double distance = 0; // 0 when they meet
    Vec3 on_a{0.0}, on_b{0.0};
    Vec3 direction{0.0}; // unit, from a towards b; zero where they meet and none could be told
};

/// Needs: finite corners; degenerate triangles are segments or points.   Threads: pure, any.
[[nodiscard]] NearestPoints nearest_points(const Triangle& a, const Triangle& b);

} // namespace evenclose
