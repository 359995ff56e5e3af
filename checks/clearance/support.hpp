// checks/clearance/support.hpp: how far the triangles below a node reach along a direction, more sharply than its box.
//
// A tall wall whose rim follows the forming face fills its box badly: the box's corner stands above the rim by its width
// times the rim's slope, and at an even gap every rim would have to be taken apart down to its triangles, in pairs with
// all that lies across. Going down one body alone, towards the corner that reaches farthest, is far cheaper.
#pragma once

#include "checks/clearance/hierarchy.hpp"
#include "scene/mesh/triangle_mesh.hpp"

namespace evenclose {

struct Reach {
    double bound = 0;          // direction . (v - origin) is no more than this for any corner v below the node
    Vec3 corner_mm{0.0};       // the corner (from the origin) that reaches the farthest of those seen
    bool corner_known = false; // that corner reaches as far as the bound, or nearly
};

/// `direction` in the mesh's coordinates. Looks at `most_nodes` nodes at most, and stops when the bound is down to
/// `enough`.
[[nodiscard]] Reach reach_below(const TriangleMesh& mesh, const Hierarchy& hierarchy, std::uint32_t node,
                                const Vec3& direction, double enough, int most_nodes);

} // namespace evenclose
