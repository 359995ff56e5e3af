// scene/mesh/formats/read_mesh.hpp: the reader that goes with a format.
#pragma once

#include "scene/mesh/formats/files_beside.hpp"
#include "scene/mesh/formats/open_file.hpp"
#include "scene/mesh/formats/raw_mesh.hpp"
#include "scene/mesh/formats/recognise.hpp"

namespace evenclose {

/// Faults: as NotRead; std::bad_alloc and what libraries throw besides pass through.
[[nodiscard]] RawResult read_mesh(const OpenFile& file, MeshFormat format, const FilesBeside& beside);

} // namespace evenclose
