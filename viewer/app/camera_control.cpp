#include "viewer/app/camera_control.hpp"

#include <glm/geometric.hpp>
#include <glm/gtc/quaternion.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace evenclose {
namespace {

/// Half the picture's height in mm at the depth of a point.
double half_height_mm(const Camera& camera, const CameraAxes& axes, const Vec3& depth_of_mm) {
    const double reach = camera.parallel ? glm::length(camera.target_mm - camera.eye_mm)
                                         : glm::dot(depth_of_mm - camera.eye_mm, axes.forward);
    return reach * std::tan(0.5 * camera.vertical_angle_rad);
}

/// The whole camera turned about an axis through `pivot`.
Camera turned(const Camera& camera, const Vec3& pivot, const Vec3& axis, double angle) {
    const Mat3 turn = glm::mat3_cast(glm::angleAxis(angle, axis));
    Camera result = camera;
    result.eye_mm = pivot + turn * (camera.eye_mm - pivot);
    result.target_mm = pivot + turn * (camera.target_mm - pivot);
    result.up = turn * camera.up;
    return result;
}

} // namespace

CameraAxes axes_of(const Camera& camera) {
    const Vec3 forward = glm::normalize(camera.target_mm - camera.eye_mm);
    Vec3 right = glm::cross(forward, camera.up);
    if (glm::length(right) < 1e-9 * glm::length(camera.up)) {
        right = glm::cross(forward, Vec3{0.0, 1.0, 0.0});
        if (glm::length(right) < 1e-9) {
            right = Vec3{1.0, 0.0, 0.0};
        }
    }
    right = glm::normalize(right);
    return {right, glm::cross(right, forward), forward};
}

PicturePlace place_of(const Camera& camera, const Vec3& point_mm) {
    const CameraAxes axes = axes_of(camera);
    const Vec3 from_eye = point_mm - camera.eye_mm;
    const double half = half_height_mm(camera, axes, point_mm);
    return {glm::dot(from_eye, axes.right) / half, glm::dot(from_eye, axes.up) / half};
}

Vec3 point_at(const Camera& camera, PicturePlace place, const Vec3& depth_of_mm) {
    const CameraAxes axes = axes_of(camera);
    const double half = half_height_mm(camera, axes, depth_of_mm);
    const double depth = glm::dot(depth_of_mm - camera.eye_mm, axes.forward);
    return camera.eye_mm + depth * axes.forward + half * (place.across * axes.right + place.up * axes.up);
}

Camera orbited(const Camera& camera, const Vec3& pivot_mm, double turn_rad, double climb_rad) {
    Camera result = turned(camera, pivot_mm, {0.0, 0.0, 1.0}, turn_rad);
    const CameraAxes axes = axes_of(result);
    const double height_rad = std::asin(std::clamp(-axes.forward.z, -1.0, 1.0));
    const double straight = 0.5 * std::numbers::pi;
    const double climb = std::clamp(height_rad + climb_rad, -straight, straight) - height_rad;
    result.up = axes.up; // square to the line of sight, so that straight above is no special place
    return turned(result, pivot_mm, axes.right, -climb);
}

Camera panned(const Camera& camera, const Vec3& grabbed_mm, PicturePlace from, PicturePlace to) {
    const CameraAxes axes = axes_of(camera);
    const double half = half_height_mm(camera, axes, grabbed_mm);
    const Vec3 shift = half * ((from.across - to.across) * axes.right + (from.up - to.up) * axes.up);
    Camera result = camera;
    result.eye_mm += shift;
    result.target_mm += shift;
    return result;
}

Camera zoomed(const Camera& camera, const Vec3& about_mm, double factor) {
    const double reach = factor * glm::length(camera.target_mm - camera.eye_mm);
    if (!(reach >= kNearest_mm && reach <= kFurthest_mm)) {
        return camera;
    }
    Camera result = camera;
    result.eye_mm = about_mm + factor * (camera.eye_mm - about_mm);
    result.target_mm = about_mm + factor * (camera.target_mm - about_mm);
    return result;
}

} // namespace evenclose
