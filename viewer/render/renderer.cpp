#include "viewer/render/renderer.hpp"

#include "viewer/render/floor.hpp"
#include "viewer/render/gl_check.hpp"
#include "viewer/render/gl_state.hpp"
#include "viewer/render/gpu_mesh.hpp"
#include "viewer/render/marks.hpp"
#include "viewer/render/picture_target.hpp"
#include "viewer/render/program.hpp"
#include "viewer/render/ray_pick.hpp"
#include "viewer/render/shared_by_mesh.hpp"
#include "viewer/render/view.hpp"

#include <epoxy/gl.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <string_view>

namespace evenclose {
namespace {

constexpr float kEdge_px = 1.1F;
constexpr float kOutline_px = 2.8F;
constexpr float kHatchPitch_px = 15.0F;
constexpr float kDimmedAlpha = 0.22F;     // what is behind one dimmed body keeps four fifths of its strength
constexpr float kDimmedEdgeAlpha = 0.30F; // edges of dimmed bodies tell their shape, more faintly than others

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

/// Two samples less and edges look ragged, more cost memory that shows little; a software rasteriser pays for each.
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

Box placed(const Box& box, const Pose& pose) {
    Box result;
    for (int corner = 0; corner < 8; ++corner) {
        result.add(pose.apply({(corner & 1) != 0 ? box.high_mm.x : box.low_mm.x,
                               (corner & 2) != 0 ? box.high_mm.y : box.low_mm.y,
                               (corner & 4) != 0 ? box.high_mm.z : box.low_mm.z}));
    }
    return result;
}

Colour mixed(const Colour& a, const Colour& b, float share) {
    return {a.red + share * (b.red - a.red), a.green + share * (b.green - a.green), a.blue + share * (b.blue - a.blue),
            a.alpha};
}

/// How a body's surface and edges are coloured for its emphasis.
struct Look {
    Colour surface;
    Colour edge;
    bool hatched = false;
};

Look look_of(const DrawnBody& body, const Surroundings& around) {
    const Colour black{0, 0, 0, 1};
    Look look{body.colour, mixed(body.colour, black, around.edge_darkness)};
    switch (body.emphasis) {
    case Emphasis::plain:
        look.edge.alpha = body.colour.alpha;
        break;
    case Emphasis::lit:
        look.surface = mixed(body.colour, {1, 1, 1, 1}, 0.30F);
        look.surface.alpha = 1;
        look.edge = around.lit_outline;
        break;
    case Emphasis::dimmed:
        look.surface = mixed(body.colour, around.dimmed, 0.7F);
        look.surface.alpha = kDimmedAlpha * body.colour.alpha;
        look.edge.alpha = kDimmedEdgeAlpha * body.colour.alpha;
        break;
    case Emphasis::foul:
        look.surface = around.foul;
        look.surface.alpha = 1;
        look.edge = around.foul_outline;
        look.hatched = true;
        break;
    }
    return look;
}

} // namespace

struct Renderer::Inner {
    bool software = draws_in_software();
    int samples = samples_a_pixel(software);
    Program body{"body.vert", "body.frag"}, flat{"body.vert", "flat.frag"}, background{"whole.vert", "background.frag"},
        compose{"whole.vert", "compose.frag"};
    GlVertexArray no_vertices = make_vertex_array();
    PictureTarget picture{PictureTarget::Depth::with_stencil}, mask{PictureTarget::Depth::none};
    Marks marks;
    Floor floor;
    SharedByMesh<std::shared_ptr<const GpuMesh>> meshes;

    const GpuMesh& mesh_on_gpu(const SharedMesh& mesh) {
        if (const auto* found = meshes.find(mesh)) {
            return **found;
        }
        return *meshes.keep(mesh, std::make_shared<const GpuMesh>(*drawable_of(mesh)));
    }

    std::vector<PlacedBody> place(const Frame& frame) {
        meshes.forget_gone();
        std::vector<PlacedBody> placed_bodies;
        for (const DrawnBody& drawn : frame.bodies) {
            if (drawn.mesh == nullptr || !finite(drawn.pose)) {
                continue;
            }
            const GpuMesh& mesh = mesh_on_gpu(drawn.mesh);
            if (!mesh.empty()) {
                placed_bodies.push_back({&drawn, &mesh, glm::mat4(1.0F), placed(mesh.bounds_mm(), drawn.pose)});
            }
        }
        return placed_bodies;
    }

    void whole_area() const {
        glBindVertexArray(no_vertices.get());
        glDrawArrays(GL_TRIANGLES, 0, 3);
    }

    void draw_background(const Surroundings& around) {
        glDisable(GL_DEPTH_TEST);
        glDisable(GL_BLEND);
        background.use();
        background.set("above", vec3_of(around.above));
        background.set("below", vec3_of(around.below));
        whole_area();
    }

