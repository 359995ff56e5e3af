// scene/mesh/formats/scene_formats.hpp: reads 3MF, glTF and GLB through Assimp: all parts of the file as one mesh, each
// where its nodes and components put it.
//
// A placement that mirrors turns its triangles' corners round, so that outside stays outside (glTF 2.0, 3.7.4; 3MF core
// 1.2.3, 3.3). glTF's Y up becomes our Z up: (x, y, z) to (x, -z, y). 3MF states its unit (Assimp does not tell it, so it
// is read from the package), glTF is in metres (glTF 2.0, 3.4). Coordinates come as 32-bit floats.
//
// Only Assimp's readers are used, none of its further steps: those end the program on faces that a broken file can hold.
#pragma once

#include "scene/mesh/formats/files_beside.hpp"
#include "scene/mesh/formats/open_file.hpp"
#include "scene/mesh/formats/raw_mesh.hpp"
#include "scene/mesh/formats/recognise.hpp"

namespace evenclose {

/// Needs: a format of the above. `beside`: how a glTF gets at the buffers that it names.
[[nodiscard]] RawResult read_scene(const OpenFile& file, MeshFormat format, const FilesBeside& beside);

/// The unit that a 3MF package states; millimetre if it states none (3MF core 1.2.3, 3.4). Faults: NotRead in place.
/// A package that unpacks to much more than a model does is refused before it is unpacked any further.
[[nodiscard]] std::variant<FileUnit, NotRead> unit_of_3mf(const OpenFile& file);

} // namespace evenclose
