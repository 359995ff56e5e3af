// scene/mesh/formats/stl.hpp: reads STL, binary and text.
//
// Binary: 80 bytes of anything, the number of triangles n (32 bits, little-endian), n times 50 bytes: normal, three
// corners (twelve 32-bit floats), two spare bytes. Text: solid, facet normal, outer loop, three times vertex, endloop,
// endfacet, endsolid; any case and spacing, several solids. Source: M. Burns, Automated Fabrication, 1993, section 6.5.
// Normals are not read: the corners' order says what is outside, and the mesh check tests it.
#pragma once

#include "scene/mesh/formats/open_file.hpp"
#include "scene/mesh/formats/raw_mesh.hpp"

#include <cstddef>
#include <string_view>

namespace evenclose {

/// The size is that of a binary STL with the number of triangles that its head promises.
[[nodiscard]] bool is_whole_binary_stl(std::string_view head, std::size_t file_size);

/// Memory: the mesh, its welding table and 1 MiB; for a closed mesh less than the file's size.
[[nodiscard]] RawResult read_binary_stl(const OpenFile& file);
/// Memory: the file and the mesh.
[[nodiscard]] RawResult read_text_stl(std::string_view text);

} // namespace evenclose
