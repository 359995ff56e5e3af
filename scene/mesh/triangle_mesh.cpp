#include "scene/mesh/triangle_mesh.hpp"

#include <glm/geometric.hpp>

namespace evenclose {
namespace {

/// Six times the signed volume and the volume-weighted centre of the tetrahedra from `apex` to each triangle. Measured
/// from a point near the mesh, so that a mesh far from the origin loses no digits.
struct Moments {
    double six_volumes = 0;
    Vec3 first{0.0};
};

Moments moments_about(const TriangleMesh& mesh, const Vec3& apex) {
    Moments sum;
    for (const TriangleCorners& corners : mesh.triangles) {
        const Vec3 a = mesh.vertices_mm[corners[0]] - apex;
        const Vec3 b = mesh.vertices_mm[corners[1]] - apex;
        const Vec3 c = mesh.vertices_mm[corners[2]] - apex;
        const double six = glm::dot(a, glm::cross(b, c));
        sum.six_volumes += six;
        sum.first += six * (a + b + c);
    }
    return sum;
}

} // namespace

Box bounds_of(const TriangleMesh& mesh) {
    Box box;
    for (const Vec3& vertex : mesh.vertices_mm) {
        box.add(vertex);
    }
    return box;
}

Box bounds_of(const TriangleMesh& mesh, const Pose& placement) {
    Box box;
    for (const Vec3& vertex : mesh.vertices_mm) {
        box.add(placement.apply(vertex));
    }
    return box;
}

double signed_volume_mm3(const TriangleMesh& mesh) {
    return moments_about(mesh, bounds_of(mesh).centre_mm()).six_volumes / 6.0;
}

double surface_area_mm2(const TriangleMesh& mesh) {
    double twice = 0;
    for (const TriangleCorners& corners : mesh.triangles) {
        const Vec3& a = mesh.vertices_mm[corners[0]];
        twice += glm::length(glm::cross(mesh.vertices_mm[corners[1]] - a, mesh.vertices_mm[corners[2]] - a));
    }
    return 0.5 * twice;
}

Vec3 centroid_mm(const TriangleMesh& mesh) {
    const Vec3 apex = bounds_of(mesh).centre_mm();
    const Moments sum = moments_about(mesh, apex);
    return apex + sum.first / (4.0 * sum.six_volumes);
}

void append(TriangleMesh& mesh, const TriangleMesh& part, const Pose& placement) {
    const auto base = static_cast<std::uint32_t>(mesh.vertices_mm.size());
    mesh.vertices_mm.reserve(mesh.vertices_mm.size() + part.vertices_mm.size());
    for (const Vec3& vertex : part.vertices_mm) {
        mesh.vertices_mm.push_back(placement.apply(vertex));
    }
    mesh.triangles.reserve(mesh.triangles.size() + part.triangles.size());
    for (const TriangleCorners& corners : part.triangles) {
        mesh.triangles.push_back({base + corners[0], base + corners[1], base + corners[2]});
    }
}

TriangleMesh placed(const TriangleMesh& mesh, const Pose& placement) {
    TriangleMesh result;
    append(result, mesh, placement);
    return result;
}

} // namespace evenclose
