// tests/checks/clearance/convex_lift.hpp: over which lifts a convex body that goes straight up touches a still one.
//
// By closed form. At one place in plan the bodies touch from (underside of the still one less top of the moving one) to
// (top of the still one less underside of the moving one); over the plan the former is convex and piecewise linear, the
// latter concave, so the first and last contact are found at a corner of one body over a face of the other, or where two
// edges cross in plan (C. Ericson, Real-Time Collision Detection, 2005, sec. 3.11, Minkowski difference).
#pragma once

#include "scene/mesh/triangle_mesh.hpp"
#include "scene/vec.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <set>
#include <vector>

namespace evenclose::test {

struct ConvexBody {
    std::vector<Vec3> corners;
    std::vector<TriangleCorners> faces;
    std::vector<std::array<std::uint32_t, 2>> edges;
};

/// Needs: a closed convex mesh.
[[nodiscard]] inline ConvexBody convex_body(const TriangleMesh& mesh, const Pose& pose) {
    ConvexBody body;
    for (const Vec3& v : mesh.vertices_mm) {
        body.corners.push_back(pose.apply(v));
    }
    body.faces = mesh.triangles;
    std::set<std::array<std::uint32_t, 2>> edges;
    for (const TriangleCorners& f : mesh.triangles) {
        for (std::size_t i = 0; i < 3; ++i) {
            edges.insert({std::min(f[i], f[(i + 1) % 3]), std::max(f[i], f[(i + 1) % 3])});
        }
    }
    body.edges.assign(edges.begin(), edges.end());
    return body;
}

struct Lifts {
    double first_mm = std::numeric_limits<double>::infinity(), last_mm = -std::numeric_limits<double>::infinity();
    [[nodiscard]] bool none() const { return first_mm > last_mm; }
    void add(double lift_mm) {
        first_mm = std::min(first_mm, lift_mm);
        last_mm = std::max(last_mm, lift_mm);
    }
};

/// Exact but for rounding (1e-9 mm or so).
[[nodiscard]] inline Lifts lifts_in_contact(const ConvexBody& still, const ConvexBody& moving) {
    Lifts lifts;
    const auto cross = [](const Vec3& u, const Vec3& v) { return u.x * v.y - u.y * v.x; };
    const auto corners_over_faces = [&](const ConvexBody& of_corners, const ConvexBody& of_faces, double sign) {
        for (const TriangleCorners& f : of_faces.faces) {
            const Vec3& a = of_faces.corners[f[0]];
            const Vec3 ab = of_faces.corners[f[1]] - a;
            const Vec3 ac = of_faces.corners[f[2]] - a;
            const double area = cross(ab, ac);
            if (std::abs(area) < 1e-9) {
                continue; // upright: its edges answer for it
            }
            for (const Vec3& corner : of_corners.corners) {
                const double u = cross(corner - a, ac) / area;
                const double v = cross(ab, corner - a) / area;
                if (u >= -1e-12 && v >= -1e-12 && u + v <= 1 + 1e-12) {
                    lifts.add(sign * (corner.z - (a.z + u * ab.z + v * ac.z)));
                }
            }
        }
    };
    corners_over_faces(still, moving, 1);
    corners_over_faces(moving, still, -1);
    for (const auto& es : still.edges) {
        const Vec3& s = still.corners[es[0]];
        const Vec3 along_s = still.corners[es[1]] - s;
        for (const auto& em : moving.edges) {
            const Vec3& m = moving.corners[em[0]];
            const Vec3 along_m = moving.corners[em[1]] - m;
            const double turn = cross(along_s, along_m);
            if (std::abs(turn) < 1e-9) {
                continue; // alike in plan, or upright: the ends answer for it
            }
            const double u = cross(m - s, along_m) / turn;
            const double v = cross(m - s, along_s) / turn;
            if (u >= -1e-12 && u <= 1 + 1e-12 && v >= -1e-12 && v <= 1 + 1e-12) {
                lifts.add((s.z + u * along_s.z) - (m.z + v * along_m.z));
            }
        }
    }
    return lifts;
}

} // namespace evenclose::test
