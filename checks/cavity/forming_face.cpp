#include "checks/cavity/forming_face.hpp"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// Steeper than this to the level plane a face takes no part in pressing and is a wall: 2 degrees off the stroke, the
// draft that printed and turned molds are usually given at least (common practice, no source).
const double kWall = std::sin(2.0 * 3.14159265358979323846 / 180.0);
// Printed layers are 0.1 to 0.3 mm (common practice, no source): a smaller step hides nothing.
constexpr double kHidden_mm = 0.05;
// Facets of a smooth face as CAD exports it turn by a few degrees from one to the next; a modelled edge by much more.
const double kSharp = std::cos(25.0 * 3.14159265358979323846 / 180.0);

bool hidden(const HeightMap& map, const Vec3& at_mm, double sign) {
    const PlanGrid& grid = map.grid;
    const double column = std::floor((at_mm.x - grid.first_mm.x) / grid.step_mm);
    const double row = std::floor((at_mm.y - grid.first_mm.y) / grid.step_mm);
    if (!(column >= 0 && row >= 0 && column + 1 < grid.columns && row + 1 < grid.rows)) {
        return false; // at the rim or outside, where the map cannot tell
    }
    for (const int dx : {0, 1}) {
        for (const int dy : {0, 1}) {
            const std::size_t i = grid.index(static_cast<int>(column) + dx, static_cast<int>(row) + dy);
            if (!map.seen(i) || sign * (map.z_mm(i) - at_mm.z) < kHidden_mm) {
                return false;
            }
        }
    }
    return true;
}

double sign_of(SeenFrom side) { return side == SeenFrom::above ? 1.0 : -1.0; }

} // namespace

Vec3 facet_normal(const TriangleMesh& half, std::uint32_t triangle, SeenFrom side) {
    const TriangleCorners& corners = half.triangles[triangle];
    const Vec3& a = half.vertices_mm[corners[0]];
    const Vec3 across = glm::cross(half.vertices_mm[corners[1]] - a, half.vertices_mm[corners[2]] - a);
    const double length = glm::length(across);
    if (!(length > 0)) {
        return Vec3{0.0};
    }
    return (across.z * sign_of(side) < 0 ? -1.0 : 1.0) / length * across;
}

FormingFace forming_face(const TriangleMesh& half, const HeightMap& map, SeenFrom side) {
    FormingFace face;
    face.forming.assign(half.triangles.size(), 0);
    for (std::size_t i = 0; i < map.grid.size(); ++i) {
        if (map.seen(i)) {
            face.forming[map.triangle[i]] = 1;
        }
    }
    const double sign = sign_of(side);
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, half.triangles.size(), 1 << 12), [&](const auto& range) {
        for (std::size_t t = range.begin(); t < range.end(); ++t) {
            const TriangleCorners& corners = half.triangles[t];
            const Vec3& a = half.vertices_mm[corners[0]];
            const Vec3& b = half.vertices_mm[corners[1]];
            const Vec3& c = half.vertices_mm[corners[2]];
            const Vec3 across = glm::cross(b - a, c - a);
            const bool wall = !(std::abs(across.z) > kWall * glm::length(across));
            if (wall) {
                face.forming[t] = 0;
            } else if (face.forming[t] == 0) {
                face.forming[t] = hidden(map, (a + b + c) / 3.0, sign) ? 0 : 1;
            }
        }
    });

    std::vector<Vec3> sums(half.vertices_mm.size(), Vec3{0.0});
    for (std::size_t t = 0; t < half.triangles.size(); ++t) {
        if (face.forming[t] == 0) {
            continue;
        }
        const TriangleCorners& corners = half.triangles[t];
        const Vec3& a = half.vertices_mm[corners[0]];
        const Vec3& b = half.vertices_mm[corners[1]];
        const Vec3& c = half.vertices_mm[corners[2]];
        Vec3 across = glm::cross(b - a, c - a);
        across *= across.z * sign < 0 ? -1.0 : 1.0;
        const double ab = glm::dot(b - a, b - a);
        const double bc = glm::dot(c - b, c - b);
        const double ca = glm::dot(a - c, a - c);
        if (ab > 0 && bc > 0 && ca > 0) {
            sums[corners[0]] += across / (ab * ca);
            sums[corners[1]] += across / (ab * bc);
            sums[corners[2]] += across / (bc * ca);
        }
    }
    face.vertex_normals.resize(sums.size());
    for (std::size_t v = 0; v < sums.size(); ++v) {
        const double length = glm::length(sums[v]);
        face.vertex_normals[v] = length > 0 ? glm::vec3(sums[v] / length) : glm::vec3{0.0F};
    }
    return face;
}

Vec3 normal_at(const TriangleMesh& half, const FormingFace& face, SeenFrom side, std::uint32_t triangle,
               const Vec3& at_mm) {
    const TriangleCorners& corners = half.triangles[triangle];
    const Vec3 flat = facet_normal(half, triangle, side);
    const Vec3& a = half.vertices_mm[corners[0]];
    const Vec3 ab = half.vertices_mm[corners[1]] - a;
    const Vec3 ac = half.vertices_mm[corners[2]] - a;
    const Vec3 across = glm::cross(ab, ac);
    const double doubled = glm::dot(across, across);
    if (!(doubled > 0)) {
        return flat;
    }
    const double at_b = std::clamp(glm::dot(glm::cross(at_mm - a, ac), across) / doubled, 0.0, 1.0);
    const double at_c = std::clamp(glm::dot(glm::cross(ab, at_mm - a), across) / doubled, 0.0, 1.0 - at_b);
    const double share[3] = {1.0 - at_b - at_c, at_b, at_c};
    Vec3 sum{0.0};
    for (std::size_t k = 0; k < 3; ++k) {
        const Vec3 normal{face.vertex_normals[corners[k]]};
        if (glm::dot(normal, flat) < kSharp) {
            return flat;
        }
        sum += share[k] * normal;
    }
    return glm::normalize(sum);
}

} // namespace evenclose
