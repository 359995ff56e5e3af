// tests/scene/press/closed_mesh.hpp: is a mesh closed and oriented? Counted by its edges, nothing else.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <glm/geometric.hpp>

#include <cstdint>
#include <map>
#include <utility>

namespace evenclose::test {

struct EdgeCount {
    int without_partner = 0; // an edge that is not run through exactly once each way
    int flat_triangles = 0;  // of no area
    int twins = 0;           // corners at one place
};

[[nodiscard]] inline EdgeCount count_edges(const TriangleMesh& mesh) {
    EdgeCount count;
    std::map<std::pair<std::uint32_t, std::uint32_t>, int> runs;
    for (const TriangleCorners& t : mesh.triangles) {
        for (int i = 0; i < 3; ++i) {
            ++runs[{t[i], t[(i + 1) % 3]}];
        }
        const Vec3 a = mesh.vertices_mm[t[0]];
        if (glm::length(glm::cross(mesh.vertices_mm[t[1]] - a, mesh.vertices_mm[t[2]] - a)) < 1e-9) {
            ++count.flat_triangles;
        }
    }
    for (const auto& [edge, times] : runs) {
        const auto back = runs.find({edge.second, edge.first});
        if (times != 1 || back == runs.end() || back->second != 1) {
            ++count.without_partner;
        }
    }
    for (std::size_t i = 0; i < mesh.vertices_mm.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            count.twins += glm::distance(mesh.vertices_mm[i], mesh.vertices_mm[j]) < 1e-9 ? 1 : 0;
        }
    }
    return count;
}

[[nodiscard]] inline bool closed_and_clean(const TriangleMesh& mesh) {
    const EdgeCount count = count_edges(mesh);
    return !mesh.empty() && count.without_partner == 0 && count.flat_triangles == 0 && count.twins == 0;
}

} // namespace evenclose::test
