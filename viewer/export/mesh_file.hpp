// viewer/export/mesh_file.hpp: a mesh as the bytes of a file that a slicer reads. Written by Assimp.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <string>

namespace evenclose {

enum class MeshFileKind { stl, three_mf }; // binary STL in mm; 3MF (ISO/IEC 25422), which says that it is in mm

/// Faults: std::runtime_error with Assimp's words.   Threads: pure, any.
[[nodiscard]] std::string mesh_file(const TriangleMesh& mesh, const std::string& name, MeshFileKind kind);

} // namespace evenclose
