#include "checks/load_in/load_path.hpp"

#include "checks/deck.hpp"
#include "scene/mesh/shapes.hpp"
#include "scene/motion/drawn_pose.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// Outside, with this much room to the nearest of the press: an arm's length of planning, no more.
constexpr double kOutside_mm = 100;

Vec3 direction_from(PressSide side) {
    switch (side) {
    case PressSide::front:
        return {0, 1, 0};
    case PressSide::back:
        return {0, -1, 0};
    case PressSide::left:
        return {1, 0, 0};
    case PressSide::right:
        return {-1, 0, 0};
    }
    return {0, 1, 0};
}

std::optional<std::size_t> body_of(const Assembly& assembly, Part part) {
    for (std::size_t i = 0; i < assembly.bodies.size(); ++i) {
        if (assembly.bodies[i].part == part) {
            return i;
        }
    }
    return std::nullopt;
}

Interval extent_along(const Box& box, const Vec3& along) {
    Interval extent{1e300, -1e300};
    for (int corner = 0; corner < 8; ++corner) {
        const Vec3 p{(corner & 1) != 0 ? box.high_mm.x : box.low_mm.x, (corner & 2) != 0 ? box.high_mm.y : box.low_mm.y,
                     (corner & 4) != 0 ? box.high_mm.z : box.low_mm.z};
        extent.low = std::min(extent.low, glm::dot(p, along));
        extent.high = std::max(extent.high, glm::dot(p, along));
    }
    return extent;
}

/// What lies wholly at or below the platen's face (or above the head's) does not bar what slides on it: a sleeve that is
/// let in flush, a jack's head.
std::vector<std::size_t> beyond_face(const Assembly& assembly, double face_z_mm, bool below) {
    constexpr double kFlush_mm = 0.05; // drawn and machined flush
    std::vector<std::size_t> bodies;
    for (std::size_t i = 0; i < assembly.bodies.size(); ++i) {
        const Box box =
            bounds_of(*drawn_mesh(assembly, assembly.bodies[i], {0}), drawn_pose(assembly, assembly.bodies[i], {0}));
        if (below ? box.high_mm.z <= face_z_mm + kFlush_mm : box.low_mm.z >= face_z_mm - kFlush_mm) {
            bodies.push_back(i);
        }
    }
    return bodies;
}

} // namespace

const char* name_of(PressSide side) {
    constexpr const char* names[] = {"front", "back", "left", "right"};
    return names[static_cast<std::size_t>(side)];
}

SharedMesh flat_stack_mesh(const Setup& setup, const Assembly& assembly) {
    const Opening& opening = setup.openings.front();
    const PlyStack& stack = opening.mold->stack;
    const std::optional<std::size_t> lower = body_of(assembly, Part::mold_lower);
    const DeckPlan deck = deck_plan(setup, opening);
    if (stack.plies.empty() || !lower || !(deck.size_mm.x > 0 && deck.size_mm.y > 0)) {
        return nullptr;
    }
    const Body& half = assembly.bodies[*lower];
    const double top = bounds_of(*half.mesh, half.placement).high_mm.z;
    const TriangleMesh flat = box_shape({-0.5 * deck.size_mm.x, -0.5 * deck.size_mm.y, 0},
                                        {0.5 * deck.size_mm.x, 0.5 * deck.size_mm.y, stack.loose_thickness_mm()});
    const Mat3 turn = glm::mat3_cast(glm::angleAxis(opening.turn_rad, Vec3{0, 0, 1}));
    return std::make_shared<const TriangleMesh>(placed(flat, {turn, {deck.centre_mm, top}}));
}

LoadPath load_path(const Setup& setup, const Assembly& assembly, PressSide from) {
    const Mold& mold = *setup.openings.front().mold;
    LoadPath path;
    path.from = from;
    path.along = direction_from(from);
    const std::string mold_name = mold.name.empty() ? "mold" : mold.name;
    const std::size_t lower = *body_of(assembly, Part::mold_lower);
    const std::size_t upper = *body_of(assembly, Part::mold_upper);
    const std::size_t platen = *body_of(assembly, Part::platen);
    const std::size_t head = *body_of(assembly, Part::head);
    const double head_z = setup.press->head_underside_z_mm;
    std::vector<std::size_t> under_head = beyond_face(assembly, head_z, false);
    under_head.push_back(head);
    std::vector<std::size_t> on_platen = beyond_face(assembly, head_z - assembly.daylight_mm, true);
    on_platen.push_back(platen);
    const Body& lower_half = assembly.bodies[lower];
    const Body& upper_half = assembly.bodies[upper];

    // On the platen as it lies when open; the stack and the upper half on it lie as the platen does.
    const Ride& ride = assembly.rides[lower_half.ride];
    const Pose lying = pose_at(ride, Pose{}, {0});
    const LoadPiece lower_piece{lower_half.name, lower_half.mesh, lying * lower_half.placement, on_platen};
    std::vector<LoadPiece> stack;
    if (SharedMesh mesh = flat_stack_mesh(setup, assembly)) {
        stack.push_back({"ply stack", std::move(mesh), lying, {}});
    }
    if (mold.loading == Loading::sandwich) {
        const double top = bounds_of(*lower_half.mesh, lower_half.placement).high_mm.z;
        const double hangs_at = bounds_of(*upper_half.mesh, upper_half.placement).low_mm.z;
        Pose on_stack = upper_half.placement;
        on_stack.translation_mm.z += top + mold.stack.loose_thickness_mm() - hangs_at;
        LoadStep step{stack.empty() ? mold_name : mold_name + " with its flat stack", {lower_piece}, {}};
        step.pieces.insert(step.pieces.end(), stack.begin(), stack.end());
        step.pieces.push_back({upper_half.name, upper_half.mesh, lying * on_stack, {}});
        path.steps.push_back(std::move(step));
    } else {
        path.steps.push_back(
            {upper_half.name, {{upper_half.name, upper_half.mesh, upper_half.placement, under_head}}, {}});
        path.steps.push_back({lower_half.name, {lower_piece}, {upper}});
        if (!stack.empty()) {
            stack.front().slides_on = {lower};
            path.steps.push_back({"ply stack", std::move(stack), {lower, upper}});
        }
    }

    double first = 1e300; // of the press, seen along the way in
    for (const Body& body : assembly.bodies) {
        if (body.drawn && body.part != Part::mold_lower && body.part != Part::mold_upper && body.part != Part::floor) {
            const Box box = bounds_of(*drawn_mesh(assembly, body, {0}), drawn_pose(assembly, body, {0}));
            first = std::min(first, extent_along(box, path.along).low);
        }
    }
    for (const LoadStep& step : path.steps) {
        for (const LoadPiece& piece : step.pieces) {
            const Box box = bounds_of(*piece.mesh, piece.seated);
            path.distance_mm = std::max(path.distance_mm, extent_along(box, path.along).high - first + kOutside_mm);
        }
    }
    return path;
}

} // namespace evenclose
