#include "scene/mesh/self_intersection.hpp"

#include "scene/mesh/predicates.hpp"

#include <tbb/blocked_range.h>
#include <tbb/parallel_reduce.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <numeric>

namespace evenclose {
namespace {

constexpr std::uint32_t kLeaf = 8; // triangles a leaf: fewer means more nodes than a test of eight boxes costs

bool overlap(const Box& a, const Box& b) {
    return a.low_mm.x <= b.high_mm.x && b.low_mm.x <= a.high_mm.x && a.low_mm.y <= b.high_mm.y &&
           b.low_mm.y <= a.high_mm.y && a.low_mm.z <= b.high_mm.z && b.low_mm.z <= a.high_mm.z;
}

/// Both in the same plane across an axis, as the caps of a drum are: nothing passes from one side to the other, and the
/// signs of such pairs are the dear ones, all exactly 0.
bool in_one_axis_plane(const Box& a, const Box& b) {
    for (int axis = 0; axis < 3; ++axis) {
        const double at = a.low_mm[axis];
        if (a.high_mm[axis] == at && b.low_mm[axis] == at && b.high_mm[axis] == at) {
            return true;
        }
    }
    return false;
}

/// Boxes about the triangles, halved at the median of the longest side. Node i's children stand at `first` and `first`+1.
class BoxTree {
public:
    explicit BoxTree(const TriangleMesh& mesh) : boxes_(mesh.triangles.size()), order_(mesh.triangles.size()) {
        for (std::size_t t = 0; t < boxes_.size(); ++t) {
            for (const std::uint32_t corner : mesh.triangles[t]) {
                boxes_[t].add(mesh.vertices_mm[corner]);
            }
        }
        std::iota(order_.begin(), order_.end(), 0U);
        nodes_.push_back({});
        build(0, 0, static_cast<std::uint32_t>(order_.size()));
    }

    /// Calls `see(other)` for every triangle above `triangle` whose box overlaps its own, unless both lie flat in one plane.
    template <class See> void above(std::uint32_t triangle, const See& see) const {
        const Box& box = boxes_[triangle];
        std::array<std::uint32_t, 128> stack{};
        std::size_t depth = 0;
        stack[depth++] = 0;
        while (depth > 0) {
            const Node& node = nodes_[stack[--depth]];
            if (!overlap(node.box, box)) {
                continue;
            }
            if (node.count == 0) {
                stack[depth++] = node.first;
                stack[depth++] = node.first + 1;
                continue;
            }
            for (std::uint32_t i = node.first; i < node.first + node.count; ++i) {
                if (order_[i] > triangle && overlap(boxes_[order_[i]], box) &&
                    !in_one_axis_plane(boxes_[order_[i]], box)) {
                    see(order_[i]);
                }
            }
        }
    }

private:
    struct Node {
        Box box;
        std::uint32_t first = 0, count = 0; // count 0: inner, `first` is its first child
    };

    void build(std::uint32_t at, std::uint32_t from, std::uint32_t to) {
        Box centres;
        for (std::uint32_t i = from; i < to; ++i) {
            nodes_[at].box.add(boxes_[order_[i]]);
            centres.add(boxes_[order_[i]].centre_mm());
        }
        if (to - from <= kLeaf) {
            nodes_[at].first = from;
            nodes_[at].count = to - from;
            return;
        }
        const Vec3 size = centres.size_mm();
        const int axis = size.x >= size.y && size.x >= size.z ? 0 : size.y >= size.z ? 1 : 2;
        const std::uint32_t middle = from + (to - from) / 2; // halves: the depth stays below 32 whatever the mesh
        std::nth_element(order_.begin() + from, order_.begin() + middle, order_.begin() + to,
                         [&](std::uint32_t a, std::uint32_t b) {
                             const double ca = boxes_[a].low_mm[axis] + boxes_[a].high_mm[axis];
                             const double cb = boxes_[b].low_mm[axis] + boxes_[b].high_mm[axis];
                             return ca != cb ? ca < cb : a < b;
                         });
        const auto children = static_cast<std::uint32_t>(nodes_.size());
        nodes_[at].first = children;
        nodes_.resize(nodes_.size() + 2);
        build(children, from, middle);
        build(children + 1, middle, to);
    }

    std::vector<Box> boxes_;
    std::vector<std::uint32_t> order_;
    std::vector<Node> nodes_;
};

/// Whether the segment from p to q passes through the triangle, from one side to the other.
bool passes(const Vec3& p, const Vec3& q, const Vec3& a, const Vec3& b, const Vec3& c) {
    if (side_of_plane(a, b, c, p) * side_of_plane(a, b, c, q) >= 0) {
        return false;
    }
    const int ab = side_of_plane(p, q, a, b);
    const int bc = side_of_plane(p, q, b, c);
    const int ca = side_of_plane(p, q, c, a);
    return (ab >= 0 && bc >= 0 && ca >= 0) || (ab <= 0 && bc <= 0 && ca <= 0);
}

bool intersect(const TriangleMesh& mesh, std::uint32_t first, std::uint32_t second) {
    const TriangleCorners& f = mesh.triangles[first];
    const TriangleCorners& s = mesh.triangles[second];
    const auto shared = static_cast<int>(std::count_if(
        f.begin(), f.end(), [&](std::uint32_t c) { return std::find(s.begin(), s.end(), c) != s.end(); }));
    if (shared >= 2) {
        return false;
    }
    const auto edges_pass = [&](const TriangleCorners& edges, const TriangleCorners& face) {
        for (std::size_t k = 0; k < 3; ++k) {
            const std::uint32_t p = edges[k];
            const std::uint32_t q = edges[(k + 1) % 3];
            const auto in_face = [&](std::uint32_t c) { return std::find(face.begin(), face.end(), c) != face.end(); };
            if (!in_face(p) && !in_face(q) &&
                passes(mesh.vertices_mm[p], mesh.vertices_mm[q], mesh.vertices_mm[face[0]], mesh.vertices_mm[face[1]],
                       mesh.vertices_mm[face[2]])) {
                return true;
            }
        }
        return false;
    };
    return edges_pass(f, s) || edges_pass(s, f);
}

struct Found {
    std::size_t count = 0;
    std::uint32_t lowest = 0xFFFFFFFFU;
};

} // namespace

Flaw self_intersections(const TriangleMesh& mesh, const std::function<bool()>& stop) {
    if (mesh.empty()) {
        return {};
    }
    const BoxTree tree(mesh);
    const Found found = tbb::parallel_reduce(
        tbb::blocked_range<std::uint32_t>(0, static_cast<std::uint32_t>(mesh.triangles.size()), 1024), Found{},
        [&](const tbb::blocked_range<std::uint32_t>& range, Found sum) {
            for (std::uint32_t t = range.begin(); t < range.end(); ++t) {
                if ((t & 0xFFU) == 0 && stop && stop()) {
                    break;
                }
                tree.above(t, [&](std::uint32_t other) {
                    if (intersect(mesh, t, other)) {
                        ++sum.count;
                        sum.lowest = std::min(sum.lowest, t);
                    }
                });
            }
            return sum;
        },
        [](const Found& a, const Found& b) {
            return Found{a.count + b.count, std::min(a.lowest, b.lowest)};
        });
    return found.count == 0 ? Flaw{} : Flaw{found.count, mesh.vertices_mm[mesh.triangles[found.lowest][0]]};
}

} // namespace evenclose
