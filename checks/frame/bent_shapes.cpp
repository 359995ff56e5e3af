#include "checks/frame/bent_shapes.hpp"

#include "scene/press/built_up.hpp"
#include "scene/press/member_solid.hpp"
#include "scene/press/prism.hpp"
#include "scene/press/section_outline.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

namespace evenclose {
namespace {

/// The prism from A to B, cut across at each of `at_mm`, along its own Z.
TriangleMesh cut_prism(const Outline& outline, const std::vector<double>& at_mm) {
    const double length = at_mm.back();
    const TriangleMesh whole = prism(outline, length);
    const auto is_top = [&](std::uint32_t v) { return whole.vertices_mm[v].z > 0.5 * length; };
    // Vertices of the lower end stand for a layer; each of the upper end has a twin below.
    std::map<std::pair<double, double>, std::uint32_t> lower;
    std::vector<std::uint32_t> layer(whole.vertices_mm.size());
    std::vector<Vec2> ring;
    for (std::uint32_t v = 0; v < whole.vertices_mm.size(); ++v) {
        const Vec3& p = whole.vertices_mm[v];
        const auto [at, is_new] = lower.try_emplace({p.x, p.y}, static_cast<std::uint32_t>(ring.size()));
        if (is_new) {
            ring.emplace_back(p.x, p.y);
        }
        layer[v] = at->second;
    }
    TriangleMesh cut;
    const auto count = static_cast<std::uint32_t>(ring.size());
    for (const double z : at_mm) {
        for (const Vec2 place : ring) {
            cut.vertices_mm.emplace_back(place, z);
        }
    }
    const auto layers = static_cast<std::uint32_t>(at_mm.size());
    for (const TriangleCorners& t : whole.triangles) {
        const int tops =
            static_cast<int>(is_top(t[0])) + static_cast<int>(is_top(t[1])) + static_cast<int>(is_top(t[2]));
        const std::uint32_t from = tops == 3 ? layers - 1 : 0;
        const std::uint32_t to = tops == 0 ? 1 : tops == 3 ? layers : layers - 1;
        for (std::uint32_t k = from; k < to; ++k) {
            TriangleCorners corners;
            for (std::size_t i = 0; i < 3; ++i) {
                corners[i] = layer[t[i]] + count * (k + (tops != 3 && is_top(t[i]) ? 1U : 0U));
            }
            cut.triangles.push_back(corners);
        }
    }
    return cut;
}

TriangleMesh bent_member(const Member& member, const FrameMember& part, const FrameState& state, double magnified) {
    const Pose pose = frame_of(member);
    TriangleMesh whole;
    for (const BuiltUpPart& each : parts_of(member.section)) {
        TriangleMesh mesh = cut_prism(outline_of(each.section), part.at_mm);
        const std::size_t ring = mesh.vertices_mm.size() / part.at_mm.size();
        for (std::size_t v = 0; v < mesh.vertices_mm.size(); ++v) {
            const std::size_t layer = v / ring;
            const Motion& motion = state.motions[part.nodes[layer]];
            const Vec3 place = pose.apply(mesh.vertices_mm[v] + Vec3{each.at_mm, 0});
            const Vec3 from_axis = place - (pose.translation_mm + part.at_mm[layer] * pose.rotation[2]);
            mesh.vertices_mm[v] = place + magnified * (motion.move_mm + glm::cross(motion.turn_rad, from_axis));
        }
        append(whole, mesh);
    }
    return whole;
}

/// The plate's cells above and below, and its rim.
TriangleMesh bent_plate(const PlateGrid& grid, const FrameState& state, double thickness_mm, double magnified,
                        double rigid_mm, double lift_mm) {
    TriangleMesh mesh;
    const int columns = grid.along + 1;
    const int rows = grid.across + 1;
    for (const double side : {-0.5, 0.5}) {
        for (int j = 0; j < rows; ++j) {
            for (int i = 0; i < columns; ++i) {
                const Vec2 at = grid.low_mm + Vec2{i * grid.cell_mm.x, j * grid.cell_mm.y};
                const double rise = state.motions[grid.nodes[static_cast<std::size_t>(j * columns + i)]].move_mm.z;
                mesh.vertices_mm.emplace_back(at, grid.z_mm + lift_mm + side * thickness_mm +
                                                      magnified * (rise - rigid_mm));
            }
        }
    }
    const auto at = [&](int i, int j, int side) {
        return static_cast<std::uint32_t>(side * columns * rows + j * columns + i);
    };
    const auto quad = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t d) {
        mesh.triangles.push_back({a, b, c});
        mesh.triangles.push_back({a, c, d});
    };
    for (int j = 0; j + 1 < rows; ++j) {
        for (int i = 0; i + 1 < columns; ++i) {
            quad(at(i, j, 1), at(i + 1, j, 1), at(i + 1, j + 1, 1), at(i, j + 1, 1));
            quad(at(i, j, 0), at(i, j + 1, 0), at(i + 1, j + 1, 0), at(i + 1, j, 0));
        }
    }
    for (int i = 0; i + 1 < columns; ++i) {
        quad(at(i, 0, 0), at(i + 1, 0, 0), at(i + 1, 0, 1), at(i, 0, 1));
        quad(at(i + 1, rows - 1, 0), at(i, rows - 1, 0), at(i, rows - 1, 1), at(i + 1, rows - 1, 1));
    }
    for (int j = 0; j + 1 < rows; ++j) {
        quad(at(0, j + 1, 0), at(0, j, 0), at(0, j, 1), at(0, j + 1, 1));
        quad(at(columns - 1, j, 0), at(columns - 1, j + 1, 0), at(columns - 1, j + 1, 1), at(columns - 1, j, 1));
    }
    return mesh;
}

/// How far the platen goes as a whole: its closing, not its bending. The mean over the deck, against the head's.
double platen_goes_mm(const FrameMeasure& measure) {
    double sum = 0;
    double area = 0;
    for (const DeckPatch& patch : measure.deck) {
        sum += patch.area_mm2 * (patch.platen_mm - patch.head_mm);
        area += patch.area_mm2;
    }
    return area > 0 ? sum / area : 0;
}

} // namespace

