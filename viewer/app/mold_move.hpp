// viewer/app/mold_move.hpp: a mold that is dragged along its platen: where the hand takes it. What it snaps to: mold_snap.hpp.
//
// Pure, tested without a window.
#pragma once

#include "viewer/app/camera_control.hpp"

#include <optional>

namespace evenclose {

// So near on the screen a place is meant, in points.
inline constexpr double kPull_pt = 10;

/// How far the point `grabbed_mm` has been taken, level, by a hand now at `to` in the picture. Seen almost level, a hand
/// moves it sideways only, for up and down there would mean nearer and further by far too much.
/// None where the hand points past the horizon.
[[nodiscard]] std::optional<Vec2> dragged_by(const Camera& camera, const Vec3& grabbed_mm, PicturePlace to);

/// How long a length of the screen is where the hand holds the mold, mm: `share` of the picture's height.
[[nodiscard]] double length_seen_mm(const Camera& camera, const Vec3& grabbed_mm, double share);

} // namespace evenclose
