#include "scene/press/linkage_solid.hpp"

#include "scene/press/prism.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

namespace evenclose {
namespace {

constexpr double kPi = std::numbers::pi;
// Arcs and round ends are followed by tangents over steps of at most this angle: 15 deg leaves 0.9 % of the radius.
constexpr double kStep_rad = kPi / 12;

void need(const LinkShape& link) {
    if (!(link.arm_mm > 0 && link.width_mm > 0 && link.depth_mm > 0)) {
        throw std::invalid_argument("scissor jack: arm, link width and link depth must be above 0");
    }
}

double cross(const Vec2& o, const Vec2& a, const Vec2& b) {
    return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
}

/// Andrew's monotone chain; counter-clockwise.
std::vector<Vec2> convex_hull(std::vector<Vec2> points) {
    std::sort(points.begin(), points.end(),
              [](const Vec2& a, const Vec2& b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
    std::vector<Vec2> hull;
    for (const bool upper : {false, true}) {
        const std::size_t start = hull.size();
        for (const Vec2& point : points) {
            // A hair of tolerance: corners all but in line would leave slivers.
            while (hull.size() >= start + 2 && cross(hull[hull.size() - 2], hull.back(), point) <= 1e-9) {
                hull.pop_back();
            }
            hull.push_back(point);
        }
        hull.pop_back();
        if (!upper) {
            std::reverse(points.begin(), points.end());
        }
    }
    return hull;
}

/// Corners of a regular polygon about `centre` that encloses the circle.
void add_circle(std::vector<Vec2>& points, const Vec2& centre, double radius) {
    const int sides = static_cast<int>(std::ceil(2 * kPi / kStep_rad));
    const double outer = radius / std::cos(kPi / sides);
    for (int i = 0; i < sides; ++i) {
        const double angle = 2 * kPi * (i + 0.5) / sides;
        points.push_back(centre + outer * Vec2{std::cos(angle), std::sin(angle)});
    }
}

/// Circles about the far pin at its first and last place, and where the tangents at the steps between meet: their hull
/// holds the whole arc.
void add_swing(std::vector<Vec2>& points, double arm, double radius, double from, double to) {
    const int steps = std::max(1, static_cast<int>(std::ceil((to - from) / kStep_rad)));
    const double outer = arm / std::cos(0.5 * (to - from) / steps);
    add_circle(points, arm * Vec2{std::cos(from), std::sin(from)}, radius);
    add_circle(points, arm * Vec2{std::cos(to), std::sin(to)}, radius);
    for (int i = 0; i < steps; ++i) {
        const double angle = from + (to - from) * (i + 0.5) / steps;
        add_circle(points, outer * Vec2{std::cos(angle), std::sin(angle)}, radius);
    }
}

/// Drawn in X and Z, `depth` along Y about the middle.
TriangleMesh slab(std::vector<Vec2> points, double depth) {
    Outline outline;
    outline.outer.corners_mm = convex_hull(std::move(points));
    // prism: u on X, v on Y, out along Z. Bring v to Z, and Z to -Y, which keeps it right-handed.
    const Mat3 upright{Vec3{1, 0, 0}, Vec3{0, 0, 1}, Vec3{0, -1, 0}};
    return placed(prism(outline, depth), {upright, {0, 0.5 * depth, 0}});
}

} // namespace

TriangleMesh link_solid(const LinkShape& link) {
    need(link);
    std::vector<Vec2> points;
    add_circle(points, {0, 0}, 0.5 * link.width_mm);
    add_circle(points, {link.arm_mm, 0}, 0.5 * link.width_mm);
    return slab(std::move(points), link.depth_mm);
}

TriangleMesh swung_link_solid(const LinkShape& link, double from_rad, double to_rad) {
    need(link);
    std::vector<Vec2> points;
    add_circle(points, {0, 0}, 0.5 * link.width_mm);
    add_swing(points, link.arm_mm, 0.5 * link.width_mm, from_rad, to_rad);
    return slab(std::move(points), link.depth_mm);
}

TriangleMesh swung_cross_solid(const LinkShape& link, double from_rad, double to_rad) {
    need(link);
    std::vector<Vec2> points;
    add_swing(points, 0.5 * link.arm_mm, 0.5 * link.width_mm, from_rad, to_rad);
    const std::size_t quarter = points.size();
    for (std::size_t i = 0; i < quarter; ++i) {
        const Vec2 p = points[i];
        points.insert(points.end(), {Vec2{-p.x, p.y}, Vec2{p.x, -p.y}, Vec2{-p.x, -p.y}});
    }
    return slab(std::move(points), link.depth_mm);
}

} // namespace evenclose
