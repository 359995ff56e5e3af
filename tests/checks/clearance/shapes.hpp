// tests/checks/clearance/shapes.hpp: plain solids for the clearance tests, outsides outward, mm.
#pragma once

#include "checks/clearance/sweep.hpp"

#include <cmath>
#include <memory>
#include <numbers>
#include <utility>

namespace evenclose::test {

[[nodiscard]] inline TriangleMesh box_mesh(const Vec3& low, const Vec3& high) {
    TriangleMesh mesh;
    for (int i = 0; i < 8; ++i) {
        mesh.vertices_mm.emplace_back((i & 1) != 0 ? high.x : low.x, (i & 2) != 0 ? high.y : low.y,
                                      (i & 4) != 0 ? high.z : low.z);
    }
    mesh.triangles = {{0, 2, 3}, {0, 3, 1}, {4, 5, 7}, {4, 7, 6}, {0, 1, 5}, {0, 5, 4},
                      {2, 6, 7}, {2, 7, 3}, {0, 4, 6}, {0, 6, 2}, {1, 3, 7}, {1, 7, 5}};
    return mesh;
}

/// Corners on the sphere: the facets lie inside it by at most r (1 - cos(pi / rings)) or so.
[[nodiscard]] inline TriangleMesh sphere_mesh(double radius, std::uint32_t rings) {
    TriangleMesh mesh;
    const std::uint32_t around = 2 * rings;
    mesh.vertices_mm.emplace_back(0, 0, radius);
    for (std::uint32_t i = 1; i < rings; ++i) {
        const double theta = std::numbers::pi * i / rings;
        for (std::uint32_t j = 0; j < around; ++j) {
            const double phi = 2 * std::numbers::pi * j / around;
            mesh.vertices_mm.push_back(
                radius * Vec3{std::sin(theta) * std::cos(phi), std::sin(theta) * std::sin(phi), std::cos(theta)});
        }
    }
    const auto south = static_cast<std::uint32_t>(mesh.vertices_mm.size());
    mesh.vertices_mm.emplace_back(0, 0, -radius);
    for (std::uint32_t j = 0; j < around; ++j) {
        const std::uint32_t next = (j + 1) % around;
        mesh.triangles.push_back({0, 1 + j, 1 + next});
        for (std::uint32_t i = 0; i + 2 < rings; ++i) {
            const std::uint32_t a = 1 + i * around + j;
            const std::uint32_t b = 1 + i * around + next;
            mesh.triangles.push_back({a, a + around, b + around});
            mesh.triangles.push_back({a, b + around, b});
        }
        const std::uint32_t last = 1 + (rings - 2) * around;
        mesh.triangles.push_back({last + j, south, last + next});
    }
    return mesh;
}

/// Along Z, centred; corners on the round.
[[nodiscard]] inline TriangleMesh cylinder_mesh(double radius, double height, std::uint32_t sides) {
    TriangleMesh mesh;
    mesh.vertices_mm.emplace_back(0, 0, -0.5 * height);
    mesh.vertices_mm.emplace_back(0, 0, 0.5 * height);
    for (std::uint32_t i = 0; i < sides; ++i) {
        const double phi = 2 * std::numbers::pi * i / sides;
        mesh.vertices_mm.emplace_back(radius * std::cos(phi), radius * std::sin(phi), -0.5 * height);
        mesh.vertices_mm.emplace_back(radius * std::cos(phi), radius * std::sin(phi), 0.5 * height);
    }
    for (std::uint32_t i = 0; i < sides; ++i) {
        const std::uint32_t a = 2 + 2 * i;
        const std::uint32_t b = 2 + 2 * ((i + 1) % sides);
        mesh.triangles.push_back({0, b, a});
        mesh.triangles.push_back({1, a + 1, b + 1});
        mesh.triangles.push_back({a, b, b + 1});
        mesh.triangles.push_back({a, b + 1, a + 1});
    }
    return mesh;
}

/// Round Z, corners on the torus.
[[nodiscard]] inline TriangleMesh torus_mesh(double ring, double tube, std::uint32_t around, std::uint32_t sides) {
    TriangleMesh mesh;
    for (std::uint32_t i = 0; i < around; ++i) {
        const double u = 2 * std::numbers::pi * i / around;
        for (std::uint32_t j = 0; j < sides; ++j) {
            const double v = 2 * std::numbers::pi * j / sides;
            const double r = ring + tube * std::cos(v);
            mesh.vertices_mm.emplace_back(r * std::cos(u), r * std::sin(u), tube * std::sin(v));
        }
    }
    for (std::uint32_t i = 0; i < around; ++i) {
        for (std::uint32_t j = 0; j < sides; ++j) {
            const std::uint32_t a = i * sides + j;
            const std::uint32_t b = (i + 1) % around * sides + j;
            const std::uint32_t c = (i + 1) % around * sides + (j + 1) % sides;
            const std::uint32_t d = i * sides + (j + 1) % sides;
            mesh.triangles.push_back({a, b, c});
            mesh.triangles.push_back({a, c, d});
        }
    }
    return mesh;
}

[[nodiscard]] inline SharedClearanceMesh ready(TriangleMesh mesh) {
    return prepare(std::make_shared<const TriangleMesh>(std::move(mesh)));
}

[[nodiscard]] inline Pose at(double x, double y, double z) { return {Mat3{1.0}, Vec3{x, y, z}}; }

/// Straight up by `height`, untilted.
[[nodiscard]] inline Ride straight_up(double height) { return {Vec3{0.0}, {{{0}, 0, {}}, {{height}, height, {}}}}; }

/// Straight up, tilted by up to `bound` either way in x and y all along.
[[nodiscard]] inline Ride straight_up_tilting(double height, double bound_x, double bound_y) {
    const SlopeRange range{{-bound_x, -bound_y}, {bound_x, bound_y}};
    return {Vec3{0.0}, {{{0}, 0, range}, {{height}, height, range}}};
}

} // namespace evenclose::test
