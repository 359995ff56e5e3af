#include "viewer/render/renderer.hpp"

#include "viewer/render/detail.hpp"
#include "viewer/render/floor.hpp"
#include "viewer/render/gl_check.hpp"
#include "viewer/render/gl_state.hpp"
#include "viewer/render/gpu_mesh.hpp"
#include "scene/kept_for.hpp"
#include "viewer/render/light.hpp"
#include "viewer/render/look.hpp"
#include "viewer/render/marks.hpp"
#include "viewer/render/outlines.hpp"
#include "viewer/render/picture_target.hpp"
#include "viewer/render/program.hpp"
#include "viewer/render/ray_pick.hpp"
#include "viewer/render/section_caps.hpp"
#include "viewer/render/section_lines.hpp"
#include "viewer/render/view.hpp"

#include <epoxy/gl.h>
#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string_view>

namespace evenclose {
namespace {

constexpr float kEdge_px = 1.1F;
constexpr float kSectionEdge_px = 1.7F; // a cut is drawn bolder than what is seen beyond it
constexpr float kFoulPitch_px = 15.0F;
constexpr float kFoulShare = 0.4F; // of a fouling surface that the dark stripes take

void need_opengl_3_3() {
    const int version = epoxy_gl_version();
    if (version < 33) {
        throw std::runtime_error(
            fmt::format("pictures need OpenGL 3.3, this driver has {}.{}", version / 10, version % 10));
    }
}

bool draws_in_software() {
    const auto* told = reinterpret_cast<const char*>(glGetString(GL_RENDERER));
    const std::string_view name = told != nullptr ? told : "";
    const auto has = [&](std::string_view word) { return name.find(word) != std::string_view::npos; };
    return has("llvmpipe") || has("softpipe") || has("SWR") || has("Software");
}

/// Fewer and edges look ragged, more cost memory and show little; a software rasteriser pays for each.
int samples_a_pixel(bool software) {
    GLint most = 0;
    glGetIntegerv(GL_MAX_SAMPLES, &most);
    return std::min(most, software ? 4 : 8);
}

bool finite(const Pose& pose) {
    for (int i = 0; i < 3; ++i) {
        for (int k = 0; k < 3; ++k) {
            if (!std::isfinite(pose.rotation[i][k])) {
                return false;
            }
        }
        if (!(std::abs(pose.translation_mm[i]) < 1e12)) {
            return false;
        }
    }
    return true;
}

bool usable(const SectionPlane& plane) {
    const double length = glm::length(plane.towards);
    return length > 0 && std::isfinite(length) && std::isfinite(glm::length(plane.through_mm));
}

/// Where the plane cuts the bodies that are not seen through.
std::vector<DrawnLine> section_borders(const std::vector<PlacedBody>& bodies, const Frame& frame,
                                       const Detail& detail) {
    const Vec3 normal = glm::normalize(frame.section->towards);
    std::vector<DrawnLine> lines;
    for (const PlacedBody& body : bodies) {
        if (seen_through(*body.drawn)) {
            continue;
        }
        const auto mesh = drawable_of(body.drawn->mesh);
        const std::size_t level = detail.level_for(body);
        const Pose& pose = body.drawn->pose;
        const Vec3 middle = pose.apply(mesh->middle_mm);
        const CuttingPlane plane{inverse(pose).turn(normal), glm::dot(normal, frame.section->through_mm - middle)};
        const Colour colour = look_of(*body.drawn, frame.surroundings).edge;
        for (const SectionLine& line : section_lines(level == 0 ? mesh->full : mesh->coarse[level - 1], plane)) {
            lines.push_back(
                {middle + pose.turn(line.from_mm), middle + pose.turn(line.to_mm), colour, kSectionEdge_px});
        }
    }
    return lines;
}

struct TintOnGpu {
    const GpuMesh* mesh = nullptr;
    std::shared_ptr<const GpuTint> tint;
};

} // namespace

struct Renderer::Inner {
    bool software = draws_in_software();
    int samples = samples_a_pixel(software);
    Program body{"body.vert", "body.frag"}, background{"whole.vert", "background.frag"};
    GlVertexArray no_vertices = make_vertex_array();
    PictureTarget picture{PictureTarget::Depth::with_stencil};
    Marks marks;
    Floor floor;
    Outlines outlines;
    SectionCaps caps;
    KeptFor<TriangleMesh, std::shared_ptr<const GpuMesh>> meshes;
    KeptFor<Tint, TintOnGpu> tints;

