// viewer/render/marks.hpp: lines and spots of constant size on the screen, and the feature edges of bodies.
//
// Threads: the one that owns the context.
#pragma once

#include "viewer/render/gl_handle.hpp"
#include "viewer/render/program.hpp"
#include "viewer/render/view.hpp"

#include <span>

namespace evenclose {

class GpuMesh;

class Marks {
public:
    Marks();

    /// What the next calls draw into: the frame's pixel scale and section hold for them.
    void begin(const View& view, const Frame& frame, int width, int height);
    void edges(const GpuMesh& mesh, const glm::mat4& model_to_eye, const Colour& colour, float width_px);
    void lines(std::span<const DrawnLine> lines, bool on_top);
    void spots(std::span<const DrawnSpot> spots);

private:
    Program line_{"line.vert", "line.frag"}, spot_{"spot.vert", "spot.frag"};
    GlVertexArray line_array_, spot_array_;
    GlBuffer line_buffer_, spot_buffer_;
    const View* view_ = nullptr;
    glm::vec2 area_px_{1.0F};
    float pixel_scale_ = 1;
};

} // namespace evenclose
