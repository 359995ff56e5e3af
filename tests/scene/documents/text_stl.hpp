// tests/scene/documents/text_stl.hpp: a mesh as a text STL, for files that documents name.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <fmt/format.h>

#include <string>

namespace evenclose::test {

inline std::string text_stl(const TriangleMesh& mesh) {
    std::string text = "solid part\n";
    for (const TriangleCorners& corners : mesh.triangles) {
        text += "facet normal 0 0 0\nouter loop\n";
        for (const auto corner : corners) {
            const Vec3& v = mesh.vertices_mm[corner];
            text += fmt::format("vertex {} {} {}\n", v.x, v.y, v.z);
        }
        text += "endloop\nendfacet\n";
    }
    return text + "endsolid part\n";
}

} // namespace evenclose::test
