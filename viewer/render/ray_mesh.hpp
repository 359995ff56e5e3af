// viewer/render/ray_mesh.hpp: where a ray first meets a mesh. Embree's hierarchy, kept as long as the mesh lives.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <memory>
#include <optional>

namespace evenclose {

struct RayHit {
    double along_mm = 0;  // from where the ray starts
    Vec3 normal{0.0};     // of the triangle, unit, as its corners turn
    bool leaving = false; // through a face that is turned away: the ray came from inside
};

class RayMesh {
public:
    /// Triangles that cannot be drawn (see drawable_mesh.hpp) are passed over. Faults: std::runtime_error with Embree's
    /// own words (no memory).
    explicit RayMesh(const TriangleMesh& mesh);
    ~RayMesh();
    RayMesh(const RayMesh&) = delete;
    RayMesh& operator=(const RayMesh&) = delete;

    /// Where along the unit vector `along` from `from_mm` the mesh is first met, on either face; in the mesh's own
    /// frame. `beyond_mm`: nearer ones do not count. Found in floats, told in doubles; none along a ray
    /// that is not finite. Threads: any.
    [[nodiscard]] std::optional<RayHit> first_hit(const Vec3& from_mm, const Vec3& along, double beyond_mm = 0) const;

private:
    struct Inner;
    std::unique_ptr<Inner> inner_;
};

/// Made once for each mesh. Needs: a mesh. Threads: any.
[[nodiscard]] std::shared_ptr<const RayMesh> ray_mesh_of(const SharedMesh& mesh);

} // namespace evenclose
