// viewer/app/mold_move.hpp: a mold that is dragged along its platen: where the hand takes it, and where it snaps.
//
// Pure, tested without a window.
#pragma once

#include "viewer/app/camera_control.hpp"

#include <optional>

namespace evenclose {

// So near to the middle it is meant to be the middle.
inline constexpr double kSnap_mm = 6.0;

/// How far the point `grabbed_mm` has been taken, level, by a hand now at `to` in the picture. Seen almost level, a hand
/// moves it sideways only, for up and down there would mean nearer and further by far too much.
/// None where the hand points past the horizon.
[[nodiscard]] std::optional<Vec2> dragged_by(const Camera& camera, const Vec3& grabbed_mm, PicturePlace to);

/// Each way by itself: to 0 within kSnap_mm, else to whole millimetres.
[[nodiscard]] Vec2 snapped(Vec2 at_mm);

} // namespace evenclose
