// viewer/export/assimp_mesh.hpp: our meshes as Assimp's exporters want them.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <assimp/mesh.h>

#include <algorithm>
#include <memory>
#include <vector>

namespace evenclose {

inline aiVector3D vector_of(const Vec3& v) {
    return {static_cast<ai_real>(v.x), static_cast<ai_real>(v.y), static_cast<ai_real>(v.z)};
}

[[nodiscard]] std::unique_ptr<aiMesh> assimp_mesh(const TriangleMesh& from, unsigned material);

/// What Assimp's C structures want: an array of pointers; who gets it deletes it and what it points to.
template <class T> T** handed_over(std::vector<std::unique_ptr<T>>& from) {
    T** array = new T*[from.size()]; // NOLINT: its owner deletes it
    std::transform(from.begin(), from.end(), array, [](std::unique_ptr<T>& it) { return it.release(); });
    return array;
}

} // namespace evenclose
