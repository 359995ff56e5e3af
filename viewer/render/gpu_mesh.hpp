// viewer/render/gpu_mesh.hpp: a drawable mesh in the graphics card's memory, drawn with one call whatever its size.
//
// Threads: the one that owns the context.
#pragma once

#include "viewer/render/drawable_mesh.hpp"
#include "viewer/render/gl_handle.hpp"

#include <cstddef>
#include <memory>

namespace evenclose {

class GpuMesh {
public:
    /// Faults: std::runtime_error if the driver has no memory left for it.
    explicit GpuMesh(const DrawableMesh& mesh);

    [[nodiscard]] const Vec3& middle_mm() const { return middle_mm_; }
    [[nodiscard]] const Box& bounds_mm() const { return bounds_mm_; } // in the mesh's own frame
    [[nodiscard]] bool closed() const { return closed_; }
    [[nodiscard]] bool empty() const { return full_.count == 0; }
    [[nodiscard]] std::size_t triangles(bool coarsely) const {
        return static_cast<std::size_t>(pick(coarsely).count) / 3;
    }

    /// `coarsely`: the thinned surface where there is one.
    void draw_surface(bool coarsely) const;
    /// With the line program in use and its colour and width set as constant attributes 2 and 3.
    void draw_edges() const;

private:
    struct Surface {
        GlVertexArray array;
        GlBuffer vertices, indices;
        GLsizei count = 0;
    };
    static Surface upload(const DrawableSurface& surface);
    [[nodiscard]] const Surface& pick(bool coarsely) const { return coarsely && coarse_.count > 0 ? coarse_ : full_; }

    Vec3 middle_mm_;
    Box bounds_mm_;
    bool closed_ = false;
    Surface full_, coarse_;
    GlVertexArray edge_array_;
    GlBuffer edges_;
    GLsizei edge_count_ = 0;
};

} // namespace evenclose
