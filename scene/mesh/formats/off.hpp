// scene/mesh/formats/off.hpp: reads OFF as text, with its forms that carry colours, normals or texture places (these are
// not read). Source: Geomview manual, "OFF: the Object File Format". Not the 4-dimensional, n-dimensional and binary forms.
//
// Our own reader: Assimp's takes a file that is cut short for whole, and ends the program on some of them.
#pragma once

#include "scene/mesh/formats/raw_mesh.hpp"

#include <string_view>

namespace evenclose {

[[nodiscard]] RawResult read_off(std::string_view text);

} // namespace evenclose
