// viewer/render/picture_target.hpp: a picture of our own to draw into, several samples a pixel, and the texture that it
// resolves to.
//
// It only ever grows: a window that draws its large picture and a small inset by turns would else make new ones each
// time. The picture fills its lower left part.
//
// Threads: the one that owns the context.
#pragma once

#include "viewer/render/gl_handle.hpp"

#include <glm/vec2.hpp>

namespace evenclose {

class PictureTarget {
public:
    enum class Depth { none, with_stencil };
    explicit PictureTarget(Depth depth) : depth_(depth) {}

    /// Makes it large enough, binds it for drawing, sets viewport and scissor. `samples` 0 or 1: one.
    /// Faults: std::runtime_error if the driver cannot have such a framebuffer.
    void begin(int width, int height, int samples);
    /// The picture is done: averages the samples into texture().
    void resolve() const;

    /// Copies the resolved picture to `into`, its lower left corner at x, y.
    void copy(GLuint into, int x, int y) const;

    [[nodiscard]] GLuint texture() const { return texture_.get(); }
    [[nodiscard]] glm::vec2 used() const; // part of the texture that is the picture, 0 to 1
    [[nodiscard]] glm::vec2 texel() const;

private:
    void remake(int width, int height, int samples);

    Depth depth_;
    int width_ = 0, height_ = 0, samples_ = -1; // as made
    int used_width_ = 0, used_height_ = 0;
    GlFramebuffer drawn_, resolved_;
    GlRenderbuffer colour_, depth_buffer_;
    GlTexture texture_;
};

} // namespace evenclose
