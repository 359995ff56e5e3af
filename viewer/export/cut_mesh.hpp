// viewer/export/cut_mesh.hpp: what a box holds of a solid, closed again where it is cut.
//
// One plane after the other: triangles are clipped, and the outlines that the plane leaves are filled (GLU's tessellator,
// non-zero winding, so holes stay holes). Both sides of a cut get the very same corners, so pieces fit and add up.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

namespace evenclose {

/// Needs: a closed, oriented mesh.   Gives: a closed mesh, empty if nothing is inside.
/// Faults: std::runtime_error if an outline cannot be filled.   Threads: pure, any.
[[nodiscard]] TriangleMesh cut_to_box(const TriangleMesh& mesh, const Box& box);

/// What lies beyond the plane `axis` == `at_mm` (0 = X, 1 = Y, 2 = Z): above it, or below. Needs and faults as above.
[[nodiscard]] TriangleMesh cut_at(const TriangleMesh& mesh, int axis, double at_mm, bool above);

} // namespace evenclose
