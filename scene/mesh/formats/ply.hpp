// scene/mesh/formats/ply.hpp: reads PLY, text and binary of both byte orders: vertices, faces and triangle strips; all else
// in it is passed over. Source: G. Turk, "The PLY Polygon File Format", Stanford, 1994.
//
// Our own reader: Assimp's does not come back from some files that are cut short, and takes others for whole.
#pragma once

#include "scene/mesh/formats/raw_mesh.hpp"

#include <string_view>

namespace evenclose {

[[nodiscard]] RawResult read_ply(std::string_view bytes);

} // namespace evenclose
