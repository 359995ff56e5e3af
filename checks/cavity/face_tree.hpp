// checks/cavity/face_tree.hpp: a mesh prepared for rays and closest points, by Embree.
//
// Embree finds the triangle in single precision about the middle of the mesh (some 1e-5 mm on a part of 100 mm); the
// place on it is then computed in doubles. A ray that passes within that of an edge may be given to either neighbour.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <cstdint>
#include <memory>
#include <optional>

namespace evenclose {

class FaceTree {
public:
    /// Needs: finite corners, `mesh` outlives the tree. An empty mesh is never met.
    explicit FaceTree(const TriangleMesh& mesh);
    ~FaceTree();
    FaceTree(FaceTree&&) noexcept;
    FaceTree& operator=(FaceTree&&) noexcept;

    struct Meeting {
        std::uint32_t triangle = 0;
        double along_mm = 0; // from the origin, along the unit direction
    };
    /// The first triangle that the ray meets, from either side, within `reach_mm`. Needs: a unit direction.
    /// Threads: any number at once.
    [[nodiscard]] std::optional<Meeting> first_along(const Vec3& origin_mm, const Vec3& direction,
                                                     double reach_mm) const;

    struct Nearest {
        std::uint32_t triangle = 0;
        Vec3 at_mm{0.0};
        double distance_mm = 0;
    };
    /// The point of the mesh that is nearest to `point_mm`, if any lies within `reach_mm`.
    [[nodiscard]] std::optional<Nearest> nearest(const Vec3& point_mm, double reach_mm) const;

private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

/// The point of the triangle nearest to `point`. C. Ericson, Real-Time Collision Detection (2005), sec. 5.1.5.
[[nodiscard]] Vec3 nearest_on_triangle(const Vec3& point, const Vec3& a, const Vec3& b, const Vec3& c);

} // namespace evenclose
