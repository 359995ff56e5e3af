// tests/checks/stack/stacked_blocks.hpp: uniform blocks over one another, so that every answer is known by head.
//
// As block_setup.hpp, but with molds that shut at 90 (halves of 40, one ply of 10), platens of 25 between them and gaps of
// 40 to close.
#pragma once

#include "tests/checks/block_setup.hpp"

#include <cstddef>
#include <vector>

namespace evenclose::test {

struct StackedBlocks : BlockSetup {
    explicit StackedBlocks(std::size_t openings, double gap_mm = 40) {
        half(mold.lower, {-350, -100, 0}, {350, 100, 40});
        half(mold.upper, {-350, -100, 50}, {350, 100, 90});
        mold.shut_height_mm = 90;
        mold.deck_size_mm = Vec2{700, 200};
        const auto n = static_cast<double>(openings);
        press.head_underside_z_mm = 340 + n * (90 + gap_mm) + (n - 1) * 25;
        for (Jack& jack : press.jacks) {
            jack.stroke_mm = n * gap_mm + 30;
            jack.rated_load_N = 40000;
        }
        made();
        setup.openings.assign(openings, setup.openings.front());
        IntermediatePlaten platen;
        platen.plate = {{0, 0}, {1000, 300}, 25, "steel", {}, {}, nullptr};
        setup.intermediate_platens.assign(openings - 1, platen);
    }

    /// The press as it stands now.
    const Setup& made_anew() {
        setup.press = std::make_shared<Press>(press);
        return setup;
    }
};

} // namespace evenclose::test
