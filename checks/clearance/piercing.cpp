#include "checks/clearance/piercing.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

/// Unit normal; zero for a triangle that is a line or a point.
Vec3 normal_of(const Triangle& t) {
    const Vec3 twice = glm::cross(t[1] - t[0], t[2] - t[0]);
    const double area = glm::length(twice);
    const double longest = std::max({glm::length(t[1] - t[0]), glm::length(t[2] - t[1]), glm::length(t[0] - t[2])});
    return area > kTouch_mm * longest ? twice / area : Vec3{0.0};
}

/// Heights of the corners of t over the plane through `point`.
std::array<double, 3> heights(const Triangle& t, const Vec3& normal, const Vec3& point) {
    return {glm::dot(normal, t[0] - point), glm::dot(normal, t[1] - point), glm::dot(normal, t[2] - point)};
}

bool on_both_sides(const std::array<double, 3>& height) {
    return std::max({height[0], height[1], height[2]}) > kTouch_mm &&
           std::min({height[0], height[1], height[2]}) < -kTouch_mm;
}

struct Stretch {
    double from = 1e300, to = -1e300;
    void add(double x) {
        from = std::min(from, x);
        to = std::max(to, x);
    }
};

/// Where t crosses height 0, as a stretch along `line`, measured from `origin`.
Stretch crossing(const Triangle& t, const std::array<double, 3>& height, const Vec3& line, const Vec3& origin) {
    Stretch stretch;
    for (std::size_t i = 0; i < 3; ++i) {
        const std::size_t j = (i + 1) % 3;
        if ((height[i] <= 0) != (height[j] <= 0)) {
            const double share = height[i] / (height[i] - height[j]);
            stretch.add(glm::dot(line, t[i] + share * (t[j] - t[i]) - origin));
        }
    }
    return stretch;
}

/// In the plane of t (unit normal given), inside every edge by more than kTouch_mm.
bool well_inside(const Triangle& t, const Vec3& normal, const Vec3& point) {
    for (std::size_t i = 0; i < 3; ++i) {
        const Vec3 edge = t[(i + 1) % 3] - t[i];
        if (glm::dot(glm::cross(normal, edge), point - t[i]) <= kTouch_mm * glm::length(edge)) {
            return false;
        }
    }
    return true;
}

} // namespace

bool pierce(const Triangle& a, const Triangle& b) {
    const Vec3 normal_a = normal_of(a);
    const Vec3 normal_b = normal_of(b);
    if (normal_a == Vec3{0.0} || normal_b == Vec3{0.0}) {
        return false;
    }
    const auto heights_a = heights(a, normal_b, b[0]);
    const auto heights_b = heights(b, normal_a, a[0]);
    if (!on_both_sides(heights_a) || !on_both_sides(heights_b)) {
        return false;
    }
    const Vec3 across = glm::cross(normal_a, normal_b);
    const double sine = glm::length(across);
    if (sine == 0.0) {
        return false;
    }
    const Vec3 line = across / sine;
    const Vec3 origin = a[0];
    const Stretch of_a = crossing(a, heights_a, line, origin);
    const Stretch of_b = crossing(b, heights_b, line, origin);
    const double from = std::max(of_a.from, of_b.from);
    const double to = std::min(of_a.to, of_b.to);
    if (to - from <= kTouch_mm) {
        return false;
    }
    // A point of both planes, on the line's middle: start on a's crossing of b's plane.
    for (std::size_t i = 0; i < 3; ++i) {
        const std::size_t j = (i + 1) % 3;
        if ((heights_a[i] <= 0) != (heights_a[j] <= 0)) {
            const Vec3 start = a[i] + heights_a[i] / (heights_a[i] - heights_a[j]) * (a[j] - a[i]);
            const Vec3 middle = start + (0.5 * (from + to) - glm::dot(line, start - origin)) * line;
            return well_inside(a, normal_a, middle) && well_inside(b, normal_b, middle);
        }
    }
    return false;
}

bool overlap_same_way(const Triangle& a, const Triangle& b) {
    const Vec3 normal_a = normal_of(a);
    const Vec3 normal_b = normal_of(b);
    if (normal_a == Vec3{0.0} || normal_b == Vec3{0.0} || glm::dot(normal_a, normal_b) <= 0) {
        return false;
    }
    for (const double height : heights(b, normal_a, a[0])) {
        if (std::abs(height) > kTouch_mm) {
            return false;
        }
    }
    // Separating lines in the plane: some edge of either with the other triangle wholly outside (touching counts so).
    const auto parted_by_an_edge_of = [](const Triangle& t, const Vec3& normal, const Triangle& other) {
        for (std::size_t i = 0; i < 3; ++i) {
            const Vec3 edge = t[(i + 1) % 3] - t[i];
            const Vec3 inward = glm::cross(normal, edge) / std::max(glm::length(edge), kTouch_mm);
            if (std::max({glm::dot(inward, other[0] - t[i]), glm::dot(inward, other[1] - t[i]),
                          glm::dot(inward, other[2] - t[i])}) <= kTouch_mm) {
                return true;
            }
        }
        return false;
    };
    return !parted_by_an_edge_of(a, normal_a, b) && !parted_by_an_edge_of(b, normal_b, a);
}

} // namespace evenclose
