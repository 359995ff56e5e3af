#include "viewer/render/gpu_mesh.hpp"

#include "viewer/render/gl_check.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

namespace evenclose {
namespace {

const void* offset(std::size_t bytes) {
    return reinterpret_cast<const void*>(bytes); // NOLINT: how OpenGL takes a place in a buffer
}

template <class Item> void fill(GLenum target, const std::vector<Item>& items) {
    while (glGetError() != GL_NO_ERROR) { // an old fault must not be taken for ours
    }
    glBufferData(target, static_cast<GLsizeiptr>(items.size() * sizeof(Item)), items.data(), GL_STATIC_DRAW);
    if (glGetError() == GL_OUT_OF_MEMORY) {
        throw std::runtime_error("the graphics card has no memory left for a mesh of this size");
    }
}

} // namespace

GpuTint::GpuTint(const DrawableMesh& mesh, const Tint& tint, bool stand_ins) {
    const auto byte = [](float value) {
        return static_cast<std::uint8_t>(std::lround(255.0F * std::clamp(value, 0.0F, 1.0F)));
    };
    const auto add = [&](const DrawableSurface& surface) {
        std::vector<std::array<std::uint8_t, 4>> colours;
        colours.reserve(surface.source_vertex.size());
        for (const std::uint32_t vertex : surface.source_vertex) {
            const Colour& c = tint[vertex];
            colours.push_back({byte(c.red), byte(c.green), byte(c.blue), byte(c.alpha)});
        }
        levels_.push_back(make_buffer());
        glBindBuffer(GL_ARRAY_BUFFER, levels_.back().get());
        fill(GL_ARRAY_BUFFER, colours);
    };
    add(mesh.full);
    if (stand_ins) {
        std::for_each(mesh.coarse.begin(), mesh.coarse.end(), add);
    }
}

void GpuTint::bind(std::size_t level) const {
    glBindBuffer(GL_ARRAY_BUFFER, levels_[level].get());
    glEnableVertexAttribArray(2);
    glVertexAttribPointer(2, 4, GL_UNSIGNED_BYTE, GL_TRUE, 4, nullptr);
}

GpuMesh::Surface GpuMesh::upload(const DrawableSurface& surface) {
    Surface made;
    if (surface.triangles.empty()) {
        return made;
    }
    made.array = make_vertex_array();
    made.vertices = make_buffer();
    made.indices = make_buffer();
    glBindVertexArray(made.array.get());
    glBindBuffer(GL_ARRAY_BUFFER, made.vertices.get());
    fill(GL_ARRAY_BUFFER, surface.vertices);
    glEnableVertexAttribArray(0);
    glVertexAttribPointer(0, 3, GL_FLOAT, GL_FALSE, sizeof(DrawableVertex),
                          offset(offsetof(DrawableVertex, from_middle_mm)));
    glEnableVertexAttribArray(1);
    glVertexAttribPointer(1, 2, GL_SHORT, GL_TRUE, sizeof(DrawableVertex),
                          offset(offsetof(DrawableVertex, octahedral)));
    glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, made.indices.get());
    fill(GL_ELEMENT_ARRAY_BUFFER, surface.triangles);
    glBindVertexArray(0);
    made.cell_mm = surface.cell_mm;
    made.count = static_cast<GLsizei>(3 * surface.triangles.size());
    return made;
}

GpuMesh::GpuMesh(const DrawableMesh& mesh, bool stand_ins)
    : middle_mm_(mesh.middle_mm), bounds_mm_(mesh.bounds_mm), closed_(mesh.closed),
      edge_count_(static_cast<GLsizei>(mesh.edges.size())) {
    surfaces_.push_back(upload(mesh.full));
    if (stand_ins) {
        for (const DrawableSurface& coarse : mesh.coarse) {
            surfaces_.push_back(upload(coarse));
        }
    }
    if (edge_count_ > 0) {
        edge_array_ = make_vertex_array();
        edges_ = make_buffer();
        glBindVertexArray(edge_array_.get());
        glBindBuffer(GL_ARRAY_BUFFER, edges_.get());
        fill(GL_ARRAY_BUFFER, mesh.edges);
        for (const auto& [place, at] :
             {std::pair{0U, offsetof(DrawableEdge, from)}, {1U, offsetof(DrawableEdge, to)}}) {
            glEnableVertexAttribArray(place);
            glVertexAttribPointer(place, 3, GL_FLOAT, GL_FALSE, sizeof(DrawableEdge), offset(at));
            glVertexAttribDivisor(place, 1);
        }
        glBindVertexArray(0);
    }
    check_gl("handing a mesh to the graphics card");
}

void GpuMesh::draw_surface(std::size_t level, const GpuTint* tint) const {
    const Surface& surface = surfaces_[level];
    if (surface.count > 0) {
        glBindVertexArray(surface.array.get());
        if (tint != nullptr) {
            tint->bind(level);
        }
        glVertexAttrib4f(2, 0, 0, 0, 0); // no tint: what edges left there would be taken for one
        glDrawElements(GL_TRIANGLES, surface.count, GL_UNSIGNED_INT, nullptr);
        glDisableVertexAttribArray(2);
    }
}

void GpuMesh::draw_edges() const {
    if (edge_count_ > 0) {
        glBindVertexArray(edge_array_.get());
        glDrawArraysInstanced(GL_TRIANGLE_STRIP, 0, 4, edge_count_);
    }
}

} // namespace evenclose
