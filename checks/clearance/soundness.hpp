// checks/clearance/soundness.hpp: what a mesh must be before any hierarchy is built over it.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

namespace evenclose {

/// Faults: std::invalid_argument for an empty mesh, the first non-finite or absurdly far vertex, the first corner that
/// names no vertex. One such corner would make every distance wrong without a word.
void require_sound_input(const TriangleMesh& mesh);

} // namespace evenclose
