// The renderer in somebody else's context: it draws into its area only, and leaves OpenGL as it was.
#include "scene/mesh/shapes.hpp"
#include "viewer/render/gl_handle.hpp"
#include "viewer/render/offscreen_context.hpp"
#include "viewer/render/renderer.hpp"

#include <doctest/doctest.h>

#include <array>
#include <future>
#include <memory>

using namespace evenclose;

namespace {

Frame a_bit_of_everything() {
    Frame frame;
    frame.camera = {{500, -1500, 700}, {0, 0, 100}, {0, 0, 1}, 0.5, false};
    const auto box = std::make_shared<TriangleMesh>(box_shape({-200, -100, 0}, {200, 100, 200}));
    frame.bodies = {{box, {}, {0.8F, 0.7F, 0.6F}, Emphasis::lit, 0},
                    {box, {Mat3{1.0}, {0, 300, 0}}, {0.8F, 0.7F, 0.6F}, Emphasis::dimmed, 1},
                    {box, {Mat3{1.0}, {0, -300, 0}}, {0.8F, 0.7F, 0.6F}, Emphasis::foul, 2},
                    {box, {Mat3{1.0}, {500, 0, 0}}, {0.8F, 0.7F, 0.6F, 0.5F}, Emphasis::plain, 3}};
    frame.section = SectionPlane{{0, 0, 150}, {0, 0, 1}};
    frame.lines = {{{0, 0, 0}, {0, 0, 500}, {0, 0, 0}, 2, true}, {{0, 0, 0}, {500, 0, 500}, {0, 0, 0}, 2, false}};
    frame.spots = {{{0, 0, 300}, {1, 0, 0}, 6}};
    return frame;
}

struct Canvas {
    GlFramebuffer framebuffer = make_framebuffer();
    GlTexture colour = make_texture();
    int width, height;
    Canvas(int w, int h) : width(w), height(h) {
        glBindTexture(GL_TEXTURE_2D, colour.get());
        glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, w, h, 0, GL_RGBA, GL_UNSIGNED_BYTE, nullptr);
        glBindFramebuffer(GL_FRAMEBUFFER, framebuffer.get());
        glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, colour.get(), 0);
        REQUIRE(glCheckFramebufferStatus(GL_FRAMEBUFFER) == GL_FRAMEBUFFER_COMPLETE);
    }
    [[nodiscard]] std::vector<std::uint8_t> read() const {
        std::vector<std::uint8_t> bytes(4 * static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
        glReadPixels(0, 0, width, height, GL_RGBA, GL_UNSIGNED_BYTE, bytes.data());
        return bytes;
    }
};

std::vector<GLint> state() {
    std::vector<GLint> all;
    for (const GLenum what : {GL_DRAW_FRAMEBUFFER_BINDING,
                              GL_READ_FRAMEBUFFER_BINDING,
                              GL_RENDERBUFFER_BINDING,
                              GL_CURRENT_PROGRAM,
                              GL_VERTEX_ARRAY_BINDING,
                              GL_ARRAY_BUFFER_BINDING,
                              GL_ACTIVE_TEXTURE,
                              GL_TEXTURE_BINDING_2D,
                              GL_DEPTH_FUNC,
                              GL_CULL_FACE_MODE,
                              GL_FRONT_FACE,
                              GL_BLEND_SRC_RGB,
                              GL_BLEND_DST_RGB,
                              GL_BLEND_SRC_ALPHA,
                              GL_BLEND_DST_ALPHA,
                              GL_BLEND_EQUATION_RGB,
                              GL_DEPTH_WRITEMASK,
                              GL_STENCIL_FUNC,
                              GL_STENCIL_FAIL,
                              GL_STENCIL_PASS_DEPTH_PASS,
                              GL_STENCIL_BACK_PASS_DEPTH_PASS,
                              GL_STENCIL_WRITEMASK,
                              GL_STENCIL_CLEAR_VALUE,
                              GL_UNPACK_ALIGNMENT}) {
        std::array<GLint, 4> value{};
        glGetIntegerv(what, value.data());
        all.push_back(value[0]);
    }
    for (const GLenum what : {GL_VIEWPORT, GL_SCISSOR_BOX, GL_COLOR_WRITEMASK}) {
        std::array<GLint, 4> value{};
        glGetIntegerv(what, value.data());
        all.insert(all.end(), value.begin(), value.end());
    }
    for (const GLenum what : {GL_DEPTH_TEST, GL_BLEND, GL_CULL_FACE, GL_SCISSOR_TEST, GL_POLYGON_OFFSET_FILL,
                              GL_MULTISAMPLE, GL_STENCIL_TEST, GL_FRAMEBUFFER_SRGB, GL_CLIP_DISTANCE0}) {
        all.push_back(glIsEnabled(what));
    }
    return all;
}

} // namespace

