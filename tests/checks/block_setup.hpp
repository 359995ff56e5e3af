// tests/checks/block_setup.hpp: a press of plain blocks with round numbers, so that every answer is known by head.
//
// Two jacks 800 apart stand on the floor, 300 high when down; platen 1000 x 300 x 40, so its face is at z 340 when open.
// The head's underside is at z 600: daylight 260. The mold: blocks 700 x 200, lower 80, upper 70 high, one ply of 10:
// shut height 160, so it closes after 100 of travel; the jacks can do 150.
#pragma once

#include "scene/mesh/shapes.hpp"
#include "scene/motion/assembly.hpp"
#include "scene/setup/setup.hpp"

#include <memory>
#include <string>

namespace evenclose::test {

struct BlockSetup {
    Press press;
    Mold mold;
    Setup setup;

    BlockSetup() {
        press.name = "block press";
        press.head = {{0, 0}, {1000, 300}, 50, "steel", {}, {}, nullptr};
        press.head_underside_z_mm = 600;
        press.platen = {{0, 0}, {1000, 300}, 40, "steel", {}, {}, nullptr};
        for (const double x : {-400.0, 400.0}) {
            Jack jack;
            jack.name = x < 0 ? "left jack" : "right jack";
            jack.foot_mm = {x, 0, 0};
            jack.closed_height_mm = 300;
            jack.stroke_mm = 150;
            jack.rated_load_N = 20000;
            jack.kind = ScrewJack{{.lead_mm = 4}, 80, 30, 60, 10};
            press.jacks.push_back(jack);
        }
        mold.name = "block mold";
        mold.stack.plies = {{10, "birch", Grain::along}};
        half(mold.lower, {-350, -100, 0}, {350, 100, 80});
        half(mold.upper, {-350, -100, 90}, {350, 100, 160});
        mold.shut_height_mm = 160;
        setup.name = "blocks";
        setup.limits = {};
    }

    static void half(MoldHalf& half, const Vec3& low_mm, const Vec3& high_mm) {
        half.shape = BlockHalf{high_mm - low_mm, {}};
        half.mesh = std::make_shared<TriangleMesh>(box_shape(low_mm, high_mm));
    }

    /// The set-up as it stands now; call again after a change.
    const Setup& made() {
        setup.press = std::make_shared<Press>(press);
        Opening opening = setup.openings.empty() ? Opening{} : setup.openings.front();
        opening.mold = std::make_shared<Mold>(mold);
        setup.openings = {opening};
        return setup;
    }
};

/// A round steel bolt from `a` to `b`.
inline Member bolt(const std::string& name, const Vec3& a_mm, const Vec3& b_mm, double diameter_mm) {
    return {name, a_mm, b_mm, PipeSection{diameter_mm, 0.5 * diameter_mm}, 0, "steel"};
}

} // namespace evenclose::test
