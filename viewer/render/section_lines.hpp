// viewer/render/section_lines.hpp: where a plane cuts a surface, as lines: the border of a section's face.
#pragma once

#include "viewer/render/drawable_mesh.hpp"

#include <vector>

namespace evenclose {

struct SectionLine {
    Vec3 from_mm, to_mm;
};

/// A plane in the frame of the mesh's middle: all p with dot(normal, p) == offset_mm.
struct CuttingPlane {
    Vec3 normal{0.0, 0.0, 1.0};
    double offset_mm = 0;
};

/// One line for each triangle with corners on both sides, in the order of the triangles, from the mesh's middle. A corner
/// in the plane counts as being on the normal's side, so that a closed surface gives closed outlines.
/// Faults: none. Threads: pure, any; the same answer for any number of threads.
[[nodiscard]] std::vector<SectionLine> section_lines(const DrawableSurface& surface, const CuttingPlane& plane);

} // namespace evenclose
