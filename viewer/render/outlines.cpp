#include "viewer/render/outlines.hpp"

#include "viewer/render/gl_check.hpp"
#include "viewer/render/look.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace evenclose {
namespace {

constexpr float kOutline_px = 2.8F;

/// Pixels from the lower left of the area; all of it for a box that the eye stands in or beside.
Box box_on_screen(const Box& box, const Camera& camera, Renderer::Area area) {
    Box on_screen;
    for (const Vec3& corner : corners_of(box)) {
        const auto at = pixel_of(camera, area.width, area.height, corner);
        if (!at) {
            on_screen.add(Vec3{0.0});
            on_screen.add(Vec3{area.width, area.height, 0.0});
            return on_screen;
        }
        on_screen.add(Vec3{at->x, area.height - at->y, 0.0});
    }
    return on_screen;
}

/// The part of the area that may have an outline in it; of width 0 if there is none.
Renderer::Area part_of(std::span<const PlacedBody> bodies, const Frame& frame, Renderer::Area area) {
    Box chosen_px;
    for (const PlacedBody& body : bodies) {
        if (outlined(*body.drawn)) {
            chosen_px.add(box_on_screen(body.box_mm, frame.camera, area));
        }
    }
    const double room = 2.0 + static_cast<double>(kOutline_px * frame.pixel_scale);
    const auto within = [](double px, int most) { return static_cast<int>(std::clamp(px, 0.0, 1.0 * most)); };
    const int left = within(chosen_px.low_mm.x - room, area.width);
    const int right = within(chosen_px.high_mm.x + room, area.width);
    const int bottom = within(chosen_px.low_mm.y - room, area.height);
    const int top = within(chosen_px.high_mm.y + room, area.height);
    if (right <= left || top <= bottom) {
        return {};
    }
    return {left, bottom, right - left, top - bottom};
}

} // namespace

Outlines::Outlines() : no_vertices_(make_vertex_array()) {}

void Outlines::draw_mask(std::span<const PlacedBody> bodies, const Frame& frame, const View& view,
                         const Detail& detail) {
    glDisable(GL_DEPTH_TEST);
    glEnable(GL_BLEND);
    glBlendEquation(GL_MAX);
    glBlendFunc(GL_ONE, GL_ONE);
    glClearColor(0, 0, 0, 0);
    glClear(GL_COLOR_BUFFER_BIT);
    flat_.use();
    flat_.set("projection", glm::mat4(view.projection));
    flat_.set("kept", frame.section ? view.kept_of(*frame.section) : glm::vec4(0, 0, 0, 1));
    std::size_t lit = 0;
    std::size_t foul = 0;
    for (const PlacedBody& body : bodies) {
        glm::vec4 channel{0.0F};
        if (body.drawn->emphasis == Emphasis::lit) {
            channel[static_cast<int>(lit++ % 2)] = 1;
        } else if (body.drawn->emphasis == Emphasis::foul) {
            channel[static_cast<int>(2 + foul++ % 2)] = 1;
        } else {
            continue;
        }
        flat_.set("model_to_eye", body.model_to_eye);
        flat_.set("flat_value", channel);
        body.mesh->draw_surface(detail.level_for(body));
    }
    glBlendEquation(GL_FUNC_ADD);
    mask_.resolve();
}

void Outlines::draw(std::span<const PlacedBody> bodies, const Frame& frame, const View& view, const Detail& detail,
                    int samples, Renderer::Area area, GLuint into) {
    const Renderer::Area part = part_of(bodies, frame, area);
    if (part.width == 0) {
        return;
    }
    mask_.begin(area.width, area.height, samples);
    draw_mask(bodies, frame, view, detail);
    glDisable(GL_CLIP_DISTANCE0);

    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, into);
    glViewport(area.x, area.y, area.width, area.height);
    glEnable(GL_SCISSOR_TEST);
    glScissor(area.x + part.x, area.y + part.y, part.width, part.height);
    glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ZERO, GL_ONE);
    std::array<glm::vec2, 16> steps{};
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const bool outer = i < 12;
        const double angle = 2.0 * std::numbers::pi * (static_cast<double>(i) + 0.5) / (outer ? 12 : 4);
        const float radius_px = kOutline_px * frame.pixel_scale * (outer ? 1.0F : 0.5F);
        steps[i] = radius_px * glm::vec2(std::cos(angle), std::sin(angle)) * mask_.texel();
    }
    outline_.use();
    outline_.set("steps", steps);
    outline_.set("mask", 0);
    outline_.set("used", mask_.used());
    outline_.set("texel", mask_.texel());
    outline_.set("lit_outline", vec4_of(frame.surroundings.lit_outline));
    outline_.set("foul_outline", vec4_of(frame.surroundings.foul_outline));
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, mask_.texture());
    glBindVertexArray(no_vertices_.get());
    glDrawArrays(GL_TRIANGLES, 0, 3);
    check_gl("drawing outlines");
}

} // namespace evenclose
