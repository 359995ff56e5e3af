// viewer/render/outlines.hpp: outlines round chosen bodies, hidden or not, laid over the finished picture.
//
// The chosen bodies are drawn without depth into a mask, lit and fouling ones each by turns into two channels, so that
// neighbours keep an outline where they meet. A pixel near a covered one, itself not covered, is outline.
//
// Threads: the one that owns the context.
#pragma once

#include "viewer/render/detail.hpp"
#include "viewer/render/picture_target.hpp"
#include "viewer/render/placed_body.hpp"
#include "viewer/render/program.hpp"
#include "viewer/render/renderer.hpp"
#include "viewer/render/view.hpp"

#include <span>

namespace evenclose {

class Outlines {
public:
    Outlines();
    /// Draws into `area` of the framebuffer `into`. `samples` a pixel of the mask. With a section:
    /// GL_CLIP_DISTANCE0 on; it is off then.
    void draw(std::span<const PlacedBody> bodies, const Frame& frame, const View& view, const Detail& detail,
              int samples, Renderer::Area area, GLuint into);

private:
    void draw_mask(std::span<const PlacedBody> bodies, const Frame& frame, const View& view, const Detail& detail);

    Program flat_{"body.vert", "flat.frag"}, outline_{"whole.vert", "outline.frag"};
    GlVertexArray no_vertices_;
    PictureTarget mask_{PictureTarget::Depth::none};
};

} // namespace evenclose
