// viewer/ui/picture_place.hpp: between pixels of the window and places in the picture.
#pragma once

#include "viewer/app/camera_control.hpp"
#include "viewer/ui/layout.hpp"

#include <glm/geometric.hpp>

#include <optional>

namespace evenclose {

[[nodiscard]] inline PicturePlace place_in(const Rect& rect, float x, float y) {
    const double half = 0.5 * rect.height;
    return {(x - rect.middle_x()) / half, (rect.middle_y() - y) / half};
}

[[nodiscard]] inline bool in_front(const Camera& camera, const Vec3& point) {
    return glm::dot(point - camera.eye_mm, camera.target_mm - camera.eye_mm) > 1e-6;
}

/// The pixel of the window at which a point is seen; none behind the eye.
[[nodiscard]] inline std::optional<Vec2> on_screen(const Rect& rect, const Camera& camera, const Vec3& point_mm) {
    if (!in_front(camera, point_mm)) {
        return std::nullopt;
    }
    const PicturePlace at = place_of(camera, point_mm);
    const double half = 0.5 * rect.height;
    return Vec2{rect.middle_x() + half * at.across, rect.middle_y() - half * at.up};
}

} // namespace evenclose
