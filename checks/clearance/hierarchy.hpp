// checks/clearance/hierarchy.hpp: a bounding volume hierarchy of oriented boxes over one mesh.
//
// Made for two surfaces that lie along each other with an even gap, where every patch ties with its neighbours and
// loose boxes cost most. So
// - triangles are parted first by the way they face (the six directions of a cube), so that no box mixes wall and face
//   and is loose at every rim; then by place, halving the longest side of the box of centroids;
// - each box stands on the mean normal of its triangles, area-weighted: a slab whose thickness over a patch of size L
//   with curvature k is about k L^2 / 8, second order, where an axis-aligned box has first order (S. Gottschalk, M. Lin,
//   D. Manocha, "OBBTree", SIGGRAPH 1996, for the convergence of oriented boxes);
// - boxes of up to some hundred triangles are fitted to corners, those above to their two children's boxes.
//
// Rounding: centres, axes and half sizes are floats, about the middle of the mesh. Rounding a centre and three axes
// moves any point of the box by less than 5e-7 (|centre| + half diagonal), fitting in floats included; the half sizes are widened by 1e-6 of that
// beforehand, so the rounded box still holds everything.
//
// Memory: 64 bytes a node, four triangles at most to a leaf, 4 bytes a triangle for the order. See bytes().
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <cstddef>
#include <cstdint>
#include <memory>
#include <vector>

namespace evenclose {

struct alignas(64) BoxNode {
    float centre[3];     // from Hierarchy::origin
    float normal[3];     // unit; the first axis
    float along[3];      // unit, across `normal`; the second axis. The third is normal x along.
    float half[3];       // half sizes along the three
    std::uint32_t first; // left child (the right one follows it), or the first place in the order for a leaf
    std::uint32_t count; // triangles of a leaf; 0 for an inner node
    float radius;        // of the box, about its centre

    [[nodiscard]] bool leaf() const { return count != 0; }
};
static_assert(sizeof(BoxNode) == 64);

class Hierarchy {
public:
    static constexpr std::uint32_t kRoot = 0;
    static constexpr std::uint32_t kLeafTriangles = 4;

    /// Needs: a mesh that require_sound_input lets pass.   Threads: builds in parallel; the shape of the tree does not
    /// depend on how many.
    explicit Hierarchy(const TriangleMesh& mesh);

    [[nodiscard]] const BoxNode& node(std::uint32_t index) const { return nodes_[index]; }
    /// The triangle at a place of a leaf's range.
    [[nodiscard]] std::uint32_t triangle(std::uint32_t place) const { return order_[place]; }
    [[nodiscard]] const Vec3& origin() const { return origin_; }
    [[nodiscard]] std::size_t node_count() const { return node_count_; }
    [[nodiscard]] std::size_t bytes() const {
        return node_count_ * sizeof(BoxNode) + order_.size() * sizeof(std::uint32_t);
    }

private:
    Vec3 origin_{0.0};
    std::unique_ptr<BoxNode[]> nodes_; // room for the most there could be; untouched pages cost nothing
    std::size_t node_count_ = 0;
    std::vector<std::uint32_t> order_;
};

} // namespace evenclose
