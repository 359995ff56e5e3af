#include "viewer/render/section_caps.hpp"

#include "viewer/render/gl_check.hpp"
#include "viewer/render/light.hpp"
#include "viewer/render/look.hpp"

#include <glm/geometric.hpp>

namespace evenclose {
namespace {

constexpr float kHatchPitch_px = 11;

bool faces_eye(const SectionPlane& plane, const Camera& camera) {
    const Vec3 to_eye = camera.parallel ? camera.eye_mm - camera.target_mm : camera.eye_mm - plane.through_mm;
    return glm::dot(to_eye, plane.towards) > 0;
}

/// Two unit vectors in the plane.
struct PlaneAxes {
    Vec3 u, v;
};
PlaneAxes axes_of(const Vec3& normal) {
    const Vec3 u = glm::normalize(glm::cross(std::abs(normal.z) < 0.9 ? Vec3{0, 0, 1} : Vec3{1, 0, 0}, normal));
    return {u, glm::cross(normal, u)};
}

} // namespace

SectionCaps::SectionCaps() : no_vertices_(make_vertex_array()) {}

void SectionCaps::draw(std::span<const PlacedBody> bodies, const Frame& frame, const View& view,
                       const Detail& detail) const {
    const SectionPlane& plane = *frame.section;
    if (!faces_eye(plane, frame.camera)) {
        return;
    }
    const Vec3 normal = glm::normalize(plane.towards);
    const PlaneAxes axes = axes_of(normal);
    const auto in_eye = [&](const Vec3& v, double w) { return glm::vec3(view.to_eye * glm::dvec4(v, w)); };
    face_.use();
    set_light(face_, view);
    face_.set("u", in_eye(axes.u, 0));
    face_.set("v", in_eye(axes.v, 0));
    face_.set("normal", in_eye(normal, 0));
    count_.use();
    count_.set("projection", glm::mat4(view.projection));
    count_.set("kept", view.kept_of(plane));
    glDisable(GL_CULL_FACE);
    glEnable(GL_STENCIL_TEST);
    float slant = 1;
    for (const PlacedBody& body : bodies) {
        const Vec3 middle = body.box_mm.centre_mm();
        const double half = 0.5 * glm::length(body.box_mm.size_mm());
        const double off = glm::dot(middle - plane.through_mm, normal);
        if (seen_through(*body.drawn) || !body.mesh->closed() || std::abs(off) > half) {
            continue;
        }
        glColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
        glDepthMask(GL_FALSE);
        glDisable(GL_DEPTH_TEST);
        glEnable(GL_CLIP_DISTANCE0);
        glStencilFunc(GL_ALWAYS, 0, 0xFF);
        glStencilOpSeparate(GL_FRONT, GL_KEEP, GL_KEEP, GL_DECR_WRAP);
        glStencilOpSeparate(GL_BACK, GL_KEEP, GL_KEEP, GL_INCR_WRAP);
        count_.use();
        count_.set("model_to_eye", body.model_to_eye);
        body.mesh->draw_surface(detail.level_for(body));

        glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
        glDepthMask(GL_TRUE);
        glEnable(GL_DEPTH_TEST);
        glDisable(GL_CLIP_DISTANCE0);
        glStencilFunc(GL_NOTEQUAL, 0, 0xFF);
        glStencilOp(GL_ZERO, GL_ZERO, GL_ZERO);
        const Look look = look_of(*body.drawn, frame.surroundings);
        face_.use();
        face_.set("middle", in_eye(middle - off * normal - view.origin_mm, 1));
        face_.set("half_size", static_cast<float>(half));
        face_.set("colour", linear(look.surface));
        face_.set("alpha", 1.0F);
        face_.set("hatch", linear(look.edge));
        face_.set("hatch_pitch_px", kHatchPitch_px * frame.pixel_scale);
        face_.set("hatch_share", look.hatched ? 0.4F : 0.11F);
        face_.set("hatch_slant", slant);
        slant = -slant;
        glBindVertexArray(no_vertices_.get());
        glDrawArrays(GL_TRIANGLE_STRIP, 0, 4);
    }
    glDisable(GL_STENCIL_TEST);
    glEnable(GL_CLIP_DISTANCE0);
    check_gl("drawing the section");
}

} // namespace evenclose