    void draw_surface(const PlacedBody& placed_body, const Look& look, bool coarsely, float pixel_scale) const {
        // Only what is surely solid has an outside; anything else shows both faces.
        (placed_body.mesh->closed() ? glEnable : glDisable)(GL_CULL_FACE);
        body.set("model_to_eye", placed_body.model_to_eye);
        body.set("colour", linear(look.surface));
        body.set("alpha", look.surface.alpha);
        body.set("hatch_pitch_px", look.hatched ? kHatchPitch_px * pixel_scale : 0.0F);
        placed_body.mesh->draw_surface(coarsely);
    }

    void draw_bodies(const std::vector<PlacedBody>& bodies, const Frame& frame, const View& view, bool coarsely);
    void draw_seen_through(const std::vector<PlacedBody>& bodies, const Frame& frame, bool coarsely);
    bool draw_mask(const std::vector<PlacedBody>& bodies, Area area, bool coarsely);
    void draw(const Frame& frame, Area area, GLuint into);
};

void Renderer::Inner::draw_bodies(const std::vector<PlacedBody>& bodies, const Frame& frame, const View& view,
                                  bool coarsely) {
    body.use();
    body.set("projection", glm::mat4(view.projection));
    body.set("up", glm::vec3(view.to_eye * glm::dvec4(0.0, 0.0, 1.0, 0.0)));
    body.set("parallel", view.parallel ? 1.0F : 0.0F);
    body.set("hatch", linear(frame.surroundings.foul_stripe));
    glEnable(GL_DEPTH_TEST);
    glDepthFunc(GL_LEQUAL);
    glCullFace(GL_BACK);
    glFrontFace(GL_CCW);
    glEnable(GL_POLYGON_OFFSET_FILL); // surfaces half a step behind their own edges
    glPolygonOffset(1.0F, 1.0F);
    for (const PlacedBody& placed_body : bodies) {
        if (!seen_through(*placed_body.drawn)) {
            draw_surface(placed_body, look_of(*placed_body.drawn, frame.surroundings), coarsely, frame.pixel_scale);
        }
    }
    check_gl("drawing bodies");
    glDisable(GL_POLYGON_OFFSET_FILL);
    glDisable(GL_CULL_FACE);
    glEnable(GL_BLEND);
    glBlendEquation(GL_FUNC_ADD);
    glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
    glDepthMask(GL_FALSE);
    for (const PlacedBody& placed_body : bodies) {
        if (!seen_through(*placed_body.drawn)) {
            marks.edges(*placed_body.mesh, placed_body.model_to_eye,
                        look_of(*placed_body.drawn, frame.surroundings).edge, kEdge_px);
        }
    }
    glDepthMask(GL_TRUE);
    check_gl("drawing edges");
}

/// First only the depth of all of them, then the colour of what is nearest: one pale layer whatever their order.
void Renderer::Inner::draw_seen_through(const std::vector<PlacedBody>& bodies, const Frame& frame, bool coarsely) {
    const auto each = [&](const auto& action) {
        for (const PlacedBody& placed_body : bodies) {
            if (seen_through(*placed_body.drawn)) {
                action(placed_body, look_of(*placed_body.drawn, frame.surroundings));
            }
        }
    };
    body.use();
    glEnable(GL_DEPTH_TEST);
    glEnable(GL_POLYGON_OFFSET_FILL);
    for (const bool colour : {false, true}) {
        const GLboolean on = colour ? GL_TRUE : GL_FALSE;
        glColorMask(on, on, on, on);
        each([&](const PlacedBody& placed_body, const Look& look) {
            draw_surface(placed_body, look, coarsely, frame.pixel_scale);
        });
    }
    glDisable(GL_POLYGON_OFFSET_FILL);
    glDisable(GL_CULL_FACE);
    glDepthMask(GL_FALSE);
    each([&](const PlacedBody& placed_body, const Look& look) {
        marks.edges(*placed_body.mesh, placed_body.model_to_eye, look.edge, kEdge_px);
    });
    glDepthMask(GL_TRUE);
    check_gl("drawing see-through bodies");
}

bool Renderer::Inner::draw_mask(const std::vector<PlacedBody>& bodies, Area area, bool coarsely) {
    const bool wanted = std::any_of(bodies.begin(), bodies.end(), [](const PlacedBody& b) {
        return b.drawn->emphasis == Emphasis::lit || b.drawn->emphasis == Emphasis::foul;
    });
    if (!wanted) {
        return false;
    }
    mask.begin(area.width, area.height, coarsely ? 1 : samples);
    glDisable(GL_DEPTH_TEST);
    glEnable(GL_BLEND);
    glBlendEquation(GL_MAX);
    glBlendFunc(GL_ONE, GL_ONE);
    glClearColor(0, 0, 0, 0);
    glClear(GL_COLOR_BUFFER_BIT);
    flat.use();
    // Neighbours in different channels, so that each gets an outline where they meet.
    std::size_t lit = 0;
    std::size_t foul = 0;
    for (const PlacedBody& placed_body : bodies) {
        glm::vec4 channel{0.0F};
        if (placed_body.drawn->emphasis == Emphasis::lit) {
            channel[lit++ % 2] = 1;
        } else if (placed_body.drawn->emphasis == Emphasis::foul) {
            channel[2 + foul++ % 2] = 1;
        } else {
            continue;
        }
        flat.set("model_to_eye", placed_body.model_to_eye);
        flat.set("flat_value", channel);
        placed_body.mesh->draw_surface(coarsely);
    }
    glBlendEquation(GL_FUNC_ADD);
    mask.resolve();
    check_gl("drawing outlines");
    return true;
}

void Renderer::Inner::draw(const Frame& frame, Area area, GLuint into) {
    for (const GLenum off : {GL_STENCIL_TEST, GL_FRAMEBUFFER_SRGB, GL_CLIP_DISTANCE0, GL_CULL_FACE}) {
        glDisable(off);
    }
    glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
    glDepthMask(GL_TRUE);
    glPolygonMode(GL_FRONT_AND_BACK, GL_FILL);
    glEnable(GL_MULTISAMPLE);

    std::vector<PlacedBody> bodies = place(frame);
    Box bodies_box;
    for (const PlacedBody& placed_body : bodies) {
        bodies_box.add(placed_body.box_mm);
    }
    const bool floor_shown = frame.floor && !bodies_box.empty();
    const FloorSquare square = floor_under(bodies_box);
    Box reach = bodies_box;
    if (floor_shown) {
        reach.add(square.box());
    }
    for (const DrawnLine& line : frame.lines) {
        if (!line.on_top) {
            reach.add(line.from_mm);
            reach.add(line.to_mm);
        }
    }
    const bool coarsely = frame.moving && software;
    const auto view = view_of(frame.camera, static_cast<double>(area.width) / area.height, reach);
    if (view && floor_shown) {
        floor.shade(bodies, square);
    }

    picture.begin(area.width, area.height, coarsely ? 1 : samples);
    glClear(GL_DEPTH_BUFFER_BIT | GL_STENCIL_BUFFER_BIT);
    draw_background(frame.surroundings);
    bool outlined = false;
    if (view) {
        for (PlacedBody& placed_body : bodies) {
            placed_body.model_to_eye = view->model_to_eye(placed_body.drawn->pose, placed_body.mesh->middle_mm());
        }
        marks.begin(*view, area.width, area.height, frame.pixel_scale);
        draw_bodies(bodies, frame, *view, coarsely);
        glDepthMask(GL_FALSE);
        if (floor_shown) {
            floor.draw(*view, square, frame.surroundings, frame.pixel_scale);
        }
        marks.lines(frame.lines, false);
        glDepthMask(GL_TRUE);
        draw_seen_through(bodies, frame, coarsely);
        glDisable(GL_DEPTH_TEST);
        marks.lines(frame.lines, true);
        marks.spots(frame.spots);
        picture.resolve();
        flat.use();
        flat.set("projection", glm::mat4(view->projection));
        outlined = draw_mask(bodies, area, coarsely);
    } else {
        picture.resolve();
    }

    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, into);
    glViewport(area.x, area.y, area.width, area.height);
    glEnable(GL_SCISSOR_TEST);
    glScissor(area.x, area.y, area.width, area.height);
    glDisable(GL_DEPTH_TEST);
    glDisable(GL_BLEND);
    compose.use();
    compose.set("picture", 0);
    compose.set("mask", 1);
    compose.set("used", picture.used());
    compose.set("texel", picture.texel());
    compose.set("outline_px", outlined ? kOutline_px * frame.pixel_scale : 0.0F);
    compose.set("lit_outline", vec4_of(frame.surroundings.lit_outline));
    compose.set("foul_outline", vec4_of(frame.surroundings.foul_outline));
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, picture.texture());
    glActiveTexture(GL_TEXTURE1);
    glBindTexture(GL_TEXTURE_2D, outlined ? mask.texture() : picture.texture());
    whole_area();
    check_gl("composing the picture");
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
    inner_->draw(frame, area, guard.drawn_into());
}

Renderer::Pick Renderer::pick(const Frame& frame, int width, int height, int x, int y) {
    const auto hit = ray_pick(frame, width, height, x + 0.5, y + 0.5);
    return hit ? Pick{hit->body, hit->at_mm} : Pick{};
}

} // namespace evenclose
