// viewer/render/gpu_mesh.hpp: a drawable mesh in the graphics card's memory, drawn with one call whatever its size.
//
// Threads: the one that owns the context.
#pragma once

#include "viewer/render/drawable_mesh.hpp"
#include "viewer/render/frame.hpp"
#include "viewer/render/gl_handle.hpp"

#include <cstddef>
#include <vector>

namespace evenclose {

/// A tint's colours, one buffer a level of its mesh.
class GpuTint {
public:
    /// Needs: a tint with one colour a vertex of the mesh that `mesh` was made from. Faults: as GpuMesh.
    GpuTint(const DrawableMesh& mesh, const Tint& tint, bool stand_ins);
    void bind(std::size_t level) const; // as attribute 2 of the current vertex array

private:
    std::vector<GlBuffer> levels_;
};

class GpuMesh {
public:
    /// `stand_ins`: also the coarser levels. Faults: std::runtime_error if the driver has no memory left for it.
    GpuMesh(const DrawableMesh& mesh, bool stand_ins);

    [[nodiscard]] const Vec3& middle_mm() const { return middle_mm_; }
    [[nodiscard]] const Box& bounds_mm() const { return bounds_mm_; } // in the mesh's own frame
    [[nodiscard]] bool closed() const { return closed_; }
    [[nodiscard]] bool empty() const { return surfaces_.front().count == 0; }
    [[nodiscard]] std::size_t triangles() const { return static_cast<std::size_t>(surfaces_.front().count) / 3; }

    /// 0 is the full surface, each further one coarser, made of cells of cell_mm. At least one.
    [[nodiscard]] std::size_t levels() const { return surfaces_.size(); }
    [[nodiscard]] double cell_mm(std::size_t level) const { return surfaces_[level].cell_mm; }
    /// `tint`: made for this mesh, or null.
    void draw_surface(std::size_t level, const GpuTint* tint = nullptr) const;

    /// With the line program in use and its colour and width set as constant attributes 2 and 3.
    void draw_edges() const;

private:
    struct Surface {
        GlVertexArray array;
        GlBuffer vertices, indices;
        GLsizei count = 0;
        double cell_mm = 0;
    };
    static Surface upload(const DrawableSurface& surface);

    Vec3 middle_mm_;
    Box bounds_mm_;
    bool closed_ = false;
    std::vector<Surface> surfaces_;
    GlVertexArray edge_array_;
    GlBuffer edges_;
    GLsizei edge_count_ = 0;
};

} // namespace evenclose
