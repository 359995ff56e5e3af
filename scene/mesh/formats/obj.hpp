// scene/mesh/formats/obj.hpp: reads OBJ through tinyobjloader: all groups and objects as one mesh.
//
// Done here and not left to the library: coordinates are read to the last digit of a double and refused when they are no
// finite numbers (the library takes 0 for what it cannot read), and a face with a missing vertex is a fault (the library
// leaves it out). Materials, lines, points and curves are not read.
#pragma once

#include "scene/mesh/formats/raw_mesh.hpp"

#include <string_view>

namespace evenclose {

[[nodiscard]] RawResult read_obj(std::string_view text);

} // namespace evenclose
