// checks/cavity/forming_face.hpp: the part of a mold half that looks at the other half, and its normals.
//
// A triangle belongs to the forming face when it can be seen along the stroke from the other half's side and does not
// stand upright: something of it wins a point of the height map, or its middle lies no lower than what the map shows
// around it. Side walls, the back and what an undercut hides are left out (the `release` check asks about those).
#pragma once

#include "checks/cavity/height_map.hpp"

#include <cstdint>
#include <vector>

namespace evenclose {

/// Vectors of length 1, towards the other half whichever way the triangles are wound. Single precision: 1e-7 rad.
struct FormingFace {
    std::vector<std::uint8_t> forming;     // a triangle: 1 if it forms
    std::vector<glm::vec3> vertex_normals; // 0 at vertices of no forming triangle
};

/// Needs: `map` is of this mesh, seen from `side`.   Threads: runs on TBB's.
[[nodiscard]] FormingFace forming_face(const TriangleMesh& half, const HeightMap& map, SeenFrom side);

/// The face's normal at a point on triangle `triangle`, towards the side it is seen from: between the vertex normals
/// where the face is smooth there, the facet's own where an edge is sharper than 25 degrees.
/// Vertex normals: N. Max, "Weights for computing vertex normals from facet normals", Journal of Graphics Tools 4(2),
/// 1999: exact on a sphere however its facets are shaped.
[[nodiscard]] Vec3 normal_at(const TriangleMesh& half, const FormingFace& face, SeenFrom side, std::uint32_t triangle,
                             const Vec3& at_mm);

/// The facet's normal towards the side it is seen from; 0 for a degenerate triangle.
[[nodiscard]] Vec3 facet_normal(const TriangleMesh& half, std::uint32_t triangle, SeenFrom side);

} // namespace evenclose
