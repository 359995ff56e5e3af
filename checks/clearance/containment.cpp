#include "checks/clearance/containment.hpp"

#include "checks/clearance/triangle_distance.hpp"

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
constexpr std::uint32_t kNoShell = 0xffffffffU;

struct Boxed {
    double enter = 0, leave = 1e300;
    [[nodiscard]] bool missed() const { return enter > leave; }
};

/// Where a ray is in a node's box, with room for its axes being unit and square to 2e-7 only.
Boxed in_box(const BoxNode& node, const Vec3& from, const Vec3& way) {
    const Vec3 centre{node.centre[0], node.centre[1], node.centre[2]};
    const Vec3 normal{node.normal[0], node.normal[1], node.normal[2]};
    const Vec3 along{node.along[0], node.along[1], node.along[2]};
    const Vec3 axes[3] = {normal, along, glm::cross(normal, along)};
    Boxed boxed;
    const double slack = 1e-6 * (1 + glm::length(from - centre));
    for (int i = 0; i < 3; ++i) {
        const double at = glm::dot(axes[i], from - centre);
        const double speed = glm::dot(axes[i], way);
        const double half = node.half[i] + slack;
        if (std::abs(speed) < 1e-12) {
            boxed.leave = std::abs(at) > half ? -1 : boxed.leave;
            continue;
        }
        const double t0 = (-half - at) / speed;
        const double t1 = (half - at) / speed;
        boxed.enter = std::max(boxed.enter, std::min(t0, t1));
        boxed.leave = std::min(boxed.leave, std::max(t0, t1));
    }
    boxed.leave = boxed.leave * (1 + 1e-6) + slack;
    return boxed;
}

/// Sign of how the ray goes through the triangle (corners from the ray's start): +1 from behind, -1 from the front, 0 not.
int goes_through(const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& way) {
    // Signed volumes with the ray: all of one sign when it goes through. Two triangles at an edge see the same number, so
    // that no ray slips between them.
    const double u = glm::dot(way, glm::cross(a, b));
    const double v = glm::dot(way, glm::cross(b, c));
    const double w = glm::dot(way, glm::cross(c, a));
    return u > 0 && v > 0 && w > 0 ? 1 : u < 0 && v < 0 && w < 0 ? -1 : 0;
}

/// Crossings of the ray from `point` along `way`: +1 where it leaves (meets a face from behind), -1 where it enters.
int signed_crossings(const TriangleMesh& mesh, const Hierarchy& hierarchy, const Vec3& point, const Vec3& way) {
    int crossings = 0;
    std::uint32_t stack[256];
    std::size_t depth = 0;
    stack[depth++] = Hierarchy::kRoot;
    const Vec3 from = point - hierarchy.origin();
    while (depth > 0) {
        const BoxNode& node = hierarchy.node(stack[--depth]);
        if (in_box(node, from, way).missed()) {
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
            const int through = goes_through(a, b, d, way);
            if (through * glm::dot(a, glm::cross(b, d)) > 0) { // ahead, not behind
                crossings += through;
            }
        }
    }
    return crossings;
}

struct Shells {
    std::vector<std::uint32_t> of_vertex; // kNoShell for a vertex that no triangle names
    std::vector<std::uint32_t> first_corner;
};

