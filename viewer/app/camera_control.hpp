// viewer/app/camera_control.hpp: how a hand moves the camera: orbit, pan and zoom about the point under the cursor.
//
// Places in the picture are measured from its middle in halves of its height: across to the right, up to the top; so
// (0, 1) is the middle of the upper edge whatever the picture's size. What holds: an orbit leaves its pivot on the same
// place of the picture, a pan brings the grabbed point under the cursor, a zoom leaves the point it goes to where it is.
// Right stays level: the camera never rolls.
//
// Threads: pure, any.
#pragma once

#include "viewer/render/frame.hpp"

namespace evenclose {

struct PicturePlace {
    double across = 0, up = 0;
};

struct CameraAxes {
    Vec3 right, up, forward; // unit vectors, right-handed: right x up = -forward
};

/// Needs: eye and target differ. If `up` runs along the line of sight, another one is taken.
[[nodiscard]] CameraAxes axes_of(const Camera& camera);

/// Where a point is seen. Needs: with perspective, a point in front of the eye.
[[nodiscard]] PicturePlace place_of(const Camera& camera, const Vec3& point_mm);
/// The point seen at `place`, as far along the line of sight as `depth_of_mm`.
[[nodiscard]] Vec3 point_at(const Camera& camera, PicturePlace place, const Vec3& depth_of_mm);

/// Turns the camera about the world's Z through `pivot_mm` (positive: the camera walks to the right), and raises it
/// along the arc over the pivot, no further than straight above or below.
[[nodiscard]] Camera orbited(const Camera& camera, const Vec3& pivot_mm, double turn_rad, double climb_rad);

/// Shifts the camera so that `grabbed_mm`, now seen at `from`, is seen at `to`.
[[nodiscard]] Camera panned(const Camera& camera, const Vec3& grabbed_mm, PicturePlace from, PicturePlace to);

/// Brings the camera closer to `about_mm` (factor below 1) or further off. The distance from eye to target stays between
/// kNearest_mm and kFurthest_mm; beyond that nothing changes.
[[nodiscard]] Camera zoomed(const Camera& camera, const Vec3& about_mm, double factor);

// Nearer than this a picture shows less than a printed layer; further than this a press is a dot.
inline constexpr double kNearest_mm = 2.0;
inline constexpr double kFurthest_mm = 200'000.0;

} // namespace evenclose
