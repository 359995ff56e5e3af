// viewer/render/section_caps.hpp: the hatched faces that close solids where a section plane cuts them.
//
// For each closed body in turn: behind the plane, along every sight line, faces turned away less faces turned towards
// the eye is 1 where the plane is inside the solid and 0 where it is outside. The stencil buffer counts them; where it is
// not 0, the plane is drawn. Neighbours are hatched to different sides (drafting practice, ISO 128-3).
// Only when the eye is on the side that is taken away: else no cut face is turned to it.
//
// Threads: the one that owns the context.
#pragma once

#include "viewer/render/detail.hpp"
#include "viewer/render/placed_body.hpp"
#include "viewer/render/program.hpp"
#include "viewer/render/view.hpp"

#include <span>

namespace evenclose {

class SectionCaps {
public:
    SectionCaps();
    /// Needs: a stencil buffer of zeros; the bodies' depth drawn. Leaves the stencil as zeros and GL_CLIP_DISTANCE0 on.
    void draw(std::span<const PlacedBody> bodies, const Frame& frame, const View& view, const Detail& detail) const;

private:
    Program count_{"body.vert", "flat.frag"}, face_{"cap.vert", "body.frag"};
    GlVertexArray no_vertices_;
};

} // namespace evenclose
