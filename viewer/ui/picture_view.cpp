#include "viewer/ui/picture_view.hpp"

#include <epoxy/gl.h>
#include <fmt/format.h>

#include <stdexcept>

namespace evenclose {

PictureView::~PictureView() {
    glDeleteFramebuffers(1, &framebuffer_);
    glDeleteTextures(1, &texture_);
}

void PictureView::resize(int width, int height) {
    if (width == width_ && height == height_) {
        return;
    }
    if (texture_ == 0) {
        glGenTextures(1, &texture_);
        glGenFramebuffers(1, &framebuffer_);
    }
    GLint bound_texture = 0;
    glGetIntegerv(GL_TEXTURE_BINDING_2D, &bound_texture);
    glBindTexture(GL_TEXTURE_2D, texture_);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, width, height, 0, GL_RGBA, GL_UNSIGNED_BYTE, nullptr);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_NEAREST);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_NEAREST);
    glBindTexture(GL_TEXTURE_2D, static_cast<GLuint>(bound_texture));
    glBindFramebuffer(GL_FRAMEBUFFER, framebuffer_);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture_, 0);
    const GLenum status = glCheckFramebufferStatus(GL_FRAMEBUFFER);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    if (status != GL_FRAMEBUFFER_COMPLETE) {
        throw std::runtime_error(fmt::format("the driver gives no picture of {} x {} pixels", width, height));
    }
    width_ = width;
    height_ = height;
}

void PictureView::draw(const Frame& frame, int width, int height) {
    resize(width, height);
    glBindFramebuffer(GL_FRAMEBUFFER, framebuffer_);
    renderer_.draw(frame, {0, 0, width, height});
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    frame_ = frame;
    ++drawn_;
}

Renderer::Pick PictureView::pick(int x, int y) {
    if (drawn_ == 0) {
        return {};
    }
    return renderer_.pick(frame_, width_, height_, x, y);
}

} // namespace evenclose
