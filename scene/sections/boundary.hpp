// scene/sections/boundary.hpp: the true outline of a section, straights and arcs, and integrals over what it encloses.
#pragma once

#include "scene/press/press.hpp"
#include "scene/vec.hpp"

#include <vector>

namespace evenclose {

/// A straight from `from` to `to`; with a radius an arc about `centre` from `from_angle` over `sweep` (radians, below 0
/// clockwise).
struct BoundaryPiece {
    Vec2 from{0.0}, to{0.0};
    double radius = 0;
    Vec2 centre{0.0};
    double from_angle = 0, sweep = 0;
};
using Boundary = std::vector<BoundaryPiece>; // closed, counter-clockwise

/// Integrals over the enclosed area of 1, u, v, v^2, u^2, u v.
struct AreaIntegrals {
    double area = 0, u = 0, v = 0, vv = 0, uu = 0, uv = 0;
    AreaIntegrals& operator-=(const AreaIntegrals& hole);
};

[[nodiscard]] Boundary rounded_rectangle(double width_mm, double depth_mm, double radius_mm);
[[nodiscard]] Boundary angle_boundary(const AngleSection& angle);

/// Green's theorem with 8-point Gauss quadrature a piece: exact for straights, 1e-14 for a quarter circle.
[[nodiscard]] AreaIntegrals integrate(const Boundary& boundary);

} // namespace evenclose
