#include "viewer/render/floor.hpp"

#include "viewer/render/gl_check.hpp"
#include "viewer/render/look.hpp"

#include <glm/common.hpp>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace evenclose {
namespace {

constexpr int kShadeSide = 256; // texels; the shade is soft, so some 15 mm a texel under a press do
constexpr double kGrid_mm = 500;

double strength_of(const PlacedBody& body) { return seen_through(*body.drawn) ? 0.35 : 1.0; }

} // namespace

Box FloorSquare::box() const {
    Box box;
    box.add(Vec3{middle_mm.x - reach_mm, middle_mm.y - reach_mm, 0.0});
    box.add(Vec3{middle_mm.x + reach_mm, middle_mm.y + reach_mm, 0.0});
    return box;
}

FloorSquare floor_under(const Box& bodies) {
    const Vec3 size = bodies.size_mm();
    const Vec3 middle = bodies.centre_mm();
    return {{middle.x, middle.y}, 1.1 * std::max({size.x, size.y, 0.6 * size.z}) + 300.0};
}

std::vector<DrawnLine> ground_line(const Camera& camera, const FloorSquare& square, const Surroundings& look) {
    constexpr double kEdgeOn = 0.01; // the sine of half a degree
    const EyeAxes axes = eye_axes(camera);
    if (std::abs(axes.backward.z) > kEdgeOn || std::abs(axes.right.z) > kEdgeOn) {
        return {};
    }
    const Vec3 middle{square.middle_mm.x, square.middle_mm.y, 0.0};
    // In three parts, the outer ones fainter: it ends without an end.
    std::vector<DrawnLine> lines;
    for (const auto& [reach, share] : {std::pair{0.62, 0.5F}, {0.8, 0.3F}, {1.0, 0.2F}}) {
        Colour colour = look.floor_line;
        colour.alpha *= share;
        lines.push_back({middle - reach * square.reach_mm * axes.right, middle + reach * square.reach_mm * axes.right,
                         colour, 1.5F});
    }
    return lines;
}

Floor::Floor()
    : no_vertices_(make_vertex_array()), shade_(make_texture()), half_done_(make_texture()),
      into_shade_(make_framebuffer()), into_half_done_(make_framebuffer()) {
    glBindBuffer(GL_PIXEL_UNPACK_BUFFER, 0);
    glActiveTexture(GL_TEXTURE0);
    for (const auto& [texture, framebuffer] :
         {std::pair{shade_.get(), into_shade_.get()}, std::pair{half_done_.get(), into_half_done_.get()}}) {
        glBindTexture(GL_TEXTURE_2D, texture);
        glTexImage2D(GL_TEXTURE_2D, 0, GL_RG8, kShadeSide, kShadeSide, 0, GL_RG, GL_UNSIGNED_BYTE, nullptr);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
        glBindFramebuffer(GL_FRAMEBUFFER, framebuffer);
        glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture, 0);
    }
    check_gl("making the floor's shade");
}

void Floor::blur(GLuint from, GLuint into, glm::vec2 along) const {
    glBindFramebuffer(GL_FRAMEBUFFER, into);
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, from);
    blur_.use();
    blur_.set("source", 0);
    blur_.set("along", along / static_cast<float>(kShadeSide));
    glBindVertexArray(no_vertices_.get());
    glDrawArrays(GL_TRIANGLES, 0, 3);
}

void Floor::shade(std::span<const PlacedBody> bodies, const FloorSquare& square,
                  const std::optional<SectionPlane>& section) {
    std::vector<double> made_from{square.middle_mm.x, square.middle_mm.y, square.reach_mm};
    for (const PlacedBody& body : bodies) {
        // Bounds in the world tell the pose as well as the shade needs it; the mesh by its size and place of middle.
        const Box& box = body.box_mm;
        made_from.insert(made_from.end(),
                         {box.low_mm.x, box.low_mm.y, box.low_mm.z, box.high_mm.x, box.high_mm.y, box.high_mm.z,
                          static_cast<double>(body.mesh->triangles()), strength_of(body)});
    }
    glm::vec4 kept{0.0F};
    if (section) {
        const Vec3 kept_side = -glm::normalize(section->towards);
        const double offset =
            -glm::dot(kept_side, section->through_mm - Vec3{square.middle_mm.x, square.middle_mm.y, 0.0});
        kept = {glm::vec3(kept_side * Vec3{square.reach_mm, square.reach_mm, 1.0}), static_cast<float>(offset)};
        made_from.insert(made_from.end(), {kept_side.x, kept_side.y, kept_side.z, offset});
    }
    if (made_from == shaded_) {
        return;
    }
    glBindFramebuffer(GL_FRAMEBUFFER, into_shade_.get());
    glDisable(GL_SCISSOR_TEST);
    glDisable(GL_DEPTH_TEST);
    glDisable(GL_CULL_FACE);
    glViewport(0, 0, kShadeSide, kShadeSide);
    glClearColor(0, 0, 0, 0);
    glClear(GL_COLOR_BUFFER_BIT);
    glEnable(GL_BLEND);
    glBlendEquation(GL_MAX);
    glBlendFunc(GL_ONE, GL_ONE);
    footprint_.use();
    footprint_.set("kept", kept);
    (section ? glEnable : glDisable)(GL_CLIP_DISTANCE0);
    for (const PlacedBody& body : bodies) {
        glm::dmat4 model{body.drawn->pose.rotation};
        model[3] = glm::dvec4(
            body.drawn->pose.apply(body.mesh->middle_mm()) - Vec3{square.middle_mm.x, square.middle_mm.y, 0.0}, 1.0);
        glm::dmat4 flat{1.0};
        flat[0][0] = flat[1][1] = 1.0 / square.reach_mm;
        footprint_.set("model_to_floor", glm::mat4(flat * model));
        footprint_.set("strength", static_cast<float>(strength_of(body)));
        body.mesh->draw_surface(body.mesh->levels() - 1);
    }
    glDisable(GL_CLIP_DISTANCE0);
    glBlendEquation(GL_FUNC_ADD);
    glDisable(GL_BLEND);
    blur(shade_.get(), into_half_done_.get(), {1.0F, 0.0F});
    blur(half_done_.get(), into_shade_.get(), {0.0F, 1.0F});
    check_gl("shading the floor");
    shaded_ = std::move(made_from);
}

void Floor::draw(const View& view, const FloorSquare& square, const Surroundings& look, float pixel_scale) const {
    const Vec2 on_grid = glm::round(square.middle_mm / kGrid_mm) * kGrid_mm;
    grid_.use();
    grid_.set("floor_to_eye", view.model_to_eye({}, Vec3{on_grid.x, on_grid.y, 0.0}));
    grid_.set("projection", glm::mat4(view.projection));
    grid_.set("middle", glm::vec2(square.middle_mm - on_grid));
    grid_.set("reach", static_cast<float>(square.reach_mm));
    grid_.set("line_colour", vec4_of(look.floor_line));
    grid_.set("shadow_colour", vec4_of(look.floor_shadow));
    grid_.set("line_px", 1.0F * pixel_scale);
    grid_.set("shadow", 0);
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, shade_.get());
    glBindVertexArray(no_vertices_.get());
    glDrawArrays(GL_TRIANGLE_STRIP, 0, 4);
    check_gl("drawing the floor");
}

} // namespace evenclose
