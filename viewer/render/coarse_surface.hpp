// viewer/render/coarse_surface.hpp: a surface of many triangles thinned out, for a software rasteriser.
//
// Vertex clustering (Rossignac & Borrel, "Multi-resolution 3D approximations for rendering complex scenes", 1993): space
// is cut into cells, each cell's vertices become one at their mean, triangles that lose a corner go. Normals are kept
// apart by the axis that they point along most, so that edges of a mold stay edges. Never measured, only looked at.
#pragma once

#include <cstddef>
#include <vector>

namespace evenclose {

struct DrawableSurface;

/// Coarse and coarser ones, of roughly 300,000 and 50,000 triangles, as far as that is less than half of what is there
/// already. Faults: none. Threads: pure, any.
[[nodiscard]] std::vector<DrawableSurface> coarse_surfaces(const DrawableSurface& full);

} // namespace evenclose
