#include "viewer/app/mold_move.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace evenclose {

std::optional<Vec2> dragged_by(const Camera& camera, const Vec3& grabbed_mm, PicturePlace to) {
    const Vec3 seen = point_at(camera, to, grabbed_mm);
    const Vec3 sight = camera.target_mm - camera.eye_mm;
    const Vec3 ray = glm::normalize(camera.parallel ? sight : seen - camera.eye_mm);
    // Flatter than this a millimetre of the hand would be several of the platen.
    constexpr double kFlat = 0.2;
    Vec3 normal{0.0, 0.0, 1.0};
    if (std::abs(ray.z) < kFlat) {
        normal = std::abs(ray.x) > std::abs(ray.y) ? Vec3{1.0, 0.0, 0.0} : Vec3{0.0, 1.0, 0.0};
    }
    const double along = glm::dot(grabbed_mm - seen, normal) / glm::dot(ray, normal);
    const Vec3 moved = seen + along * ray - grabbed_mm;
    if (!camera.parallel && glm::dot(seen + along * ray - camera.eye_mm, sight) <= 0.0) {
        return {};
    }
    return Vec2{moved.x, moved.y};
}

double length_seen_mm(const Camera& camera, const Vec3& grabbed_mm, double share) {
    const Vec3 sight = camera.target_mm - camera.eye_mm;
    const double far = camera.parallel ? glm::length(sight)
                                       : std::max(glm::dot(grabbed_mm - camera.eye_mm, glm::normalize(sight)), 0.0);
    return share * 2.0 * far * std::tan(0.5 * camera.vertical_angle_rad);
}

} // namespace evenclose