TEST_CASE("drawing keeps to its area and leaves OpenGL as it was found, with no error") {
    const OffscreenContext context;
    Renderer renderer;
    const Canvas canvas(300, 200);
    glClearColor(0.2F, 0.4F, 0.6F, 1);
    glClear(GL_COLOR_BUFFER_BIT);
    // A state that nobody would choose.
    glEnable(GL_STENCIL_TEST);
    glEnable(GL_CULL_FACE);
    glCullFace(GL_FRONT);
    glFrontFace(GL_CW);
    glDepthFunc(GL_GREATER);
    glDepthMask(GL_FALSE);
    glColorMask(GL_TRUE, GL_FALSE, GL_TRUE, GL_FALSE);
    glBlendFunc(GL_DST_COLOR, GL_ZERO);
    glStencilFunc(GL_NEVER, 3, 0x0F);
    glStencilMask(0x0F);
    glClearDepth(0.25);
    glScissor(1, 2, 3, 4);
    glViewport(5, 6, 7, 8);
    const auto before = state();
    renderer.draw(a_bit_of_everything(), {100, 50, 150, 120});
    CHECK(state() == before);
    CHECK(glGetError() == GL_NO_ERROR);

    const auto bytes = canvas.read();
    std::size_t outside_touched = 0;
    std::size_t inside_untouched = 0;
    for (int y = 0; y < canvas.height; ++y) {
        for (int x = 0; x < canvas.width; ++x) {
            const std::uint8_t* p = &bytes[4 * static_cast<std::size_t>(y * canvas.width + x)];
            const bool cleared = p[0] == 51 && p[1] == 102 && p[2] == 153;
            const bool inside = x >= 100 && x < 250 && y >= 50 && y < 170;
            outside_touched += !inside && !cleared ? 1U : 0U;
            inside_untouched += inside && cleared ? 1U : 0U;
        }
    }
    CHECK(outside_touched == 0);
    CHECK(inside_untouched == 0);
}

TEST_CASE("a strange state before changes nothing in the picture") {
    const Image expected = draw_offscreen(a_bit_of_everything(), 150, 120);
    const OffscreenContext context;
    Renderer renderer;
    const Canvas canvas(150, 120);
    glEnable(GL_STENCIL_TEST);
    glStencilFunc(GL_NEVER, 3, 0x0F);
    glStencilMask(0);
    glEnable(GL_CULL_FACE);
    glCullFace(GL_FRONT_AND_BACK);
    glFrontFace(GL_CW);
    glEnable(GL_BLEND);
    glBlendFunc(GL_ZERO, GL_ZERO);
    glBlendEquation(GL_FUNC_REVERSE_SUBTRACT);
    glDepthFunc(GL_NEVER);
    glDepthMask(GL_FALSE);
    glClearDepth(0);
    glColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
    glEnable(GL_SCISSOR_TEST);
    glScissor(0, 0, 1, 1);
    for (int again = 0; again < 2; ++again) {
        renderer.draw(a_bit_of_everything(), {0, 0, 150, 120});
    }
    const auto bytes = canvas.read();
    std::size_t different = 0;
    for (int y = 0; y < 120; ++y) {
        for (std::size_t i = 0; i < 600; ++i) {
            different += bytes[static_cast<std::size_t>(119 - y) * 600 + i] !=
                                 expected.rgba[static_cast<std::size_t>(y) * 600 + i]
                             ? 1U
                             : 0U;
        }
    }
    CHECK(different == 0);
}

TEST_CASE("a large picture and a small inset by turns are each as if alone") {
    const OffscreenContext context;
    Renderer renderer;
    const Frame frame = a_bit_of_everything();
    const Canvas canvas(400, 300);
    renderer.draw(frame, {0, 0, 400, 300});
    const auto large = canvas.read();
    renderer.draw(frame, {0, 0, 90, 90});
    renderer.draw(frame, {0, 0, 400, 300});
    CHECK(canvas.read() == large);
}

TEST_CASE("pictures can be drawn from several threads at once, also while a context is current") {
    const Frame frame = a_bit_of_everything();
    const Image expected = draw_offscreen(frame, 120, 80);
    const OffscreenContext context; // like a window's
    std::vector<std::future<Image>> drawn;
    for (int i = 0; i < 4; ++i) {
        drawn.push_back(std::async(std::launch::async, [&] { return draw_offscreen(frame, 120, 80); }));
    }
    CHECK(draw_offscreen(frame, 120, 80).rgba == expected.rgba);
    for (auto& image : drawn) {
        CHECK(image.get().rgba == expected.rgba);
    }
    CHECK(glGetString(GL_VERSION) != nullptr); // still current
}
