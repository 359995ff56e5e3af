#include "scene/press/section_outline.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace evenclose {
namespace {

constexpr double kQuarter = std::numbers::pi / 2;
// A radius of 10 m gets no more facets than this: nothing in a shop is rounder.
constexpr int kMostFacetsAQuarter = 256;

void need(bool fits, const char* what, double value_mm) {
    if (!fits) {
        throw std::invalid_argument(fmt::format("section: {} ({} mm)", what, value_mm));
    }
}
void need_size(const char* what, double value_mm) { need(std::isfinite(value_mm) && value_mm > 0, what, value_mm); }

double shoelace_mm2(const Ring& ring) {
    double twice = 0;
    const std::vector<Vec2>& p = ring.corners_mm;
    for (std::size_t i = 0; i < p.size(); ++i) {
        const Vec2 a = p[i];
        const Vec2 b = p[(i + 1) % p.size()];
        twice += a.x * b.y - a.y * b.x;
    }
    return 0.5 * twice;
}

// Corners nearer than this are one: where two arcs meet without a straight between them.
constexpr double kSameCorner_mm = 1e-9;

void add(Ring& ring, Vec2 corner, double phase) {
    if (!ring.corners_mm.empty() && glm::distance(ring.corners_mm.back(), corner) < kSameCorner_mm) {
        return;
    }
    ring.corners_mm.push_back(corner);
    ring.phase.push_back(phase);
}

Vec2 at_angle(double radius, double angle) { return {radius * std::cos(angle), radius * std::sin(angle)}; }

/// A quarter arc from `from_angle`, counter-clockwise, that bulges outward: its tangents. The first and the last corner
/// lie on the straight sides that the arc runs into. Phases fill the first half of `phase`'s quarter.
void add_tangents(Ring& ring, Vec2 centre, double radius, double from_angle, int facets, double phase) {
    const double step = kQuarter / facets;
    for (int i = 0; i < facets; ++i) {
        add(ring, centre + at_angle(radius / std::cos(0.5 * step), from_angle + (i + 0.5) * step),
            phase + 0.5 * (i + 0.5) / facets);
    }
}

/// The same arc where it bounds a hollow or is run through backward: its chords, ends included.
void add_chords(Ring& ring, Vec2 centre, double radius, double from_angle, double sweep, int facets, double phase) {
    for (int i = 0; i <= facets; ++i) {
        add(ring, centre + at_angle(radius, from_angle + sweep * i / facets), phase + 0.5 * i / facets);
    }
}

// From the +u +v corner, counter-clockwise.
constexpr std::array<Vec2, 4> kCornerSigns{Vec2{1, 1}, Vec2{-1, 1}, Vec2{-1, -1}, Vec2{1, -1}};

enum class Facing { outward, hollow };

Ring rectangle_ring(double width, double depth, double radius, Facing facing, int facets) {
    Ring ring;
    for (std::size_t i = 0; i < kCornerSigns.size(); ++i) {
        const auto quarter = static_cast<double>(i);
        const Vec2 centre = kCornerSigns[i] * Vec2{0.5 * width - radius, 0.5 * depth - radius};
        if (radius == 0) {
            add(ring, centre, quarter + 0.25);
        } else if (facing == Facing::outward) {
            add_tangents(ring, centre, radius, quarter * kQuarter, facets, quarter);
        } else {
            add_chords(ring, centre, radius, quarter * kQuarter, kQuarter, facets, quarter);
        }
    }
    if (glm::distance(ring.corners_mm.back(), ring.corners_mm.front()) < kSameCorner_mm) {
        ring.corners_mm.pop_back();
        ring.phase.pop_back();
    }
    return ring;
}

Outline outline(const TimberSection& timber) { return rectangle_outline(timber.width_mm, timber.depth_mm); }
Outline outline(const PlateSection& plate) { return rectangle_outline(plate.width_mm, plate.thickness_mm); }

Outline outline(const PipeSection& pipe) {
    need_size("the outside diameter must be above 0", pipe.outside_diameter_mm);
    need_size("the wall must be above 0", pipe.wall_mm);
    need(2 * pipe.wall_mm <= pipe.outside_diameter_mm, "the wall is more than half the diameter", pipe.wall_mm);
    const double bore = pipe.outside_diameter_mm - 2 * pipe.wall_mm;
    return round_outline(pipe.outside_diameter_mm, bore < kSameCorner_mm ? 0.0 : bore);
}

Outline outline(const TubeSection& tube) {
    need_size("the width must be above 0", tube.width_mm);
    need_size("the depth must be above 0", tube.depth_mm);
    need_size("the wall must be above 0", tube.wall_mm);
    const double least = std::min(tube.width_mm, tube.depth_mm);
    need(2 * tube.wall_mm < least, "the wall leaves no hollow", tube.wall_mm);
    need(tube.corner_radius_mm >= 0 && 2 * tube.corner_radius_mm <= least, "the corner radius does not fit",
         tube.corner_radius_mm);
    const int facets = facets_a_quarter(tube.corner_radius_mm);
    const double inner_radius = std::max(0.0, tube.corner_radius_mm - tube.wall_mm);
    return {rectangle_ring(tube.width_mm, tube.depth_mm, tube.corner_radius_mm, Facing::outward, facets),
            rectangle_ring(tube.width_mm - 2 * tube.wall_mm, tube.depth_mm - 2 * tube.wall_mm, inner_radius,
                           Facing::hollow, facets)};
}

Outline outline(const AngleSection& angle) {
    need_size("the width must be above 0", angle.width_mm);
    need_size("the depth must be above 0", angle.depth_mm);
    const double t = angle.thickness_mm;
    const double root = angle.root_radius_mm;
    const double toe = angle.toe_radius_mm;
    need_size("the thickness must be above 0", t);
    const double shorter = std::min(angle.width_mm, angle.depth_mm);
    need(t < shorter, "the thickness is not less than the shorter leg", t);
    need(toe >= 0 && toe <= t, "the toe radius is more than the thickness", toe);
    need(root >= 0 && t + root + toe <= shorter, "root and toe radius do not fit on the shorter leg", root);

    // From the heel, counter-clockwise. Every corner is seen from the heel: along each piece the bearing only rises.
    const Vec2 heel{-0.5 * angle.width_mm, -0.5 * angle.depth_mm};
    const Vec2 far{0.5 * angle.width_mm, 0.5 * angle.depth_mm};
    Ring ring;
    add(ring, heel, 0);
    add(ring, {far.x, heel.y}, 0);
    const auto add_toe = [&](Vec2 centre, Vec2 sharp, double from_angle) {
        if (toe == 0) {
            add(ring, sharp, 0);
        } else {
            add_tangents(ring, centre, toe, from_angle, facets_a_quarter(toe), 0);
        }
    };
    add_toe({far.x - toe, heel.y + t - toe}, {far.x, heel.y + t}, 0);
    const Vec2 corner = heel + Vec2{t, t};
    if (root == 0) {
        add(ring, corner, 0);
    } else { // from below its centre, clockwise
        add_chords(ring, corner + Vec2{root, root}, root, 3 * kQuarter, -kQuarter, facets_a_quarter(root), 0);
    }
    add_toe({heel.x + t - toe, far.y - toe}, {heel.x + t, far.y}, 0);
    add(ring, {heel.x, far.y}, 0);
    return {ring, {}};
}

Outline outline(const MeshSection&) { throw std::invalid_argument("section: a mesh has no outline"); }
Outline outline(const BuiltUpSection&) {
    throw std::invalid_argument("section: a built-up one has an outline a part, not one");
}

} // namespace

