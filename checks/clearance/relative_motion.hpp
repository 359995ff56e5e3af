// checks/clearance/relative_motion.hpp: how two bodies move against each other over one straight piece of travel, tilt
// included, in a frame where the bounds are cheap.
//
// The frame is the first body's own (its placement undone). Over a piece both lifts and the ends of both slope ranges
// are linear in travel. Tilting by a slope (x, y) off the middle of the range, a point r from the pivot goes to first
// order x Ex r + y Ey r: seen from one spot a small tilt is a shift along the stroke of x rx + y ry and a sideways one
// of -x rz, -y rz. What the first order leaves out is bounded by the second derivative of the rotation
// (ride.hpp, rotation_of): for slopes up to s and a deviation e, no component exceeds
//     horizontal: e^2 / 2 (1 + 6 s^2) (|r_h| + 3 s |r_z|),   vertical: e^2 / 2 (1 + 6 s^2) (|r_z| + 3 s |r_h|),
// by differentiating x = (r_h - s r_z) / q + (q - 1) / (q s^2) (s_ r) s_, z = (r_z + s r) / q, q = sqrt(1 + s^2) twice,
// s_ being the slope turned by a right angle.
#pragma once

#include "checks/clearance/sweep.hpp"
#include "scene/motion/ride.hpp"

#include <array>

namespace evenclose {

/// Shares (0 to 1) of the slope range in x and y.
struct SlopeShare {
    double x = 0.5, y = 0.5;
};
struct ShareRange {
    SlopeShare low{0, 0}, high{1, 1};
    [[nodiscard]] SlopeShare middle() const { return {0.5 * (low.x + high.x), 0.5 * (low.y + high.y)}; }
};

[[nodiscard]] Slope slope_of(const SlopeRange& range, SlopeShare share);

/// One body in the frame: at its reference slope and no lift, and how tilting moves it from there.
struct BodyInFrame {
    const Ride* ride = nullptr; // null: does not move
    bool tilts = false;
    Mat3 turn{1.0};              // mesh coordinates to frame, at the reference slope
    Vec3 shift_mm{0.0};          // so: frame = turn * local + shift
    Vec3 pivot_mm{0.0};          // in the frame, no lift
    Mat3 per_x{0.0}, per_y{0.0}; // Ex, Ey
    Slope reference;
    ShareRange shares; // the part of the envelope that this piece stands for

    /// What the envelope has at a travel, nearest to `slope`; 0 for a body that does not tilt.
    [[nodiscard]] Slope allowed(Travel at, Slope slope) const;
    /// The nearest slope that it has all the way from `a` to `b`; `slope` itself where there is none.
    [[nodiscard]] Slope allowed_between(Travel a, Travel b, Slope slope) const;
    /// The middle of the range at a travel.
    [[nodiscard]] Slope middle(Travel at) const;
    /// Range of slopes off the reference at a travel.
    [[nodiscard]] SlopeRange off_reference(Travel at) const;
};

struct RelativeMotion {
    Travel from, to;
    BodyInFrame first, second;
    Vec3 up{0.0, 0.0, 1.0};        // the stroke, in the frame
    double second_order_level = 0; // mm, of both bodies: what the first order leaves out across the stroke
    double second_order_up = 0;    // and along it
    double rounding_mm = 0;        // taken off every lower bound

    /// Lift of the second body less lift of the first.
    [[nodiscard]] double rise_mm(Travel at) const;
    /// How much the second order can take off a bound along the unit `direction`.
    [[nodiscard]] double second_order(const Vec3& direction) const;
    /// Exact pose (mesh coordinates to frame, the first body's lift taken off both) at a slope, or at the nearest slope
    /// that the envelope has at this travel.
    [[nodiscard]] Pose pose_of_first(Travel at, Slope slope) const;
    [[nodiscard]] Pose pose_of_second(Travel at, Slope slope) const;
    /// Between `a` and `b` on the way from the one such slope to the other (which stays within the envelope), how far any
    /// corner strays from going straight. 0 where the slope stays.
    [[nodiscard]] double bend_mm(Travel a, Travel b, Slope of_first, Slope of_second) const;

    /// What it was made of, kept to make a narrower one.
    SweptBody first_body, second_body;
    Box first_bounds, second_bounds;
    /// The same motion for a part of the envelope only.
    [[nodiscard]] RelativeMotion within(ShareRange of_first, ShareRange of_second) const;
};

/// Needs: no knot of either ride strictly between `from` and `to`. Bounds: of the meshes, in their own coordinates.
/// `together`: both ride alike, so that neither moves against the other.
[[nodiscard]] RelativeMotion relative_motion(const SweptBody& first, const Box& first_bounds, const SweptBody& second,
                                             const Box& second_bounds, Travel from, Travel to, ShareRange of_first = {},
                                             ShareRange of_second = {});

} // namespace evenclose
