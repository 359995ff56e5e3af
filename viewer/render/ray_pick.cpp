#include "viewer/render/ray_pick.hpp"

#include "viewer/render/ray_mesh.hpp"
#include "viewer/render/view.hpp"

#include <cmath>
#include <limits>

namespace evenclose {

std::optional<RayPick> ray_pick(const Frame& frame, int width, int height, double x, double y) {
    if (!(x >= 0 && y >= 0 && x <= width && y <= height) || !view_of(frame.camera, 1.0 * width / height, {})) {
        return std::nullopt;
    }
    const SightLine line = sight_line(frame.camera, width, height, x, y);
    std::optional<RayPick> nearest;
    // Parallel sight lines start at the eye's plane, but bodies behind it are drawn too.
    double least = std::numeric_limits<double>::infinity();
    for (const DrawnBody& body : frame.bodies) {
        if (body.mesh == nullptr) {
            continue;
        }
        const Pose back = inverse(body.pose);
        const double beyond = frame.camera.parallel ? -1e9 : 0.0;
        const auto hit = ray_mesh_of(body.mesh)->first_hit_mm(back.apply(line.from_mm), back.turn(line.along), beyond);
        if (hit && *hit < least) {
            least = *hit;
            nearest = RayPick{body.body, line.from_mm + least * line.along};
        }
    }
    return nearest;
}

} // namespace evenclose
