// tests/referee/exact.hpp: exact rational points, segments and triangles (CGAL), degenerate ones taken for what they are.
//
// CGAL's own functions want a triangle to be one; here a triangle without area is its longest edge, or a point. Distances
// are put together from CGAL's least parts, so that none of its short cuts is asked.
#pragma once

#include "checks/clearance/piercing.hpp"

#include <CGAL/Exact_rational.h>
#include <CGAL/Simple_cartesian.h>
#include <CGAL/intersections.h>
#include <CGAL/squared_distance_3.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace evenclose::exact {

using Number = CGAL::Exact_rational;
using ExactKernel = CGAL::Simple_cartesian<Number>;
using DoubleKernel = CGAL::Simple_cartesian<double>;

/// The convex hull of one, two or three points that are neither doubled nor on one line.
template <class Kernel> struct Simplex {
    std::vector<typename Kernel::Point_3> points;

    [[nodiscard]] std::size_t dimension() const { return points.size() - 1; }
    [[nodiscard]] typename Kernel::Segment_3 edge(std::size_t i) const {
        return {points[i], points[(i + 1) % points.size()]};
    }
    [[nodiscard]] std::size_t edges() const { return points.size() == 3 ? 3 : points.size() - 1; }
    [[nodiscard]] typename Kernel::Triangle_3 triangle() const { return {points[0], points[1], points[2]}; }
};

template <class Kernel> [[nodiscard]] Simplex<Kernel> simplex_of(std::vector<typename Kernel::Point_3> points) {
    std::sort(points.begin(), points.end());
    points.erase(std::unique(points.begin(), points.end()), points.end());
    if (points.size() == 3 && CGAL::collinear(points[0], points[1], points[2])) {
        points.erase(points.begin() + 1); // sorted along the line: the one between the others
    }
    return {std::move(points)};
}

template <class Kernel> [[nodiscard]] Simplex<Kernel> simplex_of(const Triangle& t) {
    std::vector<typename Kernel::Point_3> points;
    for (const Vec3& corner : t) {
        points.emplace_back(corner.x, corner.y, corner.z);
    }
    return simplex_of<Kernel>(std::move(points));
}

template <class Kernel> [[nodiscard]] bool meet(const Simplex<Kernel>& a, const Simplex<Kernel>& b) {
    if (a.dimension() < b.dimension()) {
        return meet(b, a);
    }
    switch (3 * a.dimension() + b.dimension()) {
    case 0:
        return a.points[0] == b.points[0];
    case 3:
        return a.edge(0).has_on(b.points[0]);
    case 4:
        return CGAL::do_intersect(a.edge(0), b.edge(0));
    case 6:
        return a.triangle().has_on(b.points[0]);
    case 7:
        return CGAL::do_intersect(a.triangle(), b.edge(0));
    default:
        return CGAL::do_intersect(a.triangle(), b.triangle());
    }
}

template <class Kernel>
[[nodiscard]] typename Kernel::FT squared_distance(const Simplex<Kernel>& a, const Simplex<Kernel>& b) {
    if (meet(a, b)) {
        return 0;
    }
    typename Kernel::FT least = CGAL::squared_distance(a.points[0], b.points[0]);
    for (const auto* pair : {&a, &b}) {
        const Simplex<Kernel>& one = *pair;
        const Simplex<Kernel>& other = pair == &a ? b : a;
        for (const auto& point : one.points) {
            if (other.dimension() == 2) {
                least = std::min(least, typename Kernel::FT(CGAL::squared_distance(point, other.triangle())));
            } else if (other.dimension() == 1) {
                least = std::min(least, typename Kernel::FT(CGAL::squared_distance(point, other.edge(0))));
            }
        }
    }
    for (std::size_t i = 0; i < a.edges(); ++i) {
        for (std::size_t j = 0; j < b.edges(); ++j) {
            least = std::min(least, typename Kernel::FT(CGAL::squared_distance(a.edge(i), b.edge(j))));
        }
    }
    return least;
}

} // namespace evenclose::exact
