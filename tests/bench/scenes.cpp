#include "tests/bench/scenes.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace evenclose::bench {
namespace {

constexpr double kLength_mm = 900;
constexpr double kWidth_mm = 250;
constexpr double kHeight_mm = 60;

double kick(double x) { // rises smoothly beyond the wheelbase
    const double beyond = std::max(0.0, std::abs(x) - 280);
    return 90 * (std::sqrt(1 + beyond * beyond / 6400) - 1);
}

double face(double x, double y) { return kick(x) + 14 * (y / 125) * (y / 125) + 4 * std::sin(x / 140) * (y / 125); }

Vec3 face_point(double x, double y, double offset) {
    constexpr double kStep = 1e-3;
    const double dx = (face(x + kStep, y) - face(x - kStep, y)) / (2 * kStep);
    const double dy = (face(x, y + kStep) - face(x, y - kStep)) / (2 * kStep);
    return Vec3{x, y, face(x, y)} + offset * glm::normalize(Vec3{-dx, -dy, 1});
}

/// A box whose faces are grids of about `edge` mm.
TriangleMesh gridded_box(const Vec3& low, const Vec3& high, double edge) {
    TriangleMesh mesh;
    for (int axis = 0; axis < 3; ++axis) {
        for (const bool far : {false, true}) {
            const int u = (axis + 1) % 3;
            const int v = (axis + 2) % 3;
            const auto nu = static_cast<std::uint32_t>(std::max(1.0, std::round((high[u] - low[u]) / edge)));
            const auto nv = static_cast<std::uint32_t>(std::max(1.0, std::round((high[v] - low[v]) / edge)));
            const auto base = static_cast<std::uint32_t>(mesh.vertices_mm.size());
            for (std::uint32_t i = 0; i <= nu; ++i) {
                for (std::uint32_t j = 0; j <= nv; ++j) {
                    Vec3 p;
                    p[axis] = far ? high[axis] : low[axis];
                    p[u] = low[u] + (high[u] - low[u]) * i / nu;
                    p[v] = low[v] + (high[v] - low[v]) * j / nv;
                    mesh.vertices_mm.push_back(p);
                }
            }
            for (std::uint32_t i = 0; i < nu; ++i) {
                for (std::uint32_t j = 0; j < nv; ++j) {
                    const std::uint32_t a = base + i * (nv + 1) + j;
                    const std::uint32_t b = a + nv + 1;
                    if (far) {
                        mesh.triangles.push_back({a, b, b + 1});
                        mesh.triangles.push_back({a, b + 1, a + 1});
                    } else {
                        mesh.triangles.push_back({a, b + 1, b});
                        mesh.triangles.push_back({a, a + 1, b + 1});
                    }
                }
            }
        }
    }
    return mesh;
}

} // namespace

TriangleMesh mold_half(std::size_t triangles, bool upper) {
    const double cell = std::sqrt(2 * kLength_mm * kWidth_mm / static_cast<double>(triangles));
    const auto nx = static_cast<std::uint32_t>(std::max(2.0, std::round(kLength_mm / cell)));
    const auto ny = static_cast<std::uint32_t>(std::max(2.0, std::round(kWidth_mm / cell)));
    TriangleMesh mesh;
    for (std::uint32_t i = 0; i <= nx; ++i) {
        for (std::uint32_t j = 0; j <= ny; ++j) {
            mesh.vertices_mm.push_back(face_point(kLength_mm * (static_cast<double>(i) / nx - 0.5),
                                                  kWidth_mm * (static_cast<double>(j) / ny - 0.5),
                                                  upper ? kGap_mm : 0));
        }
    }
    const auto add = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c) {
        mesh.triangles.push_back(upper ? TriangleCorners{a, c, b} : TriangleCorners{a, b, c});
    };
    for (std::uint32_t i = 0; i < nx; ++i) {
        for (std::uint32_t j = 0; j < ny; ++j) {
            const std::uint32_t a = i * (ny + 1) + j;
            const std::uint32_t b = a + ny + 1;
            add(a, b, b + 1);
            add(a, b + 1, a + 1);
        }
    }
    // Walls down (or up) to the flat back, and the back as a fan from its middle.
    std::vector<std::uint32_t> rim;
    for (std::uint32_t i = 0; i <= nx; ++i) {
        rim.push_back(i * (ny + 1));
    }
    for (std::uint32_t j = 1; j <= ny; ++j) {
        rim.push_back(nx * (ny + 1) + j);
    }
    for (std::uint32_t i = nx; i-- > 0;) {
        rim.push_back(i * (ny + 1) + ny);
    }
    for (std::uint32_t j = ny; j-- > 1;) {
        rim.push_back(j);
    }
    const double back = upper ? face(0.5 * kLength_mm, 0.5 * kWidth_mm) + kGap_mm + kHeight_mm : -kHeight_mm;
    const auto below = static_cast<std::uint32_t>(mesh.vertices_mm.size());
    for (const std::uint32_t r : rim) {
        const Vec3 p = mesh.vertices_mm[r];
        mesh.vertices_mm.emplace_back(p.x, p.y, back);
    }
    const auto middle = static_cast<std::uint32_t>(mesh.vertices_mm.size());
    mesh.vertices_mm.emplace_back(0, 0, back);
    const auto around = static_cast<std::uint32_t>(rim.size());
    for (std::uint32_t k = 0; k < around; ++k) {
        const std::uint32_t next = (k + 1) % around;
        add(rim[k], below + k, below + next);
        add(rim[k], below + next, rim[next]);
        add(middle, below + next, below + k);
    }
    return mesh;
}

TriangleMesh press_frame() {
    TriangleMesh frame;
    constexpr double kEdge = 20;
    for (const double x : {-1.0, 1.0}) {
        for (const double y : {-1.0, 1.0}) {
            const double x0 = x < 0 ? -546 : 456;
            const double y0 = y < 0 ? -221 : 131;
            append(frame, gridded_box({x0, y0, -400}, {x0 + 90, y0 + 90, 500}, kEdge));
        }
    }
    for (const double y : {-221.0, 131.0}) {
        append(frame, gridded_box({-456, y, 380}, {456, y + 90, 500}, kEdge));
        append(frame, gridded_box({-456, y, -400}, {456, y + 90, -300}, kEdge));
    }
    for (const double x : {-546.0, 456.0}) {
        append(frame, gridded_box({x, -131, 380}, {x + 90, 131, 500}, kEdge));
        append(frame, gridded_box({x, -131, -400}, {x + 90, 131, -300}, kEdge));
    }
    append(frame, gridded_box({-456, -131, 380}, {456, 131, 500}, kEdge));
    return frame;
}

Ride closing_ride(double bound) {
    const SlopeRange range{{-bound, -bound}, {bound, bound}};
    return {Vec3{0, 0, -kHeight_mm}, {{{0}, -kStroke_mm, range}, {{kStroke_mm}, 0, range}}};
}

} // namespace evenclose::bench
