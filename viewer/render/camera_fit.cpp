#include "viewer/render/camera_fit.hpp"

#include "viewer/render/view.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

constexpr double kNearest_mm = 100; // of a target without extent: from there a thread is still a thread

/// Least and greatest of a number.
struct Range {
    double low = 1e300, high = -1e300;
    void add(double value) {
        low = std::min(low, value);
        high = std::max(high, value);
    }
    [[nodiscard]] double middle() const { return 0.5 * (low + high); }
    [[nodiscard]] double size() const { return high - low; }
};

} // namespace

Camera fit_camera(std::span<const Vec3> places_mm, const FitRequest& request) {
    Camera camera;
    camera.up = request.up;
    camera.vertical_angle_rad = request.vertical_angle_rad;
    camera.parallel = request.parallel;
    camera.target_mm = places_mm.front(); // only for the axes' direction
    camera.eye_mm = places_mm.front() + glm::normalize(request.towards_viewer);
    const EyeAxes axes = eye_axes(camera);

    const double whole_up = std::tan(0.5 * request.vertical_angle_rad);
    const double used = 1.0 - 2.0 * request.margin;
    const double up_slope = whole_up * used;
    const double right_slope = whole_up * request.aspect * used;

    // A place (x, y, z), z towards the viewer, is within the right side if x - eye.x <= (eye.z - z) slope, that is
    // x + z slope <= eye.x + eye.z slope; likewise the other three sides.
    Range x, y, z;
    double right = -1e300, left = -1e300, above = -1e300, below = -1e300;
    for (const Vec3& place : places_mm) {
        const Vec3 from = place - places_mm.front();
        const Vec3 p{glm::dot(from, axes.right), glm::dot(from, axes.up), glm::dot(from, axes.backward)};
        x.add(p.x);
        y.add(p.y);
        z.add(p.z);
        right = std::max(right, p.x + p.z * right_slope);
        left = std::max(left, -p.x + p.z * right_slope);
        above = std::max(above, p.y + p.z * up_slope);
        below = std::max(below, -p.y + p.z * up_slope);
    }
    Vec3 eye{0.0};
    double target_z = z.middle();
    if (request.parallel) {
        const double half_height = std::max(0.5 * y.size() / used, 0.5 * x.size() / used / request.aspect);
        eye = {x.middle(), y.middle(), target_z + half_height / whole_up};
        eye.z = std::max(eye.z, target_z + kNearest_mm);
    } else {
        eye.z = std::max((right + left) / (2.0 * right_slope), (above + below) / (2.0 * up_slope));
        eye.z = std::max(eye.z, z.high + kNearest_mm);
        eye.x = 0.5 * (right - left);
        eye.y = 0.5 * (above - below);
    }
    const auto world = [&](const Vec3& p) {
        return places_mm.front() + p.x * axes.right + p.y * axes.up + p.z * axes.backward;
    };
    camera.eye_mm = world(eye);
    camera.target_mm = world({eye.x, eye.y, target_z});
    return camera;
}

} // namespace evenclose
