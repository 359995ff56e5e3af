// viewer/render/gl_state.hpp: leaves OpenGL as it was found, so that whoever draws before and after need not know.
#pragma once

#include <epoxy/gl.h>

#include <array>

namespace evenclose {

/// Takes note of what our drawing changes and sets it back when it goes out of scope. Texture units 0 and 1 only.
class GlStateGuard {
public:
    GlStateGuard();
    ~GlStateGuard();
    GlStateGuard(const GlStateGuard&) = delete;
    GlStateGuard& operator=(const GlStateGuard&) = delete;

    [[nodiscard]] GLuint drawn_into() const { return static_cast<GLuint>(draw_framebuffer_); }

private:
    static constexpr std::array<GLenum, 9> kSwitches = {
        GL_DEPTH_TEST,  GL_BLEND,        GL_CULL_FACE,        GL_SCISSOR_TEST,   GL_POLYGON_OFFSET_FILL,
        GL_MULTISAMPLE, GL_STENCIL_TEST, GL_FRAMEBUFFER_SRGB, GL_CLIP_DISTANCE0,
    };
    std::array<GLboolean, kSwitches.size()> on_{};
    GLint draw_framebuffer_ = 0, read_framebuffer_ = 0, renderbuffer_ = 0, program_ = 0, vertex_array_ = 0;
    GLint array_buffer_ = 0, active_unit_ = 0, depth_function_ = 0, cull_mode_ = 0, front_face_ = 0;
    std::array<GLint, 2> textures_{}, multisample_textures_{};
    std::array<GLint, 4> viewport_{}, scissor_{}, polygon_mode_{};
    std::array<GLint, 6> blend_{};
    std::array<std::array<GLint, 7>, 2> stencil_{}; // front and back
    std::array<GLfloat, 4> clear_colour_{};
    GLdouble clear_depth_ = 1;
    GLint clear_stencil_ = 0;
    std::array<GLfloat, 2> polygon_offset_{};
    std::array<GLboolean, 4> colour_mask_{};
    GLboolean depth_mask_ = GL_TRUE;
    GLint unpack_alignment_ = 4, unpack_buffer_ = 0;
};

} // namespace evenclose
