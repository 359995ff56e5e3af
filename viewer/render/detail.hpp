// viewer/render/detail.hpp: how finely a body need be drawn, for a software rasteriser.
//
// A graphics card draws millions of triangles in no time and always gets the full surface. A software rasteriser gets the
// coarsest stand-in whose cells are no larger on the screen than may be seen: a pixel in a picture that stands, some more
// in one that moves.
#pragma once

#include "viewer/render/placed_body.hpp"
#include "viewer/render/view.hpp"

namespace evenclose {

class Detail {
public:
    /// All of it, for whatever is drawn.
    Detail() = default;
    Detail(const Camera& camera, int height_px, bool moving);

    /// For GpuMesh::draw_surface: 0 is the full surface.
    [[nodiscard]] std::size_t level_for(const PlacedBody& body) const;

private:
    Camera camera_;
    Vec3 forward_{0.0};
    double mm_a_pixel_at_1_mm_ = 0; // in perspective; parallel: everywhere
    double cell_px_ = 0;            // 0: always the full surface
};

} // namespace evenclose
