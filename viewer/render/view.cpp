#include "viewer/render/view.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace evenclose {
namespace {

bool finite(const Vec3& v) { return std::isfinite(v.x) && std::isfinite(v.y) && std::isfinite(v.z); }

bool can_see(const Camera& camera) {
    const double distance = glm::length(camera.eye_mm - camera.target_mm);
    return finite(camera.eye_mm) && finite(camera.target_mm) && std::isfinite(distance) && distance > 0 &&
           camera.vertical_angle_rad > 0 && camera.vertical_angle_rad < std::numbers::pi;
}

struct DepthRange {
    double near_mm = 0, far_mm = 0; // along the sight, from the eye
};

DepthRange depth_range(const Camera& camera, const EyeAxes& axes, const Box& reach) {
    const double distance = glm::length(camera.eye_mm - camera.target_mm);
    double nearest = 0.5 * distance;
    double farthest = 2.0 * distance;
    if (!reach.empty()) {
        nearest = 1e300;
        farthest = -1e300;
        for (int corner = 0; corner < 8; ++corner) {
            const Vec3 place{(corner & 1) != 0 ? reach.high_mm.x : reach.low_mm.x,
                             (corner & 2) != 0 ? reach.high_mm.y : reach.low_mm.y,
                             (corner & 4) != 0 ? reach.high_mm.z : reach.low_mm.z};
            const double depth = -glm::dot(place - camera.eye_mm, axes.backward);
            nearest = std::min(nearest, depth);
            farthest = std::max(farthest, depth);
        }
    }
    const double room = 0.01 * (farthest - nearest) + 1e-3 * distance;
    nearest -= room;
    farthest += room;
    if (camera.parallel) {
        return {nearest, farthest};
    }
    // 24 bits resolve z^2 / (near 2^24): with far / near = 5000, a hundredth of a millimetre half a metre away from an eye
    // that stands amid a press of 3 m.
    farthest = std::max(farthest, 1e-2 * distance);
    return {std::max(nearest, farthest / 5000.0), farthest};
}

glm::dmat4 perspective(double half_height, double aspect, DepthRange range) {
    glm::dmat4 m{0.0};
    m[0][0] = 1.0 / (half_height * aspect);
    m[1][1] = 1.0 / half_height;
    m[2][2] = -(range.far_mm + range.near_mm) / (range.far_mm - range.near_mm);
    m[2][3] = -1.0;
    m[3][2] = -2.0 * range.far_mm * range.near_mm / (range.far_mm - range.near_mm);
    return m;
}

glm::dmat4 parallel(double half_height_mm, double aspect, DepthRange range) {
    glm::dmat4 m{1.0};
    m[0][0] = 1.0 / (half_height_mm * aspect);
    m[1][1] = 1.0 / half_height_mm;
    m[2][2] = -2.0 / (range.far_mm - range.near_mm);
    m[3][2] = -(range.far_mm + range.near_mm) / (range.far_mm - range.near_mm);
    return m;
}

} // namespace

EyeAxes eye_axes(const Camera& camera) {
    EyeAxes axes;
    axes.backward = glm::normalize(camera.eye_mm - camera.target_mm);
    for (const Vec3& up : {camera.up, Vec3{0.0, 1.0, 0.0}, Vec3{0.0, 0.0, 1.0}}) {
        const Vec3 right = glm::cross(up, axes.backward);
        const double length = glm::length(right);
        if (std::isfinite(length) && length > 1e-6 * glm::length(up) && length > 0) {
            axes.right = right / length;
            axes.up = glm::cross(axes.backward, axes.right);
            break;
        }
    }
    return axes;
}

glm::mat4 View::model_to_eye(const Pose& pose, const Vec3& middle_mm) const {
    glm::dmat4 model{pose.rotation};
    model[3] = glm::dvec4(pose.apply(middle_mm) - origin_mm, 1.0);
    return glm::mat4(to_eye * model);
}

glm::vec4 View::kept_of(const SectionPlane& plane) const {
    const Vec3 kept = -glm::normalize(plane.towards);
    const Vec3 kept_in_eye{to_eye * glm::dvec4(kept, 0.0)};
    const Vec3 through{to_eye * glm::dvec4(plane.through_mm - origin_mm, 1.0)};
    return {glm::vec3(kept_in_eye), static_cast<float>(-glm::dot(kept_in_eye, through))};
}

std::optional<View> view_of(const Camera& camera, double aspect, const Box& reach_mm) {
    if (!can_see(camera) || !(aspect > 0) || !std::isfinite(aspect)) {
        return std::nullopt;
    }
    const EyeAxes axes = eye_axes(camera);
    View view;
    view.origin_mm = camera.target_mm;
    view.parallel = camera.parallel;
    const Vec3 eye = camera.eye_mm - camera.target_mm;
    for (int i = 0; i < 3; ++i) {
        view.to_eye[i] = glm::dvec4(axes.right[i], axes.up[i], axes.backward[i], 0.0);
    }
    view.to_eye[3] = glm::dvec4(-glm::dot(axes.right, eye), -glm::dot(axes.up, eye), -glm::dot(axes.backward, eye), 1);
    const DepthRange range = depth_range(camera, axes, reach_mm);
    const double half_height = std::tan(0.5 * camera.vertical_angle_rad);
    view.projection = camera.parallel ? parallel(half_height * glm::length(eye), aspect, range)
                                      : perspective(half_height, aspect, range);
    return view;
}

SightLine sight_line(const Camera& camera, int width, int height, double x, double y) {
    const EyeAxes axes = eye_axes(camera);
    const double half_height = std::tan(0.5 * camera.vertical_angle_rad);
    const double across = (2.0 * x / width - 1.0) * half_height * width / height;
    const double upward = (1.0 - 2.0 * y / height) * half_height;
    if (camera.parallel) {
        const double distance = glm::length(camera.eye_mm - camera.target_mm);
        return {camera.eye_mm + distance * (across * axes.right + upward * axes.up), -axes.backward};
    }
    return {camera.eye_mm, glm::normalize(across * axes.right + upward * axes.up - axes.backward)};
}

std::optional<Vec2> pixel_of(const Camera& camera, int width, int height, const Vec3& place_mm) {
    const EyeAxes axes = eye_axes(camera);
    const Vec3 from_eye = place_mm - camera.eye_mm;
    const double depth = -glm::dot(from_eye, axes.backward);
    const double scale = std::tan(0.5 * camera.vertical_angle_rad) *
                         (camera.parallel ? glm::length(camera.eye_mm - camera.target_mm) : depth);
    if (!(scale > 0)) {
        return std::nullopt;
    }
    return Vec2{0.5 * width + 0.5 * height * glm::dot(from_eye, axes.right) / scale,
                0.5 * height - 0.5 * height * glm::dot(from_eye, axes.up) / scale};
}

} // namespace evenclose
