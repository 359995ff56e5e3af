// checks/clearance/containment.hpp: is a point, or a shell of one body, inside another body?
//
// By the winding number: the solid angle under which the triangles are seen from the point, over 4 pi (A. van Oosterom,
// J. Strackee, "The solid angle of a plane triangle", IEEE Trans. Biomed. Eng. 30(2), 1983). For a closed mesh it is 1
// inside and 0 outside; for an open one it still tells near enough unless the point looks out through the hole
// (A. Jacobson et al., "Robust inside-outside segmentation using generalized winding numbers", ACM TOG 32(4), 2013).
// Inside-out meshes count by size, so a flipped box still holds what is in it.
#pragma once

#include "checks/clearance/hierarchy.hpp"
#include "scene/mesh/triangle_mesh.hpp"

#include <array>
#include <cstdint>
#include <vector>

namespace evenclose {

enum class Whereabouts { outside, inside, cannot_tell };

[[nodiscard]] double winding_number(const TriangleMesh& mesh, const Vec3& point_mm);

/// cannot_tell: the winding number lies between a quarter and three quarters (an open mesh seen through its hole).
[[nodiscard]] Whereabouts whereabouts(const TriangleMesh& mesh, const Box& bounds, const Vec3& point_mm);

/// The same by a few rays through the hierarchy: the winding number is the mean, over all directions, of signed crossings
/// (Jacobson et al., sec. 3). If the rays agree on 0 or on 1 that is taken; else (an open mesh, a grazed edge) every
/// triangle is asked.
[[nodiscard]] Whereabouts whereabouts(const TriangleMesh& mesh, const Hierarchy& hierarchy, const Box& bounds,
                                      const Vec3& point_mm);

/// One corner of each connected piece (joined through shared vertices), in order of first triangle.
[[nodiscard]] std::vector<std::uint32_t> corner_of_each_shell(const TriangleMesh& mesh);

/// Of each connected piece, in the same order, its corners lowest and highest along x, y and z: where one lies on
/// another body's surface, another as a rule does not.
using ShellEnds = std::array<std::uint32_t, 6>;
[[nodiscard]] std::vector<ShellEnds> ends_of_each_shell(const TriangleMesh& mesh);

/// Is some triangle nearer to the point than `within_mm`?
[[nodiscard]] bool near_surface(const TriangleMesh& mesh, const Hierarchy& hierarchy, const Vec3& point_mm,
                                double within_mm);

/// Every edge is run through as often one way as the other. Told by a 64-bit sum over all edges, so that a mesh that is
/// not closed passes once in 2^64.
[[nodiscard]] bool is_closed(const TriangleMesh& mesh);

} // namespace evenclose
