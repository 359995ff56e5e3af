// viewer/render/floor.hpp: the floor at z = 0: a grid of 100 and 500 mm that fades out, and the shade of what stands on
// it.
//
// The shade is the bodies seen from straight above, each darkening by how low it hangs, blurred: once narrowly for what
// touches the floor, once widely for what is over it. It is kept until a body moves.
//
// Threads: the one that owns the context.
#pragma once

#include "viewer/render/gl_handle.hpp"
#include "viewer/render/placed_body.hpp"
#include "viewer/render/program.hpp"
#include "viewer/render/view.hpp"

#include <optional>
#include <span>
#include <vector>

namespace evenclose {

/// The square that is drawn.
struct FloorSquare {
    Vec2 middle_mm{0.0};
    double reach_mm = 1000; // half its side
    [[nodiscard]] Box box() const;
};
[[nodiscard]] FloorSquare floor_under(const Box& bodies);
/// A line on the floor through the square's middle, across the sight, for a level view that sees the floor edge on and
/// would show none of it; else nothing.
[[nodiscard]] std::vector<DrawnLine> ground_line(const Camera& camera, const FloorSquare& square,
                                                 const Surroundings& look);

class Floor {
public:
    Floor();
    /// Needs: another framebuffer to be bound after it.
    void shade(std::span<const PlacedBody> bodies, const FloorSquare& square,
               const std::optional<SectionPlane>& section);
    void draw(const View& view, const FloorSquare& square, const Surroundings& look, float pixel_scale) const;

private:
    void blur(GLuint from, GLuint into, glm::vec2 along) const;

    Program grid_{"floor.vert", "floor.frag"}, footprint_{"footprint.vert", "footprint.frag"},
        blur_{"whole.vert", "blur.frag"};
    GlVertexArray no_vertices_;
    GlTexture shade_, half_done_;
    GlFramebuffer into_shade_, into_half_done_;
    std::vector<double> shaded_; // what the shade was made from
};

} // namespace evenclose
