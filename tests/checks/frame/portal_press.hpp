// tests/checks/frame/portal_press.hpp: a small press whose frame is a closed ring, so that its bending is known by formula.
//
// Steel tubes: a base beam and a head beam 1000 long, two posts between their ends; the head plate is small and thick under
// the head beam's middle, the jacks stand close to the base beam's middle. Lengths count from axis to axis.
#pragma once

#include "scene/mesh/shapes.hpp"
#include "scene/motion/assembly.hpp"
#include "scene/setup/setup.hpp"

#include <memory>

namespace evenclose::test {

struct PortalPress {
    static constexpr double kSpan_mm = 1000, kRise_mm = 900, kBase_z_mm = 60;
    TubeSection beam{80, 120, 6, 0}, post{80, 80, 4, 0};
    Press press;
    Mold mold;
    Setup setup;

    PortalPress() {
        const double x = 0.5 * kSpan_mm;
        const double top = kBase_z_mm + kRise_mm;
        press.name = "portal";
        press.members = {{"base beam", {-x, 0, kBase_z_mm}, {x, 0, kBase_z_mm}, beam, 0, "S235"},
                         {"head beam", {-x, 0, top}, {x, 0, top}, beam, 0, "S235"},
                         {"left post", {-x, 0, kBase_z_mm}, {-x, 0, top}, post, 0, "S235"},
                         {"right post", {x, 0, kBase_z_mm}, {x, 0, top}, post, 0, "S235"}};
        const double underside = top - 0.5 * beam.depth_mm - 60;
        press.head = {{0, 0}, {100, 100}, 60, "S235", {}, {}, nullptr};
        press.head_underside_z_mm = underside;
        press.platen = {{0, 0}, {100, 100}, 60, "S235", {}, {}, nullptr};
        for (const double at : {-10.0, 10.0}) {
            Jack jack;
            jack.name = at < 0 ? "left jack" : "right jack";
            jack.foot_mm = {at, 0, kBase_z_mm + 0.5 * beam.depth_mm};
            jack.closed_height_mm = 300;
            jack.stroke_mm = underside - 60 - 110 - 300 - jack.foot_mm.z;
            jack.rated_load_N = 50000;
            jack.kind = ScrewJack{{4}, 16, 8, 12, 10};
            press.jacks.push_back(jack);
        }
        mold.name = "pad";
        mold.stack.plies = {{10, "birch", Grain::along}};
        half(mold.lower, 0, 50);
        half(mold.upper, 60, 110);
        mold.shut_height_mm = 110;
        mold.deck_size_mm = Vec2{80, 80};
        setup.name = "portal";
    }

    static void half(MoldHalf& half, double from_z_mm, double to_z_mm) {
        half.shape = BlockHalf{{80, 80, to_z_mm - from_z_mm}, {}};
        half.mesh = std::make_shared<TriangleMesh>(box_shape({-40, -40, from_z_mm}, {40, 40, to_z_mm}));
    }

    const Setup& made() {
        setup.press = std::make_shared<Press>(press);
        Opening opening = setup.openings.empty() ? Opening{} : setup.openings.front();
        opening.mold = std::make_shared<Mold>(mold);
        setup.openings = {opening};
        return setup;
    }
};

} // namespace evenclose::test
