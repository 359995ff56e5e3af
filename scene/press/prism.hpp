// scene/press/prism.hpp: solids made from an outline: drawn out along an axis, or turned about one.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"
#include "scene/press/section_outline.hpp"

#include <vector>

namespace evenclose {

/// The outline drawn out from z = 0 to z = length, u on X and v on Y; ends closed (a hollow one by ring-shaped caps).
/// Needs: length above 0; corners of each ring distinct, the hollow inside the outer ring.
/// Gives: a closed mesh, outward. Its volume is exactly outline area times length.   Threads: pure, any.
[[nodiscard]] TriangleMesh prism(const Outline& outline, double length_mm);

struct ProfilePoint {
    double radius_mm = 0, z_mm = 0;
};

/// A solid turned about Z: the profile runs up the outside; closed to the axis by a disc at either end. The facets
/// enclose the true solid, as in section_outline.hpp.
/// Needs: two points or more, radii above 0, z rising or level, first and last z apart.
/// Gives: a closed mesh, outward.   Threads: pure, any.
[[nodiscard]] TriangleMesh turned_solid(std::vector<ProfilePoint> profile);

} // namespace evenclose
