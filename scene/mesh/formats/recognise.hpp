// scene/mesh/formats/recognise.hpp: which format a mesh file is in, by its content first, by its name's ending second.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace evenclose {

enum class MeshFormat { unknown, stl_binary, stl_text, obj, ply, off, three_mf, gltf, glb, step };

inline constexpr const char* kFormatsRead = "STL, OBJ, PLY, OFF, 3MF, glTF, GLB and STEP";
inline constexpr std::size_t kHeadSize = 4096; // bytes of a file's beginning that are looked at

struct Recognised {
    MeshFormat format = MeshFormat::unknown;
    std::string why_unknown; // what it looks like, if that is known
};

/// `head`: the first kHeadSize bytes or the whole file. `ending`: of the name, lower case, with its dot, or empty.
[[nodiscard]] Recognised recognise(std::string_view head, std::size_t file_size, std::string_view ending);

} // namespace evenclose
