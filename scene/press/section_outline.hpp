// scene/press/section_outline.hpp: the cross-section of a member as polygons in its own u, v.
//
// Round parts are faceted so that the polygon encloses the true outline: an outward arc is followed by its tangents, an
// inward one (bore, root fillet) by its chords. What is clear of the facets is clear of the round part; the price is at
// most kFacetDeviation_mm of clearance.
#pragma once

#include "scene/press/press.hpp"
#include "scene/vec.hpp"

#include <vector>

namespace evenclose {

// Small beside what the clearance engine leaves open (0.05 mm), and rolled or drawn sections are only true to some
// tenths (common practice, no source). A quarter of this doubles the triangles and tells a shop nothing.
inline constexpr double kFacetDeviation_mm = 0.01;

/// A closed polygon, counter-clockwise seen from the member's end B. `phase` rises with the corners from 0 to below 4,
/// one a quarter: it tells which corners of two nested rings lie opposite each other.
struct Ring {
    std::vector<Vec2> corners_mm;
    std::vector<double> phase;
};

/// Outer ring, and the hollow's ring if there is one (counter-clockwise as well). A ring without hollow is star-shaped
/// seen from its first corner, so that a fan from there fills it.
struct Outline {
    Ring outer, hollow;
    [[nodiscard]] bool is_hollow() const { return !hollow.corners_mm.empty(); }
    [[nodiscard]] double area_mm2() const; // of the polygons: outer less hollow
};

/// Facets on a quarter turn of a circle of this radius, so that none is off by more than kFacetDeviation_mm; 8 or more.
[[nodiscard]] int facets_a_quarter(double radius_mm);

/// Outer rings touch the circle with the middle of their sides, inner ones with their corners; a side (a corner) stands
/// on each of the axes.
[[nodiscard]] Outline round_outline(double outside_diameter_mm, double bore_diameter_mm = 0);
[[nodiscard]] Outline rectangle_outline(double width_mm, double depth_mm);

/// Needs: sizes above 0; walls and thicknesses that fit their section; no mesh and no built-up section (built_up.hpp tells its
/// parts, which have one each).
/// Faults: std::invalid_argument, with what does not fit.   Threads: pure, any.
[[nodiscard]] Outline outline_of(const Section& section);

} // namespace evenclose
