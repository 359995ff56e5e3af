// scene/press/linkage_solid.hpp: the links of a scissor jack as solids: one link, and all places that it swings through.
//
// In the plane of the linkage: X level, along the screw; Y across; Z up. Ends of a link are rounded about its pins.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

namespace evenclose {

struct LinkShape {
    double arm_mm = 0;   // pin to pin
    double width_mm = 0; // as seen from the side, along Z when level
    double depth_mm = 0; // along Y
};

/// A link from its pin at the origin along +X. Closed, outward; round ends enclose the true ones.
/// Needs: sizes above 0.   Faults: std::invalid_argument.   Threads: pure, any.
[[nodiscard]] TriangleMesh link_solid(const LinkShape& link);

/// A convex solid that holds the link with its pin at the origin at every angle above +X between the two, radians.
/// Needs: -pi/2 <= from <= to <= pi/2.
[[nodiscard]] TriangleMesh swung_link_solid(const LinkShape& link, double from_rad, double to_rad);

/// The same for a pair of links that cross at their middles at the origin, at an angle above and below X.
[[nodiscard]] TriangleMesh swung_cross_solid(const LinkShape& link, double from_rad, double to_rad);

} // namespace evenclose
