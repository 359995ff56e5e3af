#include "scene/sections/boundary.hpp"

#include <array>
#include <cmath>
#include <numbers>

namespace evenclose {
namespace {

constexpr double kQuarter = std::numbers::pi / 2;

// Abramowitz and Stegun, Handbook of Mathematical Functions, table 25.4, n = 8.
constexpr std::array<double, 4> kAbscissas{0.1834346424956498, 0.5255324099163290, 0.7966664774136267,
                                           0.9602898564975363};
constexpr std::array<double, 4> kWeights{0.3626837833783620, 0.3137066458778873, 0.2223810344533745,
                                         0.1012285362903763};

void add_straight(Boundary& boundary, Vec2 from, Vec2 to) {
    if (from != to) {
        boundary.push_back({from, to, 0, {}, 0, 0});
    }
}
void add_arc(Boundary& boundary, Vec2 centre, double radius, double from_angle, double sweep) {
    if (radius > 0) {
        boundary.push_back({{}, {}, radius, centre, from_angle, sweep});
    }
}

void add_at(AreaIntegrals& sum, Vec2 place, double dv) {
    const double u = place.x;
    const double v = place.y;
    sum.area += u * dv;
    sum.u += 0.5 * u * u * dv;
    sum.v += u * v * dv;
    sum.vv += u * v * v * dv;
    sum.uu += u * u * u / 3 * dv;
    sum.uv += 0.5 * u * u * v * dv;
}

} // namespace

AreaIntegrals& AreaIntegrals::operator-=(const AreaIntegrals& hole) {
    area -= hole.area;
    u -= hole.u;
    v -= hole.v;
    vv -= hole.vv;
    uu -= hole.uu;
    uv -= hole.uv;
    return *this;
}

Boundary rounded_rectangle(double width_mm, double depth_mm, double radius_mm) {
    const double a = 0.5 * width_mm;
    const double b = 0.5 * depth_mm;
    const double r = radius_mm;
    Boundary boundary;
    add_straight(boundary, {a, -b + r}, {a, b - r});
    add_arc(boundary, {a - r, b - r}, r, 0, kQuarter);
    add_straight(boundary, {a - r, b}, {-a + r, b});
    add_arc(boundary, {-a + r, b - r}, r, kQuarter, kQuarter);
    add_straight(boundary, {-a, b - r}, {-a, -b + r});
    add_arc(boundary, {-a + r, -b + r}, r, 2 * kQuarter, kQuarter);
    add_straight(boundary, {-a + r, -b}, {a - r, -b});
    add_arc(boundary, {a - r, -b + r}, r, 3 * kQuarter, kQuarter);
    return boundary;
}

Boundary angle_boundary(const AngleSection& angle) {
    const double t = angle.thickness_mm;
    const double root = angle.root_radius_mm;
    const double toe = angle.toe_radius_mm;
    const Vec2 heel{-0.5 * angle.width_mm, -0.5 * angle.depth_mm};
    const Vec2 far{0.5 * angle.width_mm, 0.5 * angle.depth_mm};
    const Vec2 inner = heel + Vec2{t, t};
    Boundary boundary;
    add_straight(boundary, heel, {far.x, heel.y});
    add_straight(boundary, {far.x, heel.y}, {far.x, inner.y - toe});
    add_arc(boundary, {far.x - toe, inner.y - toe}, toe, 0, kQuarter);
    add_straight(boundary, {far.x - toe, inner.y}, {inner.x + root, inner.y});
    add_arc(boundary, inner + Vec2{root, root}, root, 3 * kQuarter, -kQuarter);
    add_straight(boundary, {inner.x, inner.y + root}, {inner.x, far.y - toe});
    add_arc(boundary, {inner.x - toe, far.y - toe}, toe, 0, kQuarter);
    add_straight(boundary, {inner.x - toe, far.y}, {heel.x, far.y});
    add_straight(boundary, {heel.x, far.y}, heel);
    return boundary;
}

AreaIntegrals integrate(const Boundary& boundary) {
    AreaIntegrals sum;
    for (const BoundaryPiece& piece : boundary) {
        for (std::size_t i = 0; i < kAbscissas.size(); ++i) {
            for (const double side : {-1.0, 1.0}) {
                const double t = 0.5 * (1 + side * kAbscissas[i]);
                const double weight = 0.5 * kWeights[i];
                if (piece.radius > 0) {
                    const double angle = piece.from_angle + t * piece.sweep;
                    add_at(sum, piece.centre + piece.radius * Vec2{std::cos(angle), std::sin(angle)},
                           weight * piece.radius * std::cos(angle) * piece.sweep);
                } else {
                    add_at(sum, piece.from + t * (piece.to - piece.from), weight * (piece.to.y - piece.from.y));
                }
            }
        }
    }
    return sum;
}

} // namespace evenclose