double Outline::area_mm2() const { return shoelace_mm2(outer) - shoelace_mm2(hollow); }

int facets_a_quarter(double radius_mm) {
    // Tangents are off by r (1/cos(a/2) - 1), chords by less; a is the angle of one facet.
    const double half = std::acos(radius_mm / (radius_mm + kFacetDeviation_mm));
    const double wanted = half > 0 ? std::ceil(kQuarter / (2 * half)) : kMostFacetsAQuarter;
    return static_cast<int>(std::clamp(wanted, 8.0, static_cast<double>(kMostFacetsAQuarter)));
}

Outline round_outline(double outside_diameter_mm, double bore_diameter_mm) {
    const int sides = 4 * facets_a_quarter(0.5 * outside_diameter_mm);
    const double step = 4 * kQuarter / sides;
    Outline result;
    for (int i = 0; i < sides; ++i) {
        const double angle = (i + 0.5) * step;
        const double phase = 4.0 * i / sides;
        add(result.outer, at_angle(0.5 * outside_diameter_mm / std::cos(0.5 * step), angle), phase);
        if (bore_diameter_mm > 0) {
            add(result.hollow, at_angle(0.5 * bore_diameter_mm, angle), phase);
        }
    }
    return result;
}

Outline rectangle_outline(double width_mm, double depth_mm) {
    need_size("the width must be above 0", width_mm);
    need_size("the depth must be above 0", depth_mm);
    return {rectangle_ring(width_mm, depth_mm, 0, Facing::outward, 1), {}};
}

Outline outline_of(const Section& section) {
    return std::visit([](const auto& kind) { return outline(kind); }, section);
}

} // namespace evenclose
