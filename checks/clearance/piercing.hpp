// checks/clearance/piercing.hpp: do two triangles that meet pass through each other, or do they only touch?
//
// Two triangles pierce when the line their planes share has a stretch in both of them and the middle of that stretch
// lies off every edge of both, so that each goes on beyond the other. Faces laid on each other, an edge on a face, a
// wall sliding along a wall: all of these only touch. Measured against kTouch_mm, far above rounding (2 m from the
// origin a double resolves 2e-13 mm) and far below what a shop can measure.
//
// Closed solids can also share room without one piercing pair, when faces coincide: two equal boxes, a box pushed into
// a channel of its own width. Then two faces lie in one plane, overlap, and look the same way: overlap_same_way.
#pragma once

#include "scene/vec.hpp"

#include <array>

namespace evenclose {

/// Nearer than this counts as contact, and contact that goes no deeper as touching. Also the slack for rounding.
inline constexpr double kTouch_mm = 1e-6;

using Triangle = std::array<Vec3, 3>;

/// Needs: finite corners; degenerate triangles pierce nothing.   Threads: pure, any.
[[nodiscard]] bool pierce(const Triangle& a, const Triangle& b);

/// Both lie in one plane (to kTouch_mm), share area there and turn their outsides to the same side.
[[nodiscard]] bool overlap_same_way(const Triangle& a, const Triangle& b);

} // namespace evenclose
