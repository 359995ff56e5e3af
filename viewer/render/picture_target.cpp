#include "viewer/render/picture_target.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

namespace evenclose {

void PictureTarget::remake(int width, int height, int samples) {
    width_ = width;
    height_ = height;
    samples_ = samples;
    drawn_ = make_framebuffer();
    resolved_ = make_framebuffer();
    texture_ = make_texture();
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, texture_.get());
    glBindBuffer(GL_PIXEL_UNPACK_BUFFER, 0);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, width, height, 0, GL_RGBA, GL_UNSIGNED_BYTE, nullptr);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    glBindFramebuffer(GL_FRAMEBUFFER, resolved_.get());
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture_.get(), 0);

    glBindFramebuffer(GL_FRAMEBUFFER, drawn_.get());
    if (samples > 1) {
        colour_ = make_renderbuffer();
        glBindRenderbuffer(GL_RENDERBUFFER, colour_.get());
        glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, GL_RGBA8, width, height);
        glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, colour_.get());
    } else {
        glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture_.get(), 0);
    }
    if (depth_ == Depth::with_stencil) {
        depth_buffer_ = make_renderbuffer();
        glBindRenderbuffer(GL_RENDERBUFFER, depth_buffer_.get());
        glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples > 1 ? samples : 0, GL_DEPTH24_STENCIL8, width,
                                         height);
        glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_STENCIL_ATTACHMENT, GL_RENDERBUFFER, depth_buffer_.get());
    }
    const GLenum state = glCheckFramebufferStatus(GL_FRAMEBUFFER);
    if (state != GL_FRAMEBUFFER_COMPLETE) {
        samples_ = -1;
        throw std::runtime_error(fmt::format("the OpenGL driver refuses a picture of {} x {} pixels, {} samples each "
                                             "(framebuffer status 0x{:x})",
                                             width, height, samples, state));
    }
}

void PictureTarget::begin(int width, int height, int samples) {
    samples = std::max(samples, 1);
    if (width > width_ || height > height_ || samples != samples_) {
        remake(std::max(width, width_), std::max(height, height_), samples);
    }
    used_width_ = width;
    used_height_ = height;
    glBindFramebuffer(GL_FRAMEBUFFER, drawn_.get());
    glViewport(0, 0, width, height);
    glEnable(GL_SCISSOR_TEST);
    glScissor(0, 0, width, height);
}

void PictureTarget::resolve() const {
    if (samples_ > 1) {
        glBindFramebuffer(GL_READ_FRAMEBUFFER, drawn_.get());
        glBindFramebuffer(GL_DRAW_FRAMEBUFFER, resolved_.get());
        glBlitFramebuffer(0, 0, used_width_, used_height_, 0, 0, used_width_, used_height_, GL_COLOR_BUFFER_BIT,
                          GL_NEAREST);
    }
}

void PictureTarget::copy(GLuint into, int x, int y) const {
    glBindFramebuffer(GL_READ_FRAMEBUFFER, resolved_.get());
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, into);
    glDisable(GL_SCISSOR_TEST);
    glBlitFramebuffer(0, 0, used_width_, used_height_, x, y, x + used_width_, y + used_height_, GL_COLOR_BUFFER_BIT,
                      GL_NEAREST);
}

glm::vec2 PictureTarget::used() const {
    return {static_cast<float>(used_width_) / static_cast<float>(width_),
            static_cast<float>(used_height_) / static_cast<float>(height_)};
}
glm::vec2 PictureTarget::texel() const {
    return {1.0F / static_cast<float>(width_), 1.0F / static_cast<float>(height_)};
}

} // namespace evenclose
