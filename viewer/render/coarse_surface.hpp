// viewer/render/coarse_surface.hpp: a surface of many triangles thinned out for moving pictures.
//
// Vertex clustering (Rossignac & Borrel, "Multi-resolution 3D approximations for rendering complex scenes", 1993): space
// is cut into cells, each cell's vertices become one at their mean, triangles that lose a corner go. Normals are kept
// apart by the axis that they point along most, so that edges of a mold stay edges. Never measured, only looked at.
#pragma once

#include <cstddef>

namespace evenclose {

struct DrawableSurface;

/// Below this a software rasteriser keeps up by itself; above, the coarse one has roughly a third of it.
inline constexpr std::size_t kCoarseAbove_triangles = 150'000;

/// Empty when `full` has no more than kCoarseAbove_triangles. Faults: none. Threads: pure, any.
[[nodiscard]] DrawableSurface coarse_surface(const DrawableSurface& full);

} // namespace evenclose
