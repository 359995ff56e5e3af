// scene/mesh/triangle_mesh.hpp: a triangle mesh as plain data, mm.
#pragma once

#include "scene/vec.hpp"

#include <array>
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

namespace evenclose {

using TriangleCorners = std::array<std::uint32_t, 3>;

/// Corners are counter-clockwise seen from outside. Nothing is promised about closure or soundness: see
/// scene/mesh/soundness.hpp for what a mesh is like.
struct TriangleMesh {
    std::vector<Vec3> vertices_mm;
    std::vector<TriangleCorners> triangles;

    [[nodiscard]] bool empty() const { return triangles.empty(); }
};

using SharedMesh = std::shared_ptr<const TriangleMesh>;

[[nodiscard]] Box bounds_of(const TriangleMesh& mesh);
[[nodiscard]] Box bounds_of(const TriangleMesh& mesh, const Pose& placement);

/// Volume by the divergence theorem, mm3; negative for an inside-out mesh; only meaningful for a closed one.
[[nodiscard]] double signed_volume_mm3(const TriangleMesh& mesh);
[[nodiscard]] double surface_area_mm2(const TriangleMesh& mesh);
/// Centroid of the enclosed volume; needs a closed mesh of non-zero volume.
[[nodiscard]] Vec3 centroid_mm(const TriangleMesh& mesh);

/// Adds the triangles of `part` placed by `placement` to `mesh`.
void append(TriangleMesh& mesh, const TriangleMesh& part, const Pose& placement = {});
[[nodiscard]] TriangleMesh placed(const TriangleMesh& mesh, const Pose& placement);

} // namespace evenclose
