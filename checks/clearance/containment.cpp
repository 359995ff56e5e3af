#include "checks/clearance/containment.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>
#include <numeric>
#include <utility>

namespace evenclose {
namespace {

constexpr int kRays = 16;

/// Crossings of the ray from `point` along `way`: +1 where it leaves (meets a face from behind), -1 where it enters.
int signed_crossings(const TriangleMesh& mesh, const Hierarchy& hierarchy, const Vec3& point, const Vec3& way) {
    int crossings = 0;
    std::uint32_t stack[256];
    std::size_t depth = 0;
    stack[depth++] = Hierarchy::kRoot;
    const Vec3 from = point - hierarchy.origin();
    while (depth > 0) {
        const BoxNode& node = hierarchy.node(stack[--depth]);
        const Vec3 centre{node.centre[0], node.centre[1], node.centre[2]};
        const Vec3 axis[2] = {{node.normal[0], node.normal[1], node.normal[2]},
                              {node.along[0], node.along[1], node.along[2]}};
        const Vec3 axes[3] = {axis[0], axis[1], glm::cross(axis[0], axis[1])};
        double enter = 0;
        double leave = 1e300;
        const double slack = 1e-6 * (1 + glm::length(from - centre)); // axes are unit and square to 2e-7
        for (int i = 0; i < 3; ++i) {
            const double at = glm::dot(axes[i], from - centre);
            const double speed = glm::dot(axes[i], way);
            const double half = node.half[i] + slack;
            if (std::abs(speed) < 1e-12) {
                leave = std::abs(at) > half ? -1 : leave;
                continue;
            }
            const double t0 = (-half - at) / speed;
            const double t1 = (half - at) / speed;
            enter = std::max(enter, std::min(t0, t1));
            leave = std::min(leave, std::max(t0, t1));
        }
        if (enter > leave * (1 + 1e-6) + slack) {
            continue;
        }
        if (!node.leaf()) {
            if (depth + 2 > std::size(stack)) {
                return 1 << 20; // never agrees with another ray: every triangle is asked
            }
            stack[depth++] = node.first;
            stack[depth++] = node.first + 1;
            continue;
        }
        for (std::uint32_t place = node.first; place < node.first + node.count; ++place) {
            const TriangleCorners& c = mesh.triangles[hierarchy.triangle(place)];
            const Vec3 a = mesh.vertices_mm[c[0]] - point;
            const Vec3 b = mesh.vertices_mm[c[1]] - point;
            const Vec3 d = mesh.vertices_mm[c[2]] - point;
            // Signed volumes with the ray: all of one sign when it goes through.
            const double u = glm::dot(way, glm::cross(a, b));
            const double v = glm::dot(way, glm::cross(b, d));
            const double w = glm::dot(way, glm::cross(d, a));
            const bool through = (u > 0 && v > 0 && w > 0) || (u < 0 && v < 0 && w < 0);
            if (through && glm::dot(a, glm::cross(b, d)) * (u > 0 ? 1 : -1) > 0) {
                crossings += u > 0 ? 1 : -1;
            }
        }
    }
    return crossings;
}

} // namespace

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

Whereabouts whereabouts(const TriangleMesh& mesh, const Hierarchy& hierarchy, const Box& bounds, const Vec3& point_mm) {
    for (int axis = 0; axis < 3; ++axis) {
        if (point_mm[axis] < bounds.low_mm[axis] || point_mm[axis] > bounds.high_mm[axis]) {
            return Whereabouts::outside;
        }
    }
    int agreed = 0;
    for (int ray = 0; ray < kRays; ++ray) {
        // Evenly over the sphere along a golden spiral, off every axis and edge a drawing is likely to have.
        const double z = 1 - (2 * ray + 1.1) / (kRays + 0.13);
        const double turn = 2.399963229728653 * ray + 0.7123;
        const double r = std::sqrt(1 - z * z);
        const int seen =
            std::abs(signed_crossings(mesh, hierarchy, point_mm, {r * std::cos(turn), r * std::sin(turn), z}));
        if (ray == 0) {
            agreed = seen;
        }
        if (seen != agreed || seen > 1) {
            return whereabouts(mesh, bounds, point_mm);
        }
    }
    return agreed == 1 ? Whereabouts::inside : Whereabouts::outside;
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
