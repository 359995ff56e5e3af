#include "viewer/render/drawable_mesh.hpp"

#include "viewer/render/coarse_surface.hpp"
#include "viewer/render/joined_corners.hpp"
#include "scene/kept_for.hpp"
#include "viewer/render/octahedral.hpp"

#include <glm/geometric.hpp>
#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <mutex>
#include <numeric>
#include <span>

namespace evenclose {
namespace {

using Corners = std::array<std::uint32_t, 3>;

/// Unit normal and area of a triangle; both zero where it has none.
struct Face {
    glm::vec3 normal{0.0F};
    float area = 0;
};

Face face_of(const Vec3& a, const Vec3& b, const Vec3& c) {
    const Vec3 across = glm::cross(b - a, c - a);
    const double twice = glm::length(across);
    const double longest = std::max({glm::length(b - a), glm::length(c - a), glm::length(c - b)});
    // A height of less than a billionth of the length is rounding: its direction says nothing.
    if (!(twice > 1e-9 * longest * longest)) {
        return {};
    }
    return {glm::vec3(across / twice), static_cast<float>(0.5 * twice)};
}

/// Which triangles stand round each vertex: corner numbers (3 * triangle + corner), in order.
struct Fans {
    std::vector<std::uint32_t> start, corners;

    [[nodiscard]] std::span<const std::uint32_t> round(std::uint32_t vertex) const {
        return {corners.data() + start[vertex], corners.data() + start[vertex + 1]};
    }
};

Fans fans_of(const std::vector<Corners>& triangles, std::size_t vertex_count) {
    Fans fans;
    fans.start.assign(vertex_count + 1, 0);
    for (const Corners& triangle : triangles) {
        for (const std::uint32_t vertex : triangle) {
            ++fans.start[vertex + 1];
        }
    }
    std::partial_sum(fans.start.begin(), fans.start.end(), fans.start.begin());
    fans.corners.resize(3 * triangles.size());
    std::vector<std::uint32_t> next(fans.start.begin(), fans.start.end() - 1);
    for (std::uint32_t corner = 0; corner < fans.corners.size(); ++corner) {
        fans.corners[next[triangles[corner / 3][corner % 3]]++] = corner;
    }
    return fans;
}

struct FoundEdge {
    std::uint32_t from = 0, to = 0;
    float cosine = -1; // of the turn; -1 for a border, a branching or a seam
};

/// A triangle's edge at the vertex in hand.
struct Spoke {
    std::uint32_t far_end = 0, place = 0; // place: of the triangle's corner in the fan
    bool leaves = false;                  // runs from the vertex outward in the triangle's order
};

/// Scratch of one block of vertices, kept to spare allocations.
struct FanWork {
    std::vector<Spoke> spokes;
    std::vector<std::uint32_t> group;