BentShapes bent_shapes(const FrameMeasure& measure, const Setup& setup, const Assembly& assembly, double magnified) {
    const PressFrame& model = measure.stood.model;
    const FrameState& state = measure.stood.state;
    BentShapes shapes;
    shapes.magnified = magnified;
    shapes.mesh.resize(assembly.bodies.size());
    shapes.use.assign(assembly.bodies.size(), -1.0);
    const double goes = platen_goes_mm(measure);
    std::size_t member = 0;
    for (std::size_t i = 0; i < assembly.bodies.size(); ++i) {
        const Body& body = assembly.bodies[i];
        const auto use = std::find_if(measure.uses.begin(), measure.uses.end(),
                                      [&](const PartUse& part) { return part.part == body.name; });
        shapes.use[i] = use == measure.uses.end() || !use->known ? -1 : use->use;
        const auto bent = [&](TriangleMesh mesh) {
            shapes.mesh[i] = std::make_shared<const TriangleMesh>(std::move(mesh));
        };
        if (body.part == Part::member) {
            const FrameMember& part = model.members[member];
            if (!part.nodes.empty()) {
                bent(bent_member(setup.press->members[member], part, state, magnified));
            }
            ++member; // bodies of members stand in the order of the press
        } else if (body.part == Part::head && setup.press->head.mesh == nullptr) {
            bent(bent_plate(model.head, state, model.head.thickness_mm, magnified, 0, 0));
        } else if (body.part == Part::platen && setup.press->platen.mesh == nullptr) {
            // The body is placed at travel 0 and ridden up by its pose; the grid stands at closed.
            const double drawn_z = bounds_of(*body.mesh).centre_mm().z + body.placement.translation_mm.z;
            bent(bent_plate(model.platen, state, model.platen.thickness_mm, magnified, goes,
                            drawn_z - model.platen.z_mm));
        } else if (body.part == Part::mold_lower || body.part == Part::mold_upper) {
            const bool upper = body.part == Part::mold_upper;
            const std::size_t opening = body.opening.value_or(0);
            if (upper ? opening + 1 < assembly.openings.size() : opening > 0) {
                continue; // between two openings: pressed alike from both sides, it does not bend
            }
            const PlateGrid& grid = upper ? model.head : model.platen;
            TriangleMesh mesh = *body.mesh;
            for (Vec3& vertex : mesh.vertices_mm) {
                vertex.z += magnified * (grid.rise_mm(state, Vec2{body.placement.apply(vertex)}) - (upper ? 0 : goes));
            }
            bent(std::move(mesh));
        }
    }
    return shapes;
}

double bend_to_see(const FrameMeasure& measure, const Setup& setup) {
    double most = 1e-6;
    for (const FrameMember& part : measure.stood.model.members) {
        for (const std::size_t node : part.nodes) {
            most = std::max(most, glm::length(measure.stood.state.motions[node].move_mm));
        }
    }
    const double wanted = setup.press->head_underside_z_mm / 20 / most;
    constexpr std::array<double, 9> kSteps = {1, 2, 5, 10, 20, 50, 100, 200, 500};
    double step = 1;
    for (const double s : kSteps) {
        step = s <= wanted ? s : step;
    }
    return step;
}

} // namespace evenclose
