// scene/mesh/soundness.hpp: what a mesh is like: closed, oriented, in how many shells, with which flawed triangles.
//
// Edges are told by corner numbers, so the mesh must be welded first (import does). A shell is a set of triangles that
// hang together by edges.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <cstddef>
#include <vector>

namespace evenclose {

/// How many there are of a flaw, and where the first is.
struct Flaw {
    std::size_t count = 0;
    Vec3 first_at_mm{0.0};
};

struct Shell {
    std::size_t triangles = 0;
    double signed_volume_mm3 = 0; // below 0: inside out; only meaningful for a closed one
    bool closed = false;
    Vec3 at_mm{0.0};      // a corner of it
    double extent_mm = 0; // largest side of its box
    Box box;
};

struct Soundness {
    Flaw open_edges;           // edges with one triangle only: the rim of a hole
    Flaw crowded_edges;        // more than two triangles: non-manifold
    Flaw turned_edges;         // two triangles that run along it the same way: one of them is flipped
    Flaw flat_triangles;       // no area: two corners alike, or three in line
    Flaw doubled_triangles;    // the same three corners again
    Flaw slivers;              // height under a thousandth of the longest side, but not flat
    std::vector<Shell> shells; // largest (by triangles) first
    Box box;

    [[nodiscard]] bool closed() const { return open_edges.count == 0 && crowded_edges.count == 0; }
    [[nodiscard]] bool oriented() const { return turned_edges.count == 0; }
};

/// Needs: corners in range, finite.   Threads: pure, any.
[[nodiscard]] Soundness soundness_of(const TriangleMesh& mesh);

} // namespace evenclose
