#include "viewer/render/gl_state.hpp"

namespace evenclose {
namespace {

constexpr std::array<std::array<GLenum, 7>, 2> kStencil = {
    {{GL_STENCIL_FUNC, GL_STENCIL_REF, GL_STENCIL_VALUE_MASK, GL_STENCIL_FAIL, GL_STENCIL_PASS_DEPTH_FAIL,
      GL_STENCIL_PASS_DEPTH_PASS, GL_STENCIL_WRITEMASK},
     {GL_STENCIL_BACK_FUNC, GL_STENCIL_BACK_REF, GL_STENCIL_BACK_VALUE_MASK, GL_STENCIL_BACK_FAIL,
      GL_STENCIL_BACK_PASS_DEPTH_FAIL, GL_STENCIL_BACK_PASS_DEPTH_PASS, GL_STENCIL_BACK_WRITEMASK}}};

} // namespace

GlStateGuard::GlStateGuard() {
    for (std::size_t i = 0; i < kSwitches.size(); ++i) {
        on_[i] = glIsEnabled(kSwitches[i]);
    }
    glGetIntegerv(GL_DRAW_FRAMEBUFFER_BINDING, &draw_framebuffer_);
    glGetIntegerv(GL_READ_FRAMEBUFFER_BINDING, &read_framebuffer_);
    glGetIntegerv(GL_RENDERBUFFER_BINDING, &renderbuffer_);
    glGetIntegerv(GL_CURRENT_PROGRAM, &program_);
    glGetIntegerv(GL_VERTEX_ARRAY_BINDING, &vertex_array_);
    glGetIntegerv(GL_ARRAY_BUFFER_BINDING, &array_buffer_);
    glGetIntegerv(GL_PIXEL_UNPACK_BUFFER_BINDING, &unpack_buffer_);
    glGetIntegerv(GL_UNPACK_ALIGNMENT, &unpack_alignment_);
    glGetIntegerv(GL_ACTIVE_TEXTURE, &active_unit_);
    for (std::size_t i = 0; i < textures_.size(); ++i) {
        glActiveTexture(GL_TEXTURE0 + static_cast<GLenum>(i));
        glGetIntegerv(GL_TEXTURE_BINDING_2D, &textures_[i]);
        glGetIntegerv(GL_TEXTURE_BINDING_2D_MULTISAMPLE, &multisample_textures_[i]);
    }
    glGetIntegerv(GL_DEPTH_FUNC, &depth_function_);
    glGetIntegerv(GL_CULL_FACE_MODE, &cull_mode_);
    glGetIntegerv(GL_FRONT_FACE, &front_face_);
    glGetIntegerv(GL_VIEWPORT, viewport_.data());
    glGetIntegerv(GL_SCISSOR_BOX, scissor_.data());
    glGetIntegerv(GL_POLYGON_MODE, polygon_mode_.data());
    constexpr std::array<GLenum, 6> kBlend = {GL_BLEND_SRC_RGB,   GL_BLEND_DST_RGB,      GL_BLEND_SRC_ALPHA,
                                              GL_BLEND_DST_ALPHA, GL_BLEND_EQUATION_RGB, GL_BLEND_EQUATION_ALPHA};
    for (std::size_t i = 0; i < kBlend.size(); ++i) {
        glGetIntegerv(kBlend[i], &blend_[i]);
    }
    for (std::size_t side = 0; side < stencil_.size(); ++side) {
        for (std::size_t i = 0; i < stencil_[side].size(); ++i) {
            glGetIntegerv(kStencil[side][i], &stencil_[side][i]);
        }
    }
    glGetFloatv(GL_COLOR_CLEAR_VALUE, clear_colour_.data());
    glGetDoublev(GL_DEPTH_CLEAR_VALUE, &clear_depth_);
    glGetIntegerv(GL_STENCIL_CLEAR_VALUE, &clear_stencil_);
    glGetFloatv(GL_POLYGON_OFFSET_FACTOR, &polygon_offset_[0]);
    glGetFloatv(GL_POLYGON_OFFSET_UNITS, &polygon_offset_[1]);
    glGetBooleanv(GL_COLOR_WRITEMASK, colour_mask_.data());
    glGetBooleanv(GL_DEPTH_WRITEMASK, &depth_mask_);
}

GlStateGuard::~GlStateGuard() {
    for (std::size_t i = 0; i < kSwitches.size(); ++i) {
        (on_[i] == GL_TRUE ? glEnable : glDisable)(kSwitches[i]);
    }
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, static_cast<GLuint>(draw_framebuffer_));
    glBindFramebuffer(GL_READ_FRAMEBUFFER, static_cast<GLuint>(read_framebuffer_));
    glBindRenderbuffer(GL_RENDERBUFFER, static_cast<GLuint>(renderbuffer_));
    glUseProgram(static_cast<GLuint>(program_));
    glBindVertexArray(static_cast<GLuint>(vertex_array_));
    glBindBuffer(GL_ARRAY_BUFFER, static_cast<GLuint>(array_buffer_));
    glBindBuffer(GL_PIXEL_UNPACK_BUFFER, static_cast<GLuint>(unpack_buffer_));
    glPixelStorei(GL_UNPACK_ALIGNMENT, unpack_alignment_);
    for (std::size_t i = 0; i < textures_.size(); ++i) {
        glActiveTexture(GL_TEXTURE0 + static_cast<GLenum>(i));
        glBindTexture(GL_TEXTURE_2D, static_cast<GLuint>(textures_[i]));
        glBindTexture(GL_TEXTURE_2D_MULTISAMPLE, static_cast<GLuint>(multisample_textures_[i]));
    }
    glActiveTexture(static_cast<GLenum>(active_unit_));
    glDepthFunc(static_cast<GLenum>(depth_function_));
    glCullFace(static_cast<GLenum>(cull_mode_));
    glFrontFace(static_cast<GLenum>(front_face_));
    glViewport(viewport_[0], viewport_[1], viewport_[2], viewport_[3]);
    glScissor(scissor_[0], scissor_[1], scissor_[2], scissor_[3]);
    glPolygonMode(GL_FRONT_AND_BACK, static_cast<GLenum>(polygon_mode_[0]));
    glBlendFuncSeparate(static_cast<GLenum>(blend_[0]), static_cast<GLenum>(blend_[1]), static_cast<GLenum>(blend_[2]),
                        static_cast<GLenum>(blend_[3]));
    glBlendEquationSeparate(static_cast<GLenum>(blend_[4]), static_cast<GLenum>(blend_[5]));
    for (std::size_t side = 0; side < stencil_.size(); ++side) {
        const GLenum face = side == 0 ? GL_FRONT : GL_BACK;
        const auto& s = stencil_[side];
        glStencilFuncSeparate(face, static_cast<GLenum>(s[0]), s[1], static_cast<GLuint>(s[2]));
        glStencilOpSeparate(face, static_cast<GLenum>(s[3]), static_cast<GLenum>(s[4]), static_cast<GLenum>(s[5]));
        glStencilMaskSeparate(face, static_cast<GLuint>(s[6]));
    }
    glClearDepth(clear_depth_);
    glClearStencil(clear_stencil_);
    glClearColor(clear_colour_[0], clear_colour_[1], clear_colour_[2], clear_colour_[3]);
    glPolygonOffset(polygon_offset_[0], polygon_offset_[1]);
    glColorMask(colour_mask_[0], colour_mask_[1], colour_mask_[2], colour_mask_[3]);
    glDepthMask(depth_mask_);
}

} // namespace evenclose
