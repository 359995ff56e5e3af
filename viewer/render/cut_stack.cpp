#include "viewer/render/cut_stack.hpp"

#include "checks/deck.hpp"
#include "viewer/render/deck_grid.hpp"

#include <algorithm>
#include <cstddef>

namespace evenclose {
namespace {

// A few millimetres of facet are smooth enough to look at; a deck of 1000 x 300 has some 20 000 points then.
constexpr double kPoints = 2.0e4;
// Light and dark wood, apart in lightness as along and across the grain look on a cut edge.
constexpr Colour kAlong{0.90F, 0.76F, 0.53F, 1}, kAcross{0.52F, 0.33F, 0.19F, 1};

TriangleMesh solid_between(const DeckGrid& places, double from_mm, double to_mm) {
    TriangleMesh mesh;
    const auto behind = static_cast<std::uint32_t>(places.places.size());
    for (const double off : {to_mm, from_mm}) {
        for (const DeckPlace& place : places.places) {
            mesh.vertices_mm.push_back(place.at_mm + off * place.normal);
        }
    }
    const auto corner = [&](int column, int row) { return static_cast<std::uint32_t>(places.index(column, row)); };
    const auto wall = [&](std::uint32_t a, std::uint32_t b) { // outward to the right of a to b, seen from above
        mesh.triangles.push_back({a, behind + a, b});
        mesh.triangles.push_back({b, behind + a, behind + b});
    };
    for (int row = 0; row + 1 < places.rows; ++row) {
        for (int column = 0; column + 1 < places.columns; ++column) {
            if (!places.square(column, row)) {
                continue;
            }
            const std::uint32_t a = corner(column, row);
            const std::uint32_t b = corner(column + 1, row);
            const std::uint32_t c = corner(column + 1, row + 1);
            const std::uint32_t d = corner(column, row + 1);
            mesh.triangles.push_back({a, b, c});
            mesh.triangles.push_back({a, c, d});
            mesh.triangles.push_back({behind + a, behind + c, behind + b});
            mesh.triangles.push_back({behind + a, behind + d, behind + c});
            if (!places.square(column, row - 1)) {
                wall(a, b);
            }
            if (!places.square(column + 1, row)) {
                wall(b, c);
            }
            if (!places.square(column, row + 1)) {
                wall(c, d);
            }
            if (!places.square(column - 1, row)) {
                wall(d, a);
            }
        }
    }
    return mesh;
}

} // namespace

std::vector<DrawnPly> ply_solids(const CavityMeasure& measure, const PlyStack& stack) {
    const DeckGrid places = deck_grid_of(*measure.faces, kPoints);
    const double pressed = stack.pressed_thickness_mm() / stack.loose_thickness_mm();
    std::vector<DrawnPly> plies;
    double height = 0;
    for (int deck = 0; deck < stack.decks; ++deck) {
        for (std::size_t i = 0; i < stack.plies.size(); ++i) {
            const Ply& ply = stack.plies[i];
            const double top = height + ply.thickness_mm;
            plies.push_back(
                {std::make_shared<const TriangleMesh>(solid_between(places, pressed * height, pressed * top)),
                 ply.grain});
            height = top + (i + 1 < stack.plies.size() ? stack.glue_line_mm : 0.0); // decks are not glued to each other
        }
    }
    return plies;
}

void lay_cut(Frame& frame, const Setup& setup, const Assembly& assembly, const std::vector<DrawnPly>& plies) {
    const auto lower = std::find_if(frame.bodies.begin(), frame.bodies.end(), [&](const DrawnBody& body) {
        return body.body < assembly.bodies.size() && assembly.bodies[body.body].part == Part::mold_lower;
    });
    if (lower == frame.bodies.end()) {
        return;
    }
    const Pose pose = lower->pose;
    for (const DrawnPly& ply : plies) {
        frame.bodies.push_back({ply.mesh, pose, ply.grain == Grain::along ? kAlong : kAcross, Emphasis::plain,
                                static_cast<std::uint32_t>(assembly.bodies.size())});
    }
    const Vec2 middle = deck_plan(setup, setup.openings.front()).centre_mm;
    frame.section = SectionPlane{{middle.x, middle.y, 0}, {0, -1, 0}};
}

} // namespace evenclose
