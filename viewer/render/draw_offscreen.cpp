#include "viewer/render/gl_check.hpp"
#include "viewer/render/gl_handle.hpp"
#include "viewer/render/offscreen_context.hpp"
#include "viewer/render/renderer.hpp"

#include <epoxy/gl.h>
#include <fmt/format.h>

#include <algorithm>
#include <future>
#include <stdexcept>

namespace evenclose {
namespace {

Image read_back(int width, int height) {
    const std::size_t row = 4 * static_cast<std::size_t>(width);
    std::vector<std::uint8_t> from_below(row * static_cast<std::size_t>(height));
    glPixelStorei(GL_PACK_ALIGNMENT, 4);
    glReadPixels(0, 0, width, height, GL_RGBA, GL_UNSIGNED_BYTE, from_below.data());
    check_gl("reading the picture back");
    Image image{width, height, std::vector<std::uint8_t>(from_below.size())};
    for (std::size_t y = 0; y < static_cast<std::size_t>(height); ++y) {
        std::copy_n(from_below.end() - static_cast<std::ptrdiff_t>((y + 1) * row), row,
                    image.rgba.begin() + static_cast<std::ptrdiff_t>(y * row));
    }
    return image;
}

void draw_all(std::size_t count, const std::function<Frame(std::size_t)>& frame_at, int width, int height,
              const std::function<bool(std::size_t, Image)>& take) {
    const OffscreenContext context;
    GLint most = 0;
    glGetIntegerv(GL_MAX_RENDERBUFFER_SIZE, &most);
    if (width > most || height > most) {
        throw std::runtime_error(
            fmt::format("this driver draws pictures of at most {0} x {0} pixels, not {1} x {2}", most, width, height));
    }
    Renderer renderer;
    const GlFramebuffer framebuffer = make_framebuffer();
    const GlRenderbuffer colour = make_renderbuffer();
    glBindRenderbuffer(GL_RENDERBUFFER, colour.get());
    glRenderbufferStorage(GL_RENDERBUFFER, GL_RGBA8, width, height);
    glBindFramebuffer(GL_FRAMEBUFFER, framebuffer.get());
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, colour.get());
    if (glCheckFramebufferStatus(GL_FRAMEBUFFER) != GL_FRAMEBUFFER_COMPLETE) {
        throw std::runtime_error(fmt::format("the OpenGL driver refuses a picture of {} x {} pixels", width, height));
    }
    for (std::size_t i = 0; i < count; ++i) {
        renderer.draw(frame_at(i), {0, 0, width, height});
        if (!take(i, read_back(width, height))) {
            return;
        }
    }
}

} // namespace

void draw_offscreen(std::size_t count, const std::function<Frame(std::size_t)>& frame_at, int width, int height,
                    const std::function<bool(std::size_t, Image)>& take) {
    if (width <= 0 || height <= 0) {
        throw std::invalid_argument(fmt::format("a picture of {} x {} pixels has none", width, height));
    }
    // On a thread of its own: the caller may have a window's context current, which must stay.
    std::async(std::launch::async, [&] { draw_all(count, frame_at, width, height, take); }).get();
}

std::vector<Image> draw_offscreen(const std::vector<Frame>& frames, int width, int height) {
    std::vector<Image> images;
    draw_offscreen(
        frames.size(), [&](std::size_t i) { return frames[i]; }, width, height,
        [&](std::size_t, Image image) {
            images.push_back(std::move(image));
            return true;
        });
    return images;
}

Image draw_offscreen(const Frame& frame, int width, int height) {
    return std::move(draw_offscreen(std::vector<Frame>{frame}, width, height).front());
}

} // namespace evenclose