    std::uint32_t root(std::uint32_t place) {
        while (group[place] != place) {
            place = group[place] = group[group[place]];
        }
        return place;
    }
    void join(std::uint32_t a, std::uint32_t b) {
        a = root(a);
        b = root(b);
        group[std::max(a, b)] = std::min(a, b); // the root is always the first of its group
    }
};

struct BlockResult {
    std::vector<FoundEdge> edges;
    bool closed = true;
};

/// Groups the triangles round one vertex by smooth edges; writes each corner's group (0, 1, ...), gives their number.
std::uint32_t group_fan(std::uint32_t vertex, const std::vector<Corners>& triangles, const std::vector<Face>& faces,
                        std::span<const std::uint32_t> fan, FanWork& work, std::vector<std::uint32_t>& group_of_corner,
                        BlockResult& result) {
    static const float least_cosine = static_cast<float>(std::cos(kCreaseAngle_rad));
    work.spokes.clear();
    work.group.resize(fan.size());
    std::iota(work.group.begin(), work.group.end(), 0U);
    for (std::uint32_t place = 0; place < fan.size(); ++place) {
        const Corners& triangle = triangles[fan[place] / 3];
        const std::uint32_t corner = fan[place] % 3;
        work.spokes.push_back({triangle[(corner + 1) % 3], place, true});
        work.spokes.push_back({triangle[(corner + 2) % 3], place, false});
    }
    std::sort(work.spokes.begin(), work.spokes.end(), [](const Spoke& a, const Spoke& b) {
        return a.far_end != b.far_end ? a.far_end < b.far_end : a.place < b.place;
    });
    for (std::size_t i = 0; i < work.spokes.size();) {
        std::size_t end = i + 1;
        while (end < work.spokes.size() && work.spokes[end].far_end == work.spokes[i].far_end) {
            ++end;
        }
        const Spoke& first = work.spokes[i];
        const bool pair = end - i == 2 && first.leaves != work.spokes[i + 1].leaves;
        float cosine = -1;
        if (pair) {
            const Face& one = faces[fan[first.place] / 3];
            const Face& other = faces[fan[work.spokes[i + 1].place] / 3];
            const bool sliver = one.area == 0 || other.area == 0;
            cosine = sliver ? 1.0F : glm::dot(one.normal, other.normal);
            if (!sliver && cosine >= least_cosine) {
                work.join(first.place, work.spokes[i + 1].place);
            }
        } else {
            result.closed = false;
        }
        if (cosine < least_cosine && vertex < first.far_end) {
            result.edges.push_back({vertex, first.far_end, cosine});
        }
        i = end;
    }
    std::uint32_t groups = 0;
    for (std::uint32_t place = 0; place < fan.size(); ++place) {
        const std::uint32_t root = work.root(place);
        group_of_corner[fan[place]] = root == place ? groups++ : group_of_corner[fan[root]];
    }
    return groups;
}

/// A scan's noise makes an edge of everything; a picture black with edges shows nothing. Then only strong turns are
/// kept, and if that does not help, only borders. Meshes of a few thousand edges are never touched.
void thin_out(std::vector<FoundEdge>& edges, std::size_t triangle_count) {
    constexpr std::size_t kNeverTooMany = 50'000;
    for (const float cosine : {0.5F, -0.999F}) {
        if (edges.size() <= kNeverTooMany || edges.size() * 4 <= triangle_count) {
            return;
        }
        std::erase_if(edges, [&](const FoundEdge& edge) { return edge.cosine > cosine; });
    }
}

} // namespace

DrawableMesh make_drawable(const TriangleMesh& mesh) {
    DrawableMesh made;
    JoinedCorners joined = join_corners(mesh);
    const std::vector<Vec3>& places = joined.vertices_mm;
    const std::vector<Corners>& triangles = joined.triangles;
    if (triangles.empty()) {
        return made;
    }
    for (const Corners& triangle : triangles) {
        for (const std::uint32_t vertex : triangle) {
            made.bounds_mm.add(places[vertex]);
        }
    }
    made.middle_mm = made.bounds_mm.centre_mm();

    std::vector<Face> faces(triangles.size());
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, triangles.size(), 1 << 14), [&](const auto& range) {
        for (std::size_t i = range.begin(); i < range.end(); ++i) {
            const Corners& t = triangles[i];
            faces[i] = face_of(places[t[0]], places[t[1]], places[t[2]]);
        }
    });

    const Fans fans = fans_of(triangles, places.size());
    std::vector<std::uint32_t> group_of_corner(3 * triangles.size());
    std::vector<std::uint32_t> first_of_vertex(places.size() + 1, 0);
    // Blocks of fixed size, each with its own list of edges: their order is the same for any number of threads.
    constexpr std::size_t kBlock = 1 << 15;
    std::vector<BlockResult> blocks((places.size() + kBlock - 1) / kBlock);
    tbb::parallel_for(std::size_t{0}, blocks.size(), [&](std::size_t block) {
        FanWork work;
        const std::size_t end = std::min(places.size(), (block + 1) * kBlock);
        for (std::size_t vertex = block * kBlock; vertex < end; ++vertex) {
            const auto v = static_cast<std::uint32_t>(vertex);
            first_of_vertex[v + 1] =
                group_fan(v, triangles, faces, fans.round(v), work, group_of_corner, blocks[block]);
        }
    });
    std::partial_sum(first_of_vertex.begin(), first_of_vertex.end(), first_of_vertex.begin());

    DrawableSurface& full = made.full;
    full.vertices.resize(first_of_vertex.back());
    full.source_vertex.resize(first_of_vertex.back());
    full.triangles.resize(triangles.size());
    tbb::parallel_for(std::size_t{0}, blocks.size(), [&](std::size_t block) {
        std::vector<glm::vec3> normals;
        const std::size_t end = std::min(places.size(), (block + 1) * kBlock);
        for (std::size_t vertex = block * kBlock; vertex < end; ++vertex) {
            const std::uint32_t first = first_of_vertex[vertex];
            normals.assign(first_of_vertex[vertex + 1] - first, glm::vec3(0.0F));
            const glm::vec3 place{places[vertex] - made.middle_mm};
            for (const std::uint32_t corner : fans.round(static_cast<std::uint32_t>(vertex))) {
                const std::uint32_t split = first + group_of_corner[corner];
                const Face& face = faces[corner / 3];
                normals[group_of_corner[corner]] += face.area * face.normal;
                full.vertices[split].from_middle_mm = {place.x, place.y, place.z};
                full.source_vertex[split] = joined.source_vertex[vertex];
                full.triangles[corner / 3][corner % 3] = split;
            }
            for (std::size_t i = 0; i < normals.size(); ++i) {
                full.vertices[first + i].octahedral = fold_octahedral(normals[i]);
            }
        }
    });

    std::vector<FoundEdge> edges;
    bool closed = !joined.lost_triangles;
    for (const BlockResult& block : blocks) {
        edges.insert(edges.end(), block.edges.begin(), block.edges.end());
        closed = closed && block.closed;
    }
    made.closed = closed && signed_volume_mm3(mesh) > 0;
    thin_out(edges, triangles.size());
    made.edges.reserve(edges.size());
    for (const FoundEdge& edge : edges) {
        const glm::vec3 from{places[edge.from] - made.middle_mm};
        const glm::vec3 to{places[edge.to] - made.middle_mm};
        made.edges.push_back({{from.x, from.y, from.z}, {to.x, to.y, to.z}});
    }
    if (joined.lost_triangles || triangles.size() != mesh.triangles.size()) {
        made.drawn = std::move(joined.source_triangle);
    }
    made.coarse = coarse_surfaces(full);
    return made;
}

std::shared_ptr<const DrawableMesh> drawable_of(const SharedMesh& mesh) {
    static std::mutex guard;
    static KeptFor<TriangleMesh, std::shared_ptr<const DrawableMesh>> kept;
    {
        const std::scoped_lock lock(guard);
        kept.forget_gone();
        if (const auto* found = kept.find(mesh)) {
            return *found;
        }
    }
    // Made outside the lock: another thread may make the same one meanwhile; the first to come stays.
    auto made = std::make_shared<const DrawableMesh>(make_drawable(*mesh));
    const std::scoped_lock lock(guard);
    if (const auto* found = kept.find(mesh)) {
        return *found;
    }
    return kept.keep(mesh, std::move(made));
}

} // namespace evenclose
