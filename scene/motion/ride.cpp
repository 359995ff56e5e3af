#include "scene/motion/ride.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

/// The knots around `at` and how far between them it lies, 0 to 1.
struct Between {
    const RideKnot& before;
    const RideKnot& after;
    double share;
};

Between between(const std::vector<RideKnot>& knots, Travel at) {
    const auto after =
        std::lower_bound(knots.begin(), knots.end(), at, [](const RideKnot& knot, Travel t) { return knot.at < t; });
    if (after == knots.begin()) {
        return {knots.front(), knots.front(), 0.0};
    }
    if (after == knots.end()) {
        return {knots.back(), knots.back(), 0.0};
    }
    const RideKnot& before = *(after - 1);
    return {before, *after, (at - before.at).mm / (after->at - before.at).mm};
}

double mix(double a, double b, double share) { return a + share * (b - a); }
Slope mix(Slope a, Slope b, double share) { return {mix(a.x, b.x, share), mix(a.y, b.y, share)}; }

} // namespace

double Ride::lift_mm(Travel at) const {
    if (fixed()) {
        return 0.0;
    }
    const Between b = between(knots, at);
    return mix(b.before.lift_mm, b.after.lift_mm, b.share);
}

SlopeRange Ride::slope_range(Travel at) const {
    if (fixed()) {
        return {};
    }
    const Between b = between(knots, at);
    return {mix(b.before.slope.low, b.after.slope.low, b.share), mix(b.before.slope.high, b.after.slope.high, b.share)};
}

bool Ride::tilts() const {
    return std::any_of(knots.begin(), knots.end(), [](const RideKnot& knot) {
        const SlopeRange& s = knot.slope;
        return s.low.x != 0 || s.low.y != 0 || s.high.x != 0 || s.high.y != 0;
    });
}

Mat3 rotation_of(Slope slope) {
    const double steep = std::hypot(slope.x, slope.y);
    if (steep == 0.0) {
        return Mat3{1.0};
    }
    // The axis is level, across the fall line; turning Z about it by atan(steep) gives the normal (-sx, -sy, 1).
    const Vec3 axis{slope.y / steep, -slope.x / steep, 0.0};
    return glm::mat3_cast(glm::angleAxis(std::atan(steep), axis));
}

Pose pose_at(const Ride& ride, const Pose& placement, Travel at, Slope slope) {
    if (ride.fixed()) {
        return placement;
    }
    const Mat3 turn = rotation_of(slope);
    const Vec3 lift{0.0, 0.0, ride.lift_mm(at)};
    return Pose{turn, ride.pivot_mm + lift - turn * ride.pivot_mm} * placement;
}

Pose pose_at(const Ride& ride, const Pose& placement, Travel at) {
    return pose_at(ride, placement, at, ride.slope_range(at).middle());
}

} // namespace evenclose