    const GpuMesh& mesh_on_gpu(const SharedMesh& mesh);
    const GpuTint* tint_on_gpu(const DrawnBody& drawn, const GpuMesh& mesh);
    std::vector<PlacedBody> place(const Frame& frame);

    void draw_background(const Surroundings& around) const;
    void draw_surface(const PlacedBody& placed_body, const Look& look, const Detail& detail, float pixel_scale) const;
    void draw_edges(const std::vector<PlacedBody>& bodies, const Frame& frame, bool of_seen_through);
    void draw_solid(const std::vector<PlacedBody>& bodies, const Frame& frame, const View& view, const Detail& detail);
    void draw_seen_through(const std::vector<PlacedBody>& bodies, const Frame& frame, const Detail& detail);
    void draw_scene(std::vector<PlacedBody>& bodies, const Frame& frame, const View& view, const Detail& detail,
                    const FloorSquare* square, Area area);
    void draw(const Frame& frame, Area area, GLuint into);
};

const GpuMesh& Renderer::Inner::mesh_on_gpu(const SharedMesh& mesh) {
    if (const auto* found = meshes.find(mesh)) {
        return **found;
    }
    return *meshes.keep(mesh, std::make_shared<const GpuMesh>(*drawable_of(mesh), software));
}

const GpuTint* Renderer::Inner::tint_on_gpu(const DrawnBody& drawn, const GpuMesh& mesh) {
    if (drawn.tint == nullptr) {
        return nullptr;
    }
    if (drawn.tint->size() != drawn.mesh->vertices_mm.size()) {
        throw std::invalid_argument(fmt::format("body {} is tinted with {} colours, its mesh has {} vertices",
                                                drawn.body, drawn.tint->size(), drawn.mesh->vertices_mm.size()));
    }
    const TintOnGpu* found = tints.find(drawn.tint);
    if (found == nullptr || found->mesh != &mesh) {
        found = &tints.keep(drawn.tint,
                            {&mesh, std::make_shared<const GpuTint>(*drawable_of(drawn.mesh), *drawn.tint, software)});
    }
    return found->tint.get();
}

std::vector<PlacedBody> Renderer::Inner::place(const Frame& frame) {
    tints.forget_gone();
    meshes.forget_gone();
    std::vector<PlacedBody> placed_bodies;
    for (const DrawnBody& drawn : frame.bodies) {
        if (drawn.mesh == nullptr || !finite(drawn.pose)) {
            continue;
        }
        const GpuMesh& mesh = mesh_on_gpu(drawn.mesh);
        if (!mesh.empty()) {
            placed_bodies.push_back(
                {&drawn, &mesh, tint_on_gpu(drawn, mesh), glm::mat4(1.0F), placed(mesh.bounds_mm(), drawn.pose)});
        }
    }
    return placed_bodies;
}

void Renderer::Inner::draw_background(const Surroundings& around) const {
    glDisable(GL_DEPTH_TEST);
    glDisable(GL_BLEND);
    background.use();
    background.set("above", vec3_of(around.above));
    background.set("below", vec3_of(around.below));
    glBindVertexArray(no_vertices.get());
    glDrawArrays(GL_TRIANGLES, 0, 3);
}

void Renderer::Inner::draw_surface(const PlacedBody& placed_body, const Look& look, const Detail& detail,
                                   float pixel_scale) const {
    // Only what is surely solid has an outside; anything else shows both faces.
    (placed_body.mesh->closed() ? glEnable : glDisable)(GL_CULL_FACE);
    body.set("model_to_eye", placed_body.model_to_eye);
    body.set("colour", linear(look.surface));
    body.set("alpha", look.surface.alpha);
    body.set("hatch_pitch_px", look.hatched ? kFoulPitch_px * pixel_scale : 0.0F);
    placed_body.mesh->draw_surface(detail.level_for(placed_body), placed_body.tint);
}

void Renderer::Inner::draw_edges(const std::vector<PlacedBody>& bodies, const Frame& frame, bool of_seen_through) {
    glDisable(GL_CULL_FACE);
    glDepthMask(GL_FALSE);
    for (const PlacedBody& placed_body : bodies) {
        if (seen_through(*placed_body.drawn) == of_seen_through) {
            marks.edges(*placed_body.mesh, placed_body.model_to_eye,
                        look_of(*placed_body.drawn, frame.surroundings).edge, kEdge_px);
        }
    }
    glDepthMask(GL_TRUE);
    check_gl("drawing edges");
}

void Renderer::Inner::draw_solid(const std::vector<PlacedBody>& bodies, const Frame& frame, const View& view,
                                 const Detail& detail) {
    body.use();
    set_light(body, view);
    body.set("hatch", linear(frame.surroundings.foul_stripe));
    body.set("hatch_share", kFoulShare);
    body.set("hatch_slant", 1.0F);
    // Without a section, all: some drivers go on cutting by a distance that is switched off.
    body.set("kept", frame.section ? view.kept_of(*frame.section) : glm::vec4(0, 0, 0, 1));
    if (frame.section) {
        glEnable(GL_CLIP_DISTANCE0);
    }
    glEnable(GL_DEPTH_TEST);
    glDepthFunc(GL_LEQUAL);
    glCullFace(GL_BACK);
    glFrontFace(GL_CCW);
    glEnable(GL_POLYGON_OFFSET_FILL); // surfaces half a step behind their own edges
    glPolygonOffset(1.0F, 1.0F);
    for (const PlacedBody& placed_body : bodies) {
        if (!seen_through(*placed_body.drawn)) {
            draw_surface(placed_body, look_of(*placed_body.drawn, frame.surroundings), detail, frame.pixel_scale);
        }
    }
    check_gl("drawing bodies");
    if (frame.section) {
        caps.draw(bodies, frame, view, detail);
    }
    glDisable(GL_POLYGON_OFFSET_FILL);
    glEnable(GL_BLEND);
    glBlendEquation(GL_FUNC_ADD);
    glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
    draw_edges(bodies, frame, false);
    if (frame.section) {
        glDisable(GL_CLIP_DISTANCE0); // the borders lie in the plane, and rounding puts some beyond it
        marks.lines(section_borders(bodies, frame, detail), false);
    }
}

/// First only the depth of all of them, then the colour of what is nearest: one pale layer whatever their order.
void Renderer::Inner::draw_seen_through(const std::vector<PlacedBody>& bodies, const Frame& frame,
                                        const Detail& detail) {
    body.use();
    glEnable(GL_POLYGON_OFFSET_FILL);
    for (const bool colour : {false, true}) {
        const GLboolean on = colour ? GL_TRUE : GL_FALSE;
        glColorMask(on, on, on, on);
        for (const PlacedBody& placed_body : bodies) {
            if (seen_through(*placed_body.drawn)) {
                draw_surface(placed_body, look_of(*placed_body.drawn, frame.surroundings), detail, frame.pixel_scale);
            }
        }
    }
    glDisable(GL_POLYGON_OFFSET_FILL);
    check_gl("drawing see-through bodies");
    draw_edges(bodies, frame, true);
}

void Renderer::Inner::draw_scene(std::vector<PlacedBody>& bodies, const Frame& frame, const View& view,
                                 const Detail& detail, const FloorSquare* square, Area area) {
    for (PlacedBody& placed_body : bodies) {
        placed_body.model_to_eye = view.model_to_eye(placed_body.drawn->pose, placed_body.mesh->middle_mm());
    }
    marks.begin(view, frame, area.width, area.height);
    draw_solid(bodies, frame, view, detail);
    glDisable(GL_CLIP_DISTANCE0);
    glDepthMask(GL_FALSE);
    if (square != nullptr) {
        floor.draw(view, *square, frame.surroundings, frame.pixel_scale);
        marks.lines(ground_line(frame.camera, *square, frame.surroundings), false);
    }
    marks.lines(frame.lines, false);
    glDepthMask(GL_TRUE);
    (frame.section ? glEnable : glDisable)(GL_CLIP_DISTANCE0);
    draw_seen_through(bodies, frame, detail);
    glDisable(GL_CLIP_DISTANCE0);
    glDisable(GL_DEPTH_TEST);
    marks.lines(frame.lines, true);
    marks.spots(frame.spots);
    check_gl("drawing marks");
}

void Renderer::Inner::draw(const Frame& frame, Area area, GLuint into) {
    for (const GLenum off : {GL_STENCIL_TEST, GL_FRAMEBUFFER_SRGB, GL_CLIP_DISTANCE0, GL_CULL_FACE}) {
        glDisable(off);
    }
    glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
    glDepthMask(GL_TRUE);
    glStencilMask(0xFF);
    glPolygonMode(GL_FRONT_AND_BACK, GL_FILL);
    glEnable(GL_MULTISAMPLE);

    std::vector<PlacedBody> bodies = place(frame);
    Box reach;
    for (const PlacedBody& placed_body : bodies) {
        reach.add(placed_body.box_mm);
    }
    const bool floor_shown = frame.floor && !reach.empty();
    const FloorSquare square = floor_under(reach);
    if (floor_shown) {
        reach.add(square.box());
    }
    for (const DrawnLine& line : frame.lines) {
        reach.add(line.from_mm); // one that is not finite changes nothing: the comparison with it is false
        reach.add(line.to_mm);
    }
    const auto view = view_of(frame.camera, static_cast<double>(area.width) / area.height, reach);
    const Detail detail = view && software ? Detail(frame.camera, area.height, frame.moving) : Detail();
    const int samples_now = frame.moving && software ? 1 : samples;
    if (view && floor_shown) {
        floor.shade(bodies, square, frame.section);
    }
    picture.begin(area.width, area.height, samples_now);
    glClearDepth(1.0);
    glClearStencil(0);
    glClear(GL_DEPTH_BUFFER_BIT | GL_STENCIL_BUFFER_BIT);
    draw_background(frame.surroundings);
    if (view) {
        draw_scene(bodies, frame, *view, detail, floor_shown ? &square : nullptr, area);
    }
    picture.resolve();
    picture.copy(into, area.x, area.y);
    if (view) {
        (frame.section ? glEnable : glDisable)(GL_CLIP_DISTANCE0);
        outlines.draw(bodies, frame, *view, detail, samples_now, area, into);
    }
    check_gl("finishing the picture");
}

Renderer::Renderer() {
    need_opengl_3_3();
    const GlStateGuard guard;
    inner_ = std::make_unique<Inner>();
}
Renderer::~Renderer() = default;

void Renderer::draw(const Frame& frame, Area area) {
    if (area.width <= 0 || area.height <= 0) {
        return;
    }
    const GlStateGuard guard;
    if (frame.section && !usable(*frame.section)) {
        Frame whole = frame;
        whole.section.reset();
        inner_->draw(whole, area, guard.drawn_into());
    } else {
        inner_->draw(frame, area, guard.drawn_into());
    }
}

Renderer::Pick Renderer::pick(const Frame& frame, int width, int height, int x, int y) {
    const auto hit = ray_pick(frame, width, height, x + 0.5, y + 0.5);
    return hit ? Pick{hit->body, hit->at_mm} : Pick{};
}

} // namespace evenclose
