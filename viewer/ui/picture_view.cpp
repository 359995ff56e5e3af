#include "viewer/ui/picture_view.hpp"

#include <epoxy/gl.h>
#include <fmt/format.h>

#include <stdexcept>

namespace evenclose {

PictureView::~PictureView() {
    for (const Target& target : {whole_, inset_}) {
        glDeleteFramebuffers(1, &target.framebuffer);
        glDeleteTextures(1, &target.texture);
    }
}

void PictureView::resize(Target& target, int width, int height) {
    if (width == target.width && height == target.height) {
        return;
    }
    if (target.texture == 0) {
        glGenTextures(1, &target.texture);
        glGenFramebuffers(1, &target.framebuffer);
    }
    GLint bound_texture = 0;
    glGetIntegerv(GL_TEXTURE_BINDING_2D, &bound_texture);
    glBindTexture(GL_TEXTURE_2D, target.texture);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, width, height, 0, GL_RGBA, GL_UNSIGNED_BYTE, nullptr);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_NEAREST);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_NEAREST);
    glBindTexture(GL_TEXTURE_2D, static_cast<GLuint>(bound_texture));
    glBindFramebuffer(GL_FRAMEBUFFER, target.framebuffer);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, target.texture, 0);
    const GLenum status = glCheckFramebufferStatus(GL_FRAMEBUFFER);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    if (status != GL_FRAMEBUFFER_COMPLETE) {
        throw std::runtime_error(fmt::format("the driver gives no picture of {} x {} pixels", width, height));
    }
    target.width = width;
    target.height = height;
}

void PictureView::draw_into(Target& target, const Frame& frame, int width, int height) {
    resize(target, width, height);
    glBindFramebuffer(GL_FRAMEBUFFER, target.framebuffer);
    renderer_.draw(frame, {0, 0, width, height});
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

void PictureView::draw(const Frame& frame, int width, int height) {
    draw_into(whole_, frame, width, height);
    frame_ = frame;
    ++drawn_;
}

void PictureView::draw_inset(const Frame& frame, int width, int height) { draw_into(inset_, frame, width, height); }

Renderer::Pick PictureView::pick(int x, int y) {
    if (drawn_ == 0) {
        return {};
    }
    return renderer_.pick(frame_, whole_.width, whole_.height, x, y);
}

} // namespace evenclose
