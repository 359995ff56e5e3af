// scene/mesh/formats/polygon_soup.hpp: vertices and faces of any number of corners as a file lists them, and the welded
// triangle mesh made of them.
//
// Faces are cut by scene/mesh/polygon.hpp in the plane that their normal is nearest to (Newell's normal); one that is not
// simple there (crossed, or far from flat) is cut as a fan from its first corner. Not left to the libraries: tinyobjloader
// 2.0 rc10 tells inside from outside by where the origin lies, Assimp 5.2 ends the program on a face without corners.
#pragma once

#include "scene/mesh/formats/raw_mesh.hpp"

#include <cstdint>
#include <span>
#include <vector>

namespace evenclose {

struct PolygonSoup {
    std::vector<Vec3> vertices;
    std::vector<std::uint32_t> face_sizes; // 3 or more each
    std::vector<std::uint32_t> corners;    // of the first face, then the second, ...; into vertices

    void add_face(std::span<const std::uint32_t> face) {
        face_sizes.push_back(static_cast<std::uint32_t>(face.size()));
        corners.insert(corners.end(), face.begin(), face.end());
    }
};

/// Adds the triangles of one face. Needs: corners in range.
void cut_face(std::span<const std::uint32_t> face, const std::vector<Vec3>& vertices,
              std::vector<TriangleCorners>& into);

/// Needs: finite vertices. Faults: a face with a vertex that is not there, with the face's number.
[[nodiscard]] RawResult welded(const PolygonSoup& soup);

} // namespace evenclose
