#include "scene/press/prism.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

using Index = std::uint32_t;

Index count_of(const Ring& ring) { return static_cast<Index>(ring.corners_mm.size()); }

/// Adds the ring at height z; gives the index of its first corner.
Index add_ring(TriangleMesh& mesh, const Ring& ring, double scale, double z_mm) {
    const auto first = static_cast<Index>(mesh.vertices_mm.size());
    for (const Vec2& corner : ring.corners_mm) {
        mesh.vertices_mm.emplace_back(scale * corner.x, scale * corner.y, z_mm);
    }
    return first;
}

enum class Side { up, down };

void add_triangle(TriangleMesh& mesh, Side side, Index a, Index b, Index c) {
    mesh.triangles.push_back(side == Side::up ? TriangleCorners{a, b, c} : TriangleCorners{a, c, b});
}

void add_fan(TriangleMesh& mesh, Index first, Index count, Side side) {
    for (Index i = 1; i + 1 < count; ++i) {
        add_triangle(mesh, side, first, first + i, first + i + 1);
    }
}

/// The wall between two like rings; `side` up: the ring runs counter-clockwise and its outside is the solid's.
void add_wall(TriangleMesh& mesh, Index below, Index above, Index count, Side side) {
    for (Index i = 0; i < count; ++i) {
        const Index j = (i + 1) % count;
        add_triangle(mesh, side, below + i, below + j, above + j);
        add_triangle(mesh, side, below + i, above + j, above + i);
    }
}

/// The ring-shaped cap between outer and hollow: a strip that steps on whichever ring lags in phase.
void add_ring_cap(TriangleMesh& mesh, const Ring& outer, Index outer_first, const Ring& hollow, Index hollow_first,
                  Side side) {
    const Index n = count_of(outer);
    const Index m = count_of(hollow);
    // The phase of the ring's corner i, counted on past the seam.
    const auto phase = [](const Ring& ring, Index i) {
        const Index count = count_of(ring);
        return ring.phase[i % count] + 4.0 * (i / count);
    };
    Index i = 0;
    Index j = 0;
    while (i < n || j < m) {
        const Index o = outer_first + i % n;
        const Index h = hollow_first + j % m;
        if (j == m || (i < n && phase(outer, i + 1) <= phase(hollow, j + 1))) {
            add_triangle(mesh, side, o, outer_first + (i + 1) % n, h);
            ++i;
        } else {
            add_triangle(mesh, side, o, hollow_first + (j + 1) % m, h);
            ++j;
        }
    }
}

} // namespace

TriangleMesh prism(const Outline& outline, double length_mm) {
    TriangleMesh mesh;
    const Index n = count_of(outline.outer);
    const Index below = add_ring(mesh, outline.outer, 1.0, 0.0);
    const Index above = add_ring(mesh, outline.outer, 1.0, length_mm);
    add_wall(mesh, below, above, n, Side::up);
    if (!outline.is_hollow()) {
        add_fan(mesh, below, n, Side::down);
        add_fan(mesh, above, n, Side::up);
        return mesh;
    }
    const Index hollow_below = add_ring(mesh, outline.hollow, 1.0, 0.0);
    const Index hollow_above = add_ring(mesh, outline.hollow, 1.0, length_mm);
    add_wall(mesh, hollow_below, hollow_above, count_of(outline.hollow), Side::down);
    add_ring_cap(mesh, outline.outer, below, outline.hollow, hollow_below, Side::down);
    add_ring_cap(mesh, outline.outer, above, outline.hollow, hollow_above, Side::up);
    return mesh;
}

TriangleMesh turned_solid(std::vector<ProfilePoint> profile) {
    // A step of no width or no height would leave a wall of triangles without area.
    const auto same = [](const ProfilePoint& a, const ProfilePoint& b) {
        return a.radius_mm == b.radius_mm && a.z_mm == b.z_mm;
    };
    profile.erase(std::unique(profile.begin(), profile.end(), same), profile.end());

    double widest = 0;
    for (const ProfilePoint& point : profile) {
        widest = std::max(widest, point.radius_mm);
    }
    const Ring ring = round_outline(2 * widest).outer;
    TriangleMesh mesh;
    std::vector<Index> firsts;
    for (const ProfilePoint& point : profile) {
        firsts.push_back(add_ring(mesh, ring, point.radius_mm / widest, point.z_mm));
    }
    for (std::size_t i = 1; i < firsts.size(); ++i) {
        add_wall(mesh, firsts[i - 1], firsts[i], count_of(ring), Side::up);
    }
    add_fan(mesh, firsts.front(), count_of(ring), Side::down);
    add_fan(mesh, firsts.back(), count_of(ring), Side::up);
    return mesh;
}

} // namespace evenclose
