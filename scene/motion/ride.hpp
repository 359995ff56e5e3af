// scene/motion/ride.hpp: how a body moves while the press closes: up along Z, and tilted a little.
//
// A ride is piecewise linear over travel: at each knot the lift and the range of slopes that the platen may have there.
// Slopes are those of the platen's plane z = z0 + sx x + sy y (REFERENCE 3). The nominal slope is the middle of the
// range. Between knots everything is interpolated linearly.
#pragma once

#include "scene/vec.hpp"

#include <compare>
#include <vector>

namespace evenclose {

struct Rise {
    double mm = 0;
};              // a difference along the stroke
struct Travel { // a place on the stroke, 0 = open
    double mm = 0;
    auto operator<=>(const Travel&) const = default;
};
constexpr Rise operator-(Travel a, Travel b) { return {a.mm - b.mm}; }
constexpr Travel operator+(Travel a, Rise d) { return {a.mm + d.mm}; }

struct Slope {
    double x = 0, y = 0;
}; // dz/dx and dz/dy, mm/mm

struct SlopeRange {
    Slope low, high; // low.x <= high.x and low.y <= high.y
    [[nodiscard]] Slope middle() const { return {0.5 * (low.x + high.x), 0.5 * (low.y + high.y)}; }
};

struct RideKnot {
    Travel at;
    double lift_mm = 0;
    SlopeRange slope;
};

struct Ride {
    Vec3 pivot_mm{0.0};          // tilts about this point (placed at travel 0), which itself only rises
    std::vector<RideKnot> knots; // in order of travel; empty: stands still

    [[nodiscard]] bool fixed() const { return knots.empty(); }
    /// Clamped to the first and last knot.
    [[nodiscard]] double lift_mm(Travel at) const;
    [[nodiscard]] SlopeRange slope_range(Travel at) const;
    [[nodiscard]] bool tilts() const; // some knot has a slope other than 0
};

/// The least rotation that brings the level plane to z = sx x + sy y: by atan(|s|) about (sy, -sx, 0) / |s|, the level
/// line across the fall line.
[[nodiscard]] Mat3 rotation_of(Slope slope);

/// Where a ride brings a body that stands at `placement` at travel 0, untilted.
[[nodiscard]] Pose pose_at(const Ride& ride, const Pose& placement, Travel at, Slope slope);
/// The same at the nominal slope.
[[nodiscard]] Pose pose_at(const Ride& ride, const Pose& placement, Travel at);

} // namespace evenclose
