#include "viewer/render/detail.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

constexpr double kStandingCell_px = 1.6; // a cell's vertex is its middle: off by half of that at most
constexpr double kMovingCell_px = 6.0;   // seen only where it moves, and gone when it stops

} // namespace

Detail::Detail(const Camera& camera, int height_px, bool moving)
    : camera_(camera), forward_(-eye_axes(camera).backward), cell_px_(moving ? kMovingCell_px : kStandingCell_px) {
    mm_a_pixel_at_1_mm_ = 2.0 * std::tan(0.5 * camera.vertical_angle_rad) / height_px;
    if (camera.parallel) {
        mm_a_pixel_at_1_mm_ *= glm::length(camera.eye_mm - camera.target_mm);
    }
}

std::size_t Detail::level_for(const PlacedBody& body) const {
    if (cell_px_ == 0 || body.mesh->levels() == 1) {
        return 0;
    }
    double nearest = 1.0;
    if (!camera_.parallel) {
        nearest = 1e300;
        for (const Vec3& corner : corners_of(body.box_mm)) {
            nearest = std::min(nearest, glm::dot(corner - camera_.eye_mm, forward_));
        }
        nearest = std::max(nearest, 0.0);
    }
    const double allowed_mm = cell_px_ * mm_a_pixel_at_1_mm_ * nearest;
    std::size_t level = body.mesh->levels() - 1;
    while (level > 0 && body.mesh->cell_mm(level) > allowed_mm) {
        --level;
    }
    return level;
}

} // namespace evenclose
