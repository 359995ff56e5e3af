// checks/level/shaft_that_would_do.hpp: a link shaft that would hold the platen level enough, found by trying.
//
// Bars and tubes that a steel merchant stocks, the lightest first, between each jack and the next along their line; a
// heavier one is tried until the lag at closed is within the limit. Then the play that the couplings may have is found
// by halving.
#pragma once

#include "scene/motion/assembly.hpp"

#include <string>

namespace evenclose {

struct ShaftFound {
    bool found = false;
    std::string section;       // "steel tube 25 x 2 mm"
    double over_deck_mm = 0;   // what the deck's ends may then differ by, couplings without play
    double most_play_rad = 0;  // of the couplings of one shaft together, with which the limit is just kept
    bool shafts_there = false; // the press has shafts: this takes their place
    bool screws = true;        // all jacks are turned by a screw, so that a shaft could couple them
};

/// Needs: a set-up with everything loaded, and its assembly. Nothing is found where a shaft cannot be told about: jacks
/// without a screw, threads of unknown friction.   Threads: pure, any.
[[nodiscard]] ShaftFound shaft_that_would_do(const Setup& setup, const Assembly& assembly, double limit_mm);

} // namespace evenclose
