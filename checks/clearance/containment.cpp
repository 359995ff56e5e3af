#include "checks/clearance/containment.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <utility>

namespace evenclose {

double winding_number(const TriangleMesh& mesh, const Vec3& point_mm) {
    double half_angles = 0;
    for (const TriangleCorners& corners : mesh.triangles) {
        const Vec3 a = mesh.vertices_mm[corners[0]] - point_mm;
        const Vec3 b = mesh.vertices_mm[corners[1]] - point_mm;
        const Vec3 c = mesh.vertices_mm[corners[2]] - point_mm;
        const double la = glm::length(a);
        const double lb = glm::length(b);
        const double lc = glm::length(c);
        const double over = glm::dot(a, glm::cross(b, c));
        const double under = la * lb * lc + glm::dot(a, b) * lc + glm::dot(b, c) * la + glm::dot(c, a) * lb;
        if (over != 0.0 || under != 0.0) {
            half_angles += std::atan2(over, under);
        }
    }
    return half_angles / (2.0 * std::numbers::pi);
}

Whereabouts whereabouts(const TriangleMesh& mesh, const Box& bounds, const Vec3& point_mm) {
    for (int axis = 0; axis < 3; ++axis) {
        if (point_mm[axis] < bounds.low_mm[axis] || point_mm[axis] > bounds.high_mm[axis]) {
            return Whereabouts::outside;
        }
    }
    const double turns = std::abs(winding_number(mesh, point_mm));
    return turns >= 0.75 ? Whereabouts::inside : turns <= 0.25 ? Whereabouts::outside : Whereabouts::cannot_tell;
}

std::vector<std::uint32_t> corner_of_each_shell(const TriangleMesh& mesh) {
    std::vector<std::uint32_t> parent(mesh.vertices_mm.size());
    std::iota(parent.begin(), parent.end(), 0U);
    const auto root_of = [&parent](std::uint32_t v) {
        while (parent[v] != v) {
            parent[v] = parent[parent[v]];
            v = parent[v];
        }
        return v;
    };
    for (const TriangleCorners& corners : mesh.triangles) {
        const std::uint32_t root = root_of(corners[0]);
        parent[root_of(corners[1])] = root;
        parent[root_of(corners[2])] = root;
    }
    std::vector<bool> told(mesh.vertices_mm.size(), false);
    std::vector<std::uint32_t> corner;
    for (const TriangleCorners& corners : mesh.triangles) {
        const std::uint32_t root = root_of(corners[0]);
        if (!told[root]) {
            told[root] = true;
            corner.push_back(corners[0]);
        }
    }
    return corner;
}

bool is_closed(const TriangleMesh& mesh) {
    std::vector<std::pair<std::uint64_t, int>> edges;
    edges.reserve(3 * mesh.triangles.size());
    for (const TriangleCorners& corners : mesh.triangles) {
        for (std::size_t i = 0; i < 3; ++i) {
            const std::uint64_t from = corners[i];
            const std::uint64_t to = corners[(i + 1) % 3];
            if (from != to) {
                edges.emplace_back(from < to ? (from << 32U | to) : (to << 32U | from), from < to ? 1 : -1);
            }
        }
    }
    std::sort(edges.begin(), edges.end());
    for (std::size_t i = 0; i < edges.size();) {
        int balance = 0;
        std::size_t j = i;
        for (; j < edges.size() && edges[j].first == edges[i].first; ++j) {
            balance += edges[j].second;
        }
        if (balance != 0) {
            return false;
        }
        i = j;
    }
    return true;
}

} // namespace evenclose
