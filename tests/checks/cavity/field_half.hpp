// tests/checks/cavity/field_half.hpp: mold halves whose forming face is a formula, closed and outward.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <cstdint>
#include <functional>
#include <memory>
#include <random>
#include <vector>

namespace evenclose::test {

/// A patch of a surface over parameters, seen as a grid; `back_z_mm` is the flat back of the solid.
inline TriangleMesh field_half(const std::vector<double>& u, const std::vector<double>& v,
                               const std::function<Vec3(double, double)>& face, double back_z_mm) {
    TriangleMesh mesh;
    const auto columns = static_cast<std::uint32_t>(u.size());
    const auto rows = static_cast<std::uint32_t>(v.size());
    for (const bool back : {false, true}) {
        for (const double y : v) {
            for (const double x : u) {
                Vec3 p = face(x, y);
                p.z = back ? back_z_mm : p.z;
                mesh.vertices_mm.push_back(p);
            }
        }
    }
    const std::uint32_t behind = columns * rows;
    const bool face_up = face(u[0], v[0]).z > back_z_mm;
    const auto add = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c) {
        mesh.triangles.push_back(face_up ? TriangleCorners{a, b, c} : TriangleCorners{a, c, b});
    };
    for (std::uint32_t r = 0; r + 1 < rows; ++r) {
        for (std::uint32_t c = 0; c + 1 < columns; ++c) {
            const std::uint32_t i = r * columns + c;
            add(i, i + 1, i + columns + 1);
            add(i, i + columns + 1, i + columns);
            add(behind + i, behind + i + columns + 1, behind + i + 1);
            add(behind + i, behind + i + columns, behind + i + columns + 1);
        }
    }
    const auto wall = [&](std::uint32_t a, std::uint32_t b) { // seen from outside, b right of a, face above
        add(a, behind + b, b);
        add(a, behind + a, behind + b);
    };
    for (std::uint32_t c = 0; c + 1 < columns; ++c) {
        wall(c, c + 1);
        wall((rows - 1) * columns + c + 1, (rows - 1) * columns + c);
    }
    for (std::uint32_t r = 0; r + 1 < rows; ++r) {
        wall((r + 1) * columns, r * columns);
        wall(r * columns + columns - 1, (r + 1) * columns + columns - 1);
    }
    return mesh;
}

inline std::vector<double> even_steps(double from, double to, int count) {
    std::vector<double> steps;
    for (int i = 0; i <= count; ++i) {
        steps.push_back(from + (to - from) * i / count);
    }
    return steps;
}

/// Steps whose widths differ by up to a factor of five, ends kept.
inline std::vector<double> uneven_steps(double from, double to, int count, unsigned seed) {
    std::mt19937 random(seed);
    std::vector<double> steps{0.0};
    for (int i = 0; i < count; ++i) {
        steps.push_back(steps.back() + 1.0 + 4.0 * static_cast<double>(random()) / 4294967296.0);
    }
    const double whole = steps.back();
    for (double& step : steps) {
        step = from + (to - from) * step / whole;
    }
    steps.back() = to;
    return steps;
}

inline std::shared_ptr<const TriangleMesh> share(TriangleMesh mesh) {
    return std::make_shared<const TriangleMesh>(std::move(mesh));
}

/// A deck's face: concave across, a kick at the nose that is steeper than the one at the tail, and twisted a little so
/// that no mirror or half turn brings it onto itself.
inline double deck_z(double x, double y) {
    const double concave = y * y / 700.0;
    const double nose = x > 150 ? (x - 150) * (x - 150) / 500.0 : 0.0;
    const double tail = x < -200 ? (x + 200) * (x + 200) / 900.0 : 0.0;
    const double twist = 2.5e-4 * x * y;
    return 40 + concave + nose + tail + twist;
}
inline Vec3 deck_normal(double x, double y) {
    const double nose = x > 150 ? 2 * (x - 150) / 500.0 : 0.0;
    const double tail = x < -200 ? 2 * (x + 200) / 900.0 : 0.0;
    return glm::normalize(Vec3{-(nose + tail + 2.5e-4 * y), -(2 * y / 700.0 + 2.5e-4 * x), 1.0});
}
inline TriangleMesh deck_lower(int along = 200, int across = 60) {
    return field_half(
        even_steps(-300, 300, along), even_steps(-90, 90, across),
        [](double x, double y) {
            return Vec3{x, y, deck_z(x, y)};
        },
        0);
}
/// The true offset by `stack_mm` along the lower face's normal.
inline TriangleMesh deck_upper(double stack_mm, int along = 190, int across = 64) {
    return field_half(
        even_steps(-300, 300, along), even_steps(-90, 90, across),
        [&](double x, double y) {
            return Vec3{x, y, deck_z(x, y)} + stack_mm * deck_normal(x, y);
        },
        160);
}

} // namespace evenclose::test