Shells shells_of(const TriangleMesh& mesh) {
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
    Shells shells;
    std::vector<std::uint32_t> of_root(mesh.vertices_mm.size(), kNoShell);
    for (const TriangleCorners& corners : mesh.triangles) {
        std::uint32_t& shell = of_root[root_of(corners[0])];
        if (shell == kNoShell) {
            shell = static_cast<std::uint32_t>(shells.first_corner.size());
            shells.first_corner.push_back(corners[0]);
        }
    }
    for (std::uint32_t v = 0; v < parent.size(); ++v) {
        parent[v] = root_of(v);
    }
    for (std::uint32_t& root : parent) {
        root = of_root[root];
    }
    shells.of_vertex = std::move(parent);
    return shells;
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

std::vector<std::uint32_t> corner_of_each_shell(const TriangleMesh& mesh) { return shells_of(mesh).first_corner; }

std::vector<ShellEnds> ends_of_each_shell(const TriangleMesh& mesh) {
    const Shells shells = shells_of(mesh);
    std::vector<ShellEnds> ends;
    ends.reserve(shells.first_corner.size());
    for (const std::uint32_t corner : shells.first_corner) {
        ends.push_back({corner, corner, corner, corner, corner, corner});
    }
    for (std::uint32_t v = 0; v < shells.of_vertex.size(); ++v) {
        if (shells.of_vertex[v] == kNoShell) {
            continue;
        }
        ShellEnds& of_shell = ends[shells.of_vertex[v]];
        const Vec3& place = mesh.vertices_mm[v];
        for (int axis = 0; axis < 3; ++axis) {
            std::uint32_t& low = of_shell[static_cast<std::size_t>(2 * axis)];
            std::uint32_t& high = of_shell[static_cast<std::size_t>(2 * axis + 1)];
            low = place[axis] < mesh.vertices_mm[low][axis] ? v : low;
            high = place[axis] > mesh.vertices_mm[high][axis] ? v : high;
        }
    }
    return ends;
}

bool near_surface(const TriangleMesh& mesh, const Hierarchy& hierarchy, const Vec3& point_mm, double within_mm) {
    const Vec3 from = point_mm - hierarchy.origin();
    std::vector<std::uint32_t> stack{Hierarchy::kRoot};
    while (!stack.empty()) {
        const BoxNode& node = hierarchy.node(stack.back());
        stack.pop_back();
        const Vec3 off = from - Vec3{node.centre[0], node.centre[1], node.centre[2]};
        const Vec3 normal{node.normal[0], node.normal[1], node.normal[2]};
        const Vec3 along{node.along[0], node.along[1], node.along[2]};
        const Vec3 axes[3] = {normal, along, glm::cross(normal, along)};
        const double slack = within_mm + 1e-6 * (1 + glm::length(off));
        bool outside = false;
        for (int i = 0; i < 3; ++i) {
            outside = outside || std::abs(glm::dot(axes[i], off)) > node.half[i] + slack;
        }
        if (outside) {
            continue;
        }
        if (!node.leaf()) {
            stack.push_back(node.first);
            stack.push_back(node.first + 1);
            continue;
        }
        for (std::uint32_t place = node.first; place < node.first + node.count; ++place) {
            const TriangleCorners& c = mesh.triangles[hierarchy.triangle(place)];
            const Triangle triangle{mesh.vertices_mm[c[0]], mesh.vertices_mm[c[1]], mesh.vertices_mm[c[2]]};
            if (nearest_points(triangle, {point_mm, point_mm, point_mm}).distance <= within_mm) {
                return true;
            }
        }
    }
    return false;
}

bool is_closed(const TriangleMesh& mesh) {
    // Mixes one edge, as run, to 64 bits (the finaliser of S. Vigna's splitmix64, public domain).
    const auto mixed = [](std::uint64_t x) {
        x += 0x9e3779b97f4a7c15ULL;
        x = (x ^ (x >> 30U)) * 0xbf58476d1ce4e5b9ULL;
        x = (x ^ (x >> 27U)) * 0x94d049bb133111ebULL;
        return x ^ (x >> 31U);
    };
    std::uint64_t balance = 0;
    for (const TriangleCorners& corners : mesh.triangles) {
        for (std::size_t i = 0; i < 3; ++i) {
            const std::uint64_t from = corners[i];
            const std::uint64_t to = corners[(i + 1) % 3];
            if (from < to) {
                balance += mixed(from << 32U | to);
            } else if (to < from) {
                balance -= mixed(to << 32U | from);
            }
        }
    }
    return balance == 0;
}

} // namespace evenclose
