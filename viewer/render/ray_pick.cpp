#include "viewer/render/ray_pick.hpp"

#include "viewer/render/ray_mesh.hpp"
#include "viewer/render/view.hpp"

#include <glm/geometric.hpp>

#include <cmath>
#include <limits>

namespace evenclose {
namespace {

/// The part of a sight line on which things are seen, mm from its start.
struct Stretch {
    double from_mm = 0, to_mm = 0;
    bool starts_at_section = false;
};

Stretch kept_of(Stretch stretch, const SightLine& line, const SectionPlane& plane) {
    const double towards_it = glm::dot(line.along, plane.towards);
    const double meets_mm = glm::dot(plane.through_mm - line.from_mm, plane.towards) / towards_it;
    if (towards_it < 0 && meets_mm > stretch.from_mm) { // from what is taken away into what is kept
        stretch = {meets_mm, stretch.to_mm, true};
    } else if (towards_it > 0) {
        stretch.to_mm = meets_mm;
    } else if (towards_it == 0 && glm::dot(line.from_mm - plane.through_mm, plane.towards) > 0) {
        stretch.to_mm = stretch.from_mm;
    }
    return stretch;
}

} // namespace

std::optional<RayPick> ray_pick(const Frame& frame, int width, int height, double x, double y) {
    if (!(x >= 0 && y >= 0 && x <= width && y <= height) || !view_of(frame.camera, 1.0 * width / height, {})) {
        return std::nullopt;
    }
    const SightLine line = sight_line(frame.camera, width, height, x, y);
    // Parallel sight lines start at the eye's plane, but bodies behind it are drawn too.
    Stretch seen{frame.camera.parallel ? -1e9 : 0.0, std::numeric_limits<double>::infinity()};
    if (frame.section) {
        seen = kept_of(seen, line, *frame.section);
    }
    std::optional<RayPick> nearest;
    double least = seen.to_mm;
    for (const DrawnBody& body : frame.bodies) {
        if (body.mesh == nullptr) {
            continue;
        }
        const Pose back = inverse(body.pose);
        auto hit = ray_mesh_of(body.mesh)->first_hit(back.apply(line.from_mm), back.turn(line.along), seen.from_mm);
        const bool on_section = hit && hit->leaving && seen.starts_at_section;
        if (on_section) {
            hit->along_mm = seen.from_mm; // the section's face closes the solid there
        }
        if (hit && hit->along_mm < least) {
            least = hit->along_mm;
            nearest = RayPick{body.body, line.from_mm + least * line.along,
                              on_section ? glm::normalize(frame.section->towards) : body.pose.turn(hit->normal)};
        }
    }
    return nearest;
}

} // namespace evenclose
