// tests/viewer/render/shop_press.hpp: a plausible little press to look at: timber posts and braces, steel cross bars, two
// jacks, two guides, and a mold with a curved deck between its halves. Our own invention.
#pragma once

#include "scene/mesh/shapes.hpp"
#include "scene/motion/assembly.hpp"
#include "scene/setup/setup.hpp"

#include <cmath>
#include <memory>
#include <string>

namespace evenclose::test {

/// A block 880 x 240 whose upper (or lower) face follows a deck: kicked nose and tail, a slight crown. `across` and
/// `along` say how finely the face is cut. Faces up when `lower`.
inline TriangleMesh deck_half(bool lower, std::uint32_t along, std::uint32_t across) {
    const double length = 880;
    const double width = 240;
    const auto deck = [&](double x, double y) {
        const double end = std::max(0.0, std::abs(x) - 230.0);
        const double kick = end < 60 ? end * end / 340.0 : 60.0 * 60.0 / 340.0 + (end - 60) * 120.0 / 340.0;
        return 70.0 + kick + 9.0 * (y / 120.0) * (y / 120.0) * std::exp(-end / 60.0) + (lower ? 0.0 : 10.0);
    };
    const double seat = lower ? 0.0 : 240.0;
    TriangleMesh mesh;
    const auto index = [&](std::uint32_t i, std::uint32_t k, bool face) {
        return 2 * (i * (across + 1) + k) + (face ? 1U : 0U);
    };
    for (std::uint32_t i = 0; i <= along; ++i) {
        for (std::uint32_t k = 0; k <= across; ++k) {
            const double x = length * (static_cast<double>(i) / along - 0.5);
            const double y = width * (static_cast<double>(k) / across - 0.5);
            mesh.vertices_mm.emplace_back(x, y, seat);
            mesh.vertices_mm.emplace_back(x, y, deck(x, y));
        }
    }
    const auto quad = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t d, bool turned) {
        mesh.triangles.push_back(turned ? TriangleCorners{a, c, b} : TriangleCorners{a, b, c});
        mesh.triangles.push_back(turned ? TriangleCorners{a, d, c} : TriangleCorners{a, c, d});
    };
    for (std::uint32_t i = 0; i < along; ++i) {
        for (std::uint32_t k = 0; k < across; ++k) {
            for (const bool face : {false, true}) {
                quad(index(i, k, face), index(i + 1, k, face), index(i + 1, k + 1, face), index(i, k + 1, face),
                     face != lower);
            }
        }
    }
    for (std::uint32_t i = 0; i < along; ++i) {
        quad(index(i, 0, false), index(i + 1, 0, false), index(i + 1, 0, true), index(i, 0, true), !lower);
        quad(index(i, across, false), index(i + 1, across, false), index(i + 1, across, true), index(i, across, true),
             lower);
    }
    for (std::uint32_t k = 0; k < across; ++k) {
        quad(index(0, k, false), index(0, k + 1, false), index(0, k + 1, true), index(0, k, true), lower);
        quad(index(along, k, false), index(along, k + 1, false), index(along, k + 1, true), index(along, k, true),
             !lower);
    }
    return mesh;
}

inline Setup shop_setup(std::uint32_t along = 110, std::uint32_t across = 30) {
    Press press;
    press.name = "shop press";
    for (const double x : {-560.0, 560.0}) {
        for (const double y : {-210.0, 210.0}) {
            const std::string name = std::string(y < 0 ? "front " : "back ") + (x < 0 ? "left" : "right");
            press.members.push_back({name + " post", {x, y, 0}, {x, y, 1290}, TimberSection{95, 95}, 0, "pine"});
        }
        const std::string side = x < 0 ? "left" : "right";
        press.members.push_back({side + " sill", {x, -330, 45}, {x, -258, 45}, TimberSection{95, 90}, 0, "pine"});
        press.members.push_back({side + " brace", {x, -162, 260}, {x, 162, 760}, TubeSection{40, 40, 3, 6}, 0, "S235"});
        press.members.push_back(
            {side + " angle", {x, -330, 1180}, {x, 330, 1180}, AngleSection{80, 80, 8, 10, 5}, 0, "S235"});
    }
    for (const double y : {-150.0, 150.0}) {
        const std::string side = y < 0 ? "front" : "back";
        press.members.push_back({side + " base", {-700, y, 60}, {700, y, 60}, TimberSection{70, 120}, 0, "pine"});
        press.members.push_back(
            {side + " head beam", {-660, y, 1080}, {660, y, 1080}, TubeSection{80, 120, 5, 10}, 0, "S235"});
    }
    press.members.push_back({"left jack board", {-470, 0, 130}, {-330, 0, 130}, TimberSection{340, 20}, 0, "beech"});
    press.members.push_back({"right jack board", {330, 0, 130}, {470, 0, 130}, TimberSection{340, 20}, 0, "beech"});
    press.head = {{0, 0}, {1000, 300}, 45, "beech plywood", {}, {}, nullptr};
    press.head_underside_z_mm = 975;
    press.platen = {{0, 0}, {1000, 300}, 40, "steel", {}, {}, nullptr};
    for (const double x : {-400.0, 400.0}) {
        Jack jack;
        jack.name = x < 0 ? "left jack" : "right jack";
        jack.foot_mm = {x, 0, 140};
        jack.closed_height_mm = 330;
        jack.parked_mm = 20;
        jack.stroke_mm = 260;
        jack.rate = x < 0 ? 1.0 : 0.99;
        jack.rate_tolerance = 0.01;
        jack.rated_load_N = 20000;
        jack.kind = ScrewJack{{.lead_mm = 4}, 110, 40, 80, 14};
        press.jacks.push_back(jack);
        press.guides.push_back(
            {x < 0 ? "left guide" : "right guide", {1.15 * x, 110}, 30, 30.6, 60, 120, 40, 120, 1080});
    }
    Mold mold;
    mold.name = "Dune deck";
    mold.stack.plies.assign(7, {1.5, "maple", Grain::along});
    mold.lower.shape = MeshHalf{};
    mold.upper.shape = MeshHalf{};
    mold.lower.mesh = std::make_shared<TriangleMesh>(deck_half(true, along, across));
    mold.upper.mesh = std::make_shared<TriangleMesh>(deck_half(false, along, across));
    mold.shut_height_mm = 240;
    Setup setup;
    setup.name = "shop";
    setup.press = std::make_shared<Press>(press);
    Opening opening;
    opening.mold = std::make_shared<Mold>(mold);
    setup.openings = {opening};
    return setup;
}

} // namespace evenclose::test
