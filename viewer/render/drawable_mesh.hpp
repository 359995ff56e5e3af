// viewer/render/drawable_mesh.hpp: what the picture needs of a mesh: split normals, feature edges, a coarse stand-in.
//
// Corners at one place are joined (files bring triangle soup), each edge's triangles are found round its vertices, and
// an edge is a *feature* when its two triangles turn by more than the crease angle, when it has only one triangle, or
// more than two. A vertex is split into as many as there are groups of triangles round it that are joined by smooth
// edges; each gets the area-weighted mean of its group's normals.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <array>
#include <cstdint>
#include <memory>
#include <vector>

namespace evenclose {

struct DrawableVertex {
    std::array<float, 3> from_middle_mm{};    // from DrawableMesh::middle_mm, so that floats suffice anywhere
    std::array<std::int16_t, 2> octahedral{}; // unit normal, folded (Meyer et al., EGSR 2010)
};

struct DrawableEdge {
    std::array<float, 3> from{}, to{}; // from middle_mm
};

struct DrawableSurface {
    std::vector<DrawableVertex> vertices;
    std::vector<std::uint32_t> source_vertex; // one a vertex: which of the mesh's it was made from
    std::vector<std::array<std::uint32_t, 3>> triangles;
    double cell_mm = 0; // details smaller than this are gone
};

struct DrawableMesh {
    Vec3 middle_mm{0.0};
    Box bounds_mm; // of what is drawn; empty if nothing is
    DrawableSurface full;
    std::vector<DrawableSurface> coarse; // stand-ins for a software rasteriser, each coarser; none when `full` is small
    std::vector<DrawableEdge> edges;     // features
    std::vector<std::uint32_t> drawn;    // which of the mesh's triangles `full` holds, when some had to be left out
    bool closed = false;                 // each edge has two triangles that agree, and the volume is positive
};

/// Triangles that turn by more than this at an edge show it. Round bars and fillets are cut into 15 to 24 pieces a
/// quarter to half turn, up to 30 degrees a piece; printed molds' real edges are far sharper.
inline constexpr double kCreaseAngle_rad = 0.56; // 32 degrees

/// Triangles with a corner that is not finite, that is out of range, or beyond 1e12 mm are left out; so are those
/// without area. Faults: none. Threads: pure, any; the same answer for any number of threads.
[[nodiscard]] DrawableMesh make_drawable(const TriangleMesh& mesh);

/// The same, made once for each mesh and kept as long as the mesh lives. A window calls it where it loads the mesh, off
/// its own thread, so that the first picture need not wait. Needs: a mesh. Threads: any.
[[nodiscard]] std::shared_ptr<const DrawableMesh> drawable_of(const SharedMesh& mesh);

} // namespace evenclose
