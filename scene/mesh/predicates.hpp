// scene/mesh/predicates.hpp: on which side of a line or a plane a point lies, with the right sign in every case.
//
// A double-precision determinant with a certified error bound answers nearly always; where the bound cannot tell, the
// determinant is summed exactly as an expansion of doubles. J. R. Shewchuk, "Adaptive precision floating-point
// arithmetic and fast robust geometric predicates", Discrete & Computational Geometry 18 (1997): error bounds ccwerrboundA
// and o3derrboundA, expansion sums and products. Not his adaptive stages: one filter, then exact.
//
// Holds while no product underflows or overflows: coordinates of magnitude 1e-90 to 1e90, or 0.
#pragma once

#include "scene/vec.hpp"

namespace evenclose {

/// 1 when a, b, c turn counter-clockwise, -1 clockwise, 0 exactly in line. Threads: pure, any.
[[nodiscard]] int orientation(const Vec2& a, const Vec2& b, const Vec2& c);

/// 1 when d lies above the plane through a, b, c (from where they turn counter-clockwise), -1 below, 0 exactly in it.
[[nodiscard]] int side_of_plane(const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d);

} // namespace evenclose
