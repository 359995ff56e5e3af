// scene/mesh/shapes.hpp: closed solids as meshes: watertight, outward, no corner on an edge.
//
// Round ones are inscribed: their corners lie on the true surface, so they are a little small (REFERENCE 13.1: a prism of
// n sides holds n/2 r^2 sin(2 pi / n) h).
//
// Faults, for all: std::invalid_argument with the shape and what is wrong (a size not above 0 or not finite, too few
// sides).   Threads: pure, any.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <vector>

namespace evenclose {

[[nodiscard]] TriangleMesh box_shape(const Vec3& low_mm, const Vec3& high_mm);
/// Axis Z, from z = 0 up; the first corner at +X.
[[nodiscard]] TriangleMesh cylinder_shape(double radius_mm, double height_mm, int sides);
[[nodiscard]] TriangleMesh cone_shape(double radius_mm, double height_mm, int sides);
/// A cylinder with a bore right through; `bore_radius_mm` below `radius_mm`.
[[nodiscard]] TriangleMesh tube_shape(double radius_mm, double bore_radius_mm, double height_mm, int sides);
/// By latitude and longitude, about the origin, poles on Z: `segments` round the axis, `bands` from pole to pole.
[[nodiscard]] TriangleMesh sphere_shape(double radius_mm, int segments, int bands);
/// An icosahedron split `splits` times (each side halved), its corners moved out to the sphere: even triangles.
[[nodiscard]] TriangleMesh icosphere_shape(double radius_mm, int splits);
/// About the origin, axis Z: `segments` round the axis, `sides` round the tube (REFERENCE 13.2: N and M).
[[nodiscard]] TriangleMesh torus_shape(double ring_radius_mm, double tube_radius_mm, int segments, int sides);
/// Regular, of edge `edge_mm`, about the origin.
[[nodiscard]] TriangleMesh tetrahedron_shape(double edge_mm);
[[nodiscard]] TriangleMesh octahedron_shape(double edge_mm);
[[nodiscard]] TriangleMesh icosahedron_shape(double edge_mm);

/// A simple polygon, wound either way, and maybe one hole in it. Corners in line with their neighbours are kept.
struct Polygon {
    std::vector<Vec2> outline_mm;
    std::vector<Vec2> hole_mm; // empty: none
};

/// The polygon from z = `from_z_mm` up to `to_z_mm`. Faults, further: an outline or hole that crosses or touches itself,
/// a hole that is not wholly inside.
[[nodiscard]] TriangleMesh extruded_shape(const Polygon& polygon, double from_z_mm, double to_z_mm);

} // namespace evenclose
