#include "viewer/app/flight.hpp"

#include "viewer/app/camera_control.hpp"

#include <glm/geometric.hpp>
#include <glm/gtc/quaternion.hpp>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

Quat look_of(const Camera& camera) {
    const CameraAxes axes = axes_of(camera);
    return glm::quat_cast(Mat3{axes.right, axes.up, -axes.forward});
}

} // namespace

Camera camera_on(const Flight& flight) {
    if (flight.over()) {
        return flight.to;
    }
    const double part = std::clamp(flight.elapsed_s / flight.duration_s, 0.0, 1.0);
    const double share = part * part * (3.0 - 2.0 * part);
    const double reach_from = glm::length(flight.from.target_mm - flight.from.eye_mm);
    const double reach_to = glm::length(flight.to.target_mm - flight.to.eye_mm);
    const double reach = reach_from * std::pow(reach_to / reach_from, share);
    const Quat look = glm::slerp(look_of(flight.from), look_of(flight.to), share);

    Camera camera = flight.to;
    camera.target_mm = glm::mix(flight.from.target_mm, flight.to.target_mm, share);
    camera.eye_mm = camera.target_mm + reach * (look * Vec3{0.0, 0.0, 1.0});
    camera.up = look * Vec3{0.0, 1.0, 0.0};
    camera.vertical_angle_rad = glm::mix(flight.from.vertical_angle_rad, flight.to.vertical_angle_rad, share);
    return camera;
}

} // namespace evenclose
