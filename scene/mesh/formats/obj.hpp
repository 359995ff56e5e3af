// scene/mesh/formats/obj.hpp: reads OBJ: all groups and objects as one mesh.
//
// The format: Wavefront Advanced Visualizer manual, appendix B. Read are vertices and faces, "f 1 2 3" with or without
// texture and normal numbers, counted from 1 or, negative, back from the last vertex; "\" at a line's end goes on in the
// next. Materials, lines, points, curves and the rest are passed over.
//
// Own reading and not tinyobjloader's: that takes 0 for a coordinate that it cannot read, leaves a face with a missing
// vertex out, reads floats, and takes longer. The file goes through in pieces, so that never the whole of its text is in
// memory.
#pragma once

#include "scene/mesh/formats/open_file.hpp"
#include "scene/mesh/formats/raw_mesh.hpp"

#include <cstddef>

namespace evenclose {

/// Faults: a coordinate or vertex number that is none, with its line; a face with a vertex that is not there.
/// `piece` bytes are read at once: no more than a place to work in, the answer is the same for any.
[[nodiscard]] RawResult read_obj(const OpenFile& file, std::size_t piece = std::size_t{1} << 20U);

} // namespace evenclose
