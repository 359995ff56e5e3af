// viewer/render/joined_corners.hpp: a mesh with one vertex a place, and without the triangles that cannot be drawn.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <array>
#include <cstdint>
#include <vector>

namespace evenclose {

struct JoinedCorners {
    std::vector<Vec3> vertices_mm;
    std::vector<std::uint32_t> source_vertex; // one a vertex: the first of the mesh's at that place
    std::vector<std::array<std::uint32_t, 3>> triangles;
    std::vector<std::uint32_t> source_triangle; // one a triangle: which of the mesh's it is
    bool lost_triangles = false;                // some were left out that had an extent, or may have had one
};

/// Joins vertices at exactly equal places. Leaves out triangles with a corner that is out of range, not finite or beyond
/// 1e12 mm, and those with two corners at one place. Faults: none. Threads: pure, any.
[[nodiscard]] JoinedCorners join_corners(const TriangleMesh& mesh);

} // namespace evenclose
