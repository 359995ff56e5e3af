// checks/level/level_curves.hpp: the platen's slope over the travel as data, side by side: each drive by itself, with the
// link shafts, and as measured. So a shop sees what a shaft buys.
#pragma once

#include "scene/motion/assembly.hpp"

#include <string>
#include <vector>

namespace evenclose {

struct LevelPoint {
    Travel at;
    Slope nominal;    // drives as told, no lag
    SlopeRange range; // all that may be, with what the guides let the platen rock across a line of jacks
    // How much higher the deck's far end (along its length axis) lies than its near end: the same three, mm.
    double nominal_over_deck_mm = 0, low_over_deck_mm = 0, high_over_deck_mm = 0;
};

struct LevelCurve {
    LevelSource source = LevelSource::unlinked;
    bool counts = false;            // the one that the platen's ride, and so every check, is made from
    std::vector<LevelPoint> points; // from 0 to where the stroke is swept to, in order
};

/// Unlinked always; linked if there are shafts whose twist can be told; measured if heights are.
/// Needs: a set-up with everything loaded, and its assembly.   Threads: pure, any.
[[nodiscard]] std::vector<LevelCurve> level_curves(const Setup& setup, const Assembly& assembly);

} // namespace evenclose
