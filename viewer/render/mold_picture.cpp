#include "viewer/render/mold_picture.hpp"

#include "viewer/render/camera_fit.hpp"
#include "viewer/render/placed_body.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace evenclose {
namespace {

// So much of the mold's height the upper half is lifted.
constexpr double kApart = 0.55;

Box finite_bounds(const SharedMesh& mesh) {
    Box box;
    if (mesh) {
        for (const Vec3& v : mesh->vertices_mm) {
            if (std::isfinite(v.x) && std::isfinite(v.y) && std::isfinite(v.z)) {
                box.add(v);
            }
        }
    }
    return box;
}

/// How far the upper half stands above where it is drawn, once closed.
double closed_lift_mm(const Mold& mold, const Box& lower, const Box& upper) {
    const double lift = lower.low_mm.z + mold.closed_shut_height_mm() - upper.high_mm.z;
    return std::isfinite(lift) ? lift : 0.0;
}

} // namespace

Vec3 mold_size_mm(const Mold& mold) {
    Box lower = finite_bounds(mold.lower.mesh);
    const Box upper = finite_bounds(mold.upper.mesh);
    if (lower.empty() || upper.empty()) {
        return lower.empty() ? (upper.empty() ? Vec3{0.0} : upper.size_mm()) : lower.size_mm();
    }
    const double height = mold.closed_shut_height_mm();
    lower.add(upper.low_mm);
    lower.add(upper.high_mm);
    const Vec3 size = lower.size_mm();
    return {size.x, size.y, std::isfinite(height) ? height : size.z};
}

Frame mold_picture(const Mold& mold, const Palette& palette, double aspect) {
    Frame frame;
    frame.floor = false;
    frame.surroundings = palette.surroundings;
    const Box lower = finite_bounds(mold.lower.mesh);
    const Box upper = finite_bounds(mold.upper.mesh);
    std::vector<Vec3> places;
    const auto add = [&](const SharedMesh& mesh, const Box& box, const Colour& colour, double up_mm) {
        if (box.empty()) {
            return;
        }
        DrawnBody body;
        body.mesh = mesh;
        body.pose.translation_mm = {0.0, 0.0, up_mm};
        body.colour = colour;
        body.body = static_cast<std::uint32_t>(frame.bodies.size());
        frame.bodies.push_back(body);
        for (const Vec3& corner : corners_of(box)) {
            places.push_back(corner + Vec3{0.0, 0.0, up_mm});
        }
    };
    add(mold.lower.mesh, lower, palette.mold_lower, 0.0);
    double lift = 0;
    if (!lower.empty() && !upper.empty()) {
        lift = closed_lift_mm(mold, lower, upper) + kApart * mold_size_mm(mold).z;
    }
    add(mold.upper.mesh, upper, palette.mold_upper, lift);
    if (!places.empty()) {
        frame.camera = fit_camera(places, {.towards_viewer = {0.44, -1.0, 0.34}, .aspect = aspect, .margin = 0.05});
    }
    return frame;
}

} // namespace evenclose
