// tests/scene/mesh/edges_pair.hpp: a slow, independent look at closure: each directed edge once, its reverse once.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <cstdint>
#include <map>
#include <set>
#include <tuple>
#include <utility>

namespace evenclose::test {

[[nodiscard]] inline bool edges_pair(const TriangleMesh& mesh) {
    std::map<std::pair<std::uint32_t, std::uint32_t>, int> edges;
    for (const TriangleCorners& t : mesh.triangles) {
        for (std::size_t k = 0; k < 3; ++k) {
            if (t[k] >= mesh.vertices_mm.size() || t[k] == t[(k + 1) % 3]) {
                return false;
            }
            ++edges[{t[k], t[(k + 1) % 3]}];
        }
    }
    for (const auto& [edge, count] : edges) {
        const auto back = edges.find({edge.second, edge.first});
        if (count != 1 || back == edges.end() || back->second != 1) {
            return false;
        }
    }
    return !mesh.triangles.empty();
}

/// No two vertices in one place, none unused.
[[nodiscard]] inline bool vertices_distinct_and_used(const TriangleMesh& mesh) {
    std::set<std::tuple<double, double, double>> places;
    std::set<std::uint32_t> used;
    for (const Vec3& v : mesh.vertices_mm) {
        places.emplace(v.x, v.y, v.z);
    }
    for (const TriangleCorners& t : mesh.triangles) {
        used.insert(t.begin(), t.end());
    }
    return places.size() == mesh.vertices_mm.size() && used.size() == mesh.vertices_mm.size();
}

} // namespace evenclose::test
