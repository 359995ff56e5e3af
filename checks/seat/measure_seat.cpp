#include "checks/deck.hpp"
#include "checks/seat/seat.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>
#include <limits>

namespace evenclose {
namespace {

// How far off the outermost level a back may wander and still be seen as the seat: more than any warp that a print
// bed gives (common practice, no source), less than the depth of a mold's pockets.
constexpr double kBand_mm = 2.0;

bool is_lower(const Body& half) { return half.part == Part::mold_lower; }

double cross(const Vec2& a, const Vec2& b) { return a.x * b.y - a.y * b.x; }

/// Convex hull, counter-clockwise (Andrew's monotone chain, 1979).
std::vector<Vec2> convex_hull(std::vector<Vec2> points) {
    std::sort(points.begin(), points.end(),
              [](const Vec2& a, const Vec2& b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
    std::vector<Vec2> hull;
    const auto extend = [&](const auto& range, std::size_t keep) {
        for (const Vec2& point : range) {
            while (hull.size() >= keep + 2 &&
                   cross(hull.back() - hull[hull.size() - 2], point - hull[hull.size() - 2]) <= 0) {
                hull.pop_back();
            }
            hull.push_back(point);
        }
    };
    extend(points, 0);
    const std::size_t lower = hull.size() - 1;
    extend(std::vector<Vec2>(points.rbegin() + 1, points.rend()), lower);
    hull.pop_back();
    return hull;
}

} // namespace

SeatMeasure measure_seat(const Body& half, const Platen& platen, double flatness_limit_mm) {
    SeatMeasure measure;
    measure.half = half.name;
    measure.on = is_lower(half) ? "platen" : "head";
    const double outward = is_lower(half) ? -1.0 : 1.0; // the way the seat faces, along Z
    const TriangleMesh& mesh = *half.mesh;
    const Box box = bounds_of(mesh, half.placement);
    const double level_mm = outward < 0 ? box.low_mm.z : box.high_mm.z;
    const double band_mm = std::max(kBand_mm, 5.0 * flatness_limit_mm);

    // The seat's triangles: area, and the area-weighted moments of its corners for the best plane.
    std::vector<Vec3> corners;
    double rectangle_mm2 = box.size_mm().x * box.size_mm().y;
    for (const TriangleCorners& t : mesh.triangles) {
        const Vec3 a = half.placement.apply(mesh.vertices_mm[t[0]]);
        const Vec3 b = half.placement.apply(mesh.vertices_mm[t[1]]);
        const Vec3 c = half.placement.apply(mesh.vertices_mm[t[2]]);
        const double plan_mm2 = 0.5 * cross({b.x - a.x, b.y - a.y}, {c.x - a.x, c.y - a.y}) * outward;
        const auto near_level = [&](const Vec3& p) { return std::abs(p.z - level_mm) <= band_mm; };
        if (plan_mm2 > 0 && near_level(a) && near_level(b) && near_level(c)) {
            measure.area_mm2 += plan_mm2;
            corners.insert(corners.end(), {a, b, c});
        }
    }
    measure.share = rectangle_mm2 > 0 ? std::min(1.0, measure.area_mm2 / rectangle_mm2) : 0.0;
    if (corners.empty()) {
        return measure;
    }

    // Best plane z = c0 + c1 x + c2 y about the box's middle (so that no digits are lost), each corner once a triangle.
    const Vec3 middle = box.centre_mm();
    Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
    Eigen::Vector3d right = Eigen::Vector3d::Zero();
    for (const Vec3& p : corners) {
        const Eigen::Vector3d row{1.0, p.x - middle.x, p.y - middle.y};
        normal += row * row.transpose();
        right += row * (p.z - level_mm);
    }
    const Eigen::Vector3d plane = normal.ldlt().solve(right);
    double lowest = std::numeric_limits<double>::infinity();
    double highest = -lowest;
    double farthest = -1;
    measure.overhang_mm = -lowest;
    const Vec2 half_size = 0.5 * platen.size_mm;
    for (const Vec3& p : corners) {
        const double off = p.z - level_mm - plane.dot(Eigen::Vector3d{1.0, p.x - middle.x, p.y - middle.y});
        lowest = std::min(lowest, off);
        highest = std::max(highest, off);
        if (std::abs(off) > farthest) {
            farthest = std::abs(off);
            measure.roughest_at_mm = p;
        }
        struct Side {
            double over_mm;
            const char* name;
        };
        const double x = p.x - platen.centre_mm.x;
        const double y = p.y - platen.centre_mm.y;
        for (const Side& side : {Side{x - half_size.x, "right (+X)"}, Side{-x - half_size.x, "left (-X)"},
                                 Side{y - half_size.y, "back (+Y)"}, Side{-y - half_size.y, "front (-Y)"}}) {
            if (side.over_mm > measure.overhang_mm) {
                measure.overhang_mm = side.over_mm;
                measure.overhang_at_mm = p;
                measure.overhang_side = side.name;
            }
        }
    }
    measure.flatness_mm = highest - lowest;

    Box seat;
    for (const Vec3& p : corners) {
        seat.add(p);
    }
    const bool along_x = measure.overhang_side.find('X') != std::string::npos;
    const double room = along_x ? platen.size_mm.x - seat.size_mm().x : platen.size_mm.y - seat.size_mm().y;
    measure.free_shift_mm = room; // what is over at the other side once the seat is flush with this one
    return measure;
}

PressedMeasure measure_pressed(const Setup& setup) {
    PressedMeasure measure;
    measure.centre_mm = deck_plan(setup, setup.openings.front()).centre_mm;
    std::vector<Vec2> feet;
    for (const Jack& jack : setup.press->jacks) {
        feet.emplace_back(jack.foot_mm.x, jack.foot_mm.y);
        measure.jack_head_mm = std::max(measure.jack_head_mm, 0.5 * head_width_mm(jack));
    }
    const std::vector<Vec2> hull = convex_hull(feet);
    if (hull.size() < 3) { // all in one line, as with two jacks
        const auto [first, last] = std::minmax_element(
            feet.begin(), feet.end(), [](const Vec2& a, const Vec2& b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
        const Vec2 line = *last - *first;
        const double span = std::hypot(line.x, line.y);
        measure.one_line = true;
        const Vec2 from_first = measure.centre_mm - *first;
        const double along = span > 0 ? (from_first.x * line.x + from_first.y * line.y) / span : 0.0;
        measure.inside_mm = std::min(along, span - along);
        measure.beside_mm =
            span > 0 ? std::abs(cross(line, from_first)) / span : std::hypot(from_first.x, from_first.y);
        return measure;
    }
    measure.inside_mm = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < hull.size(); ++i) {
        const Vec2 edge = hull[(i + 1) % hull.size()] - hull[i];
        measure.inside_mm =
            std::min(measure.inside_mm, cross(edge, measure.centre_mm - hull[i]) / std::hypot(edge.x, edge.y));
    }
    return measure;
}

} // namespace evenclose
