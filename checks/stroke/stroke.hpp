// checks/stroke/stroke.hpp: `stroke`: does the press close on the stack before any jack ends, and with what reserve?
#pragma once

#include "checks/finding.hpp"
#include "scene/motion/assembly.hpp"

#include <cstddef>
#include <string>

namespace evenclose {

struct StrokeMeasure {
    std::size_t openings = 1;
    double daylight_mm = 0, shut_height_mm = 0; // of several openings: of the press, and of all that is closed in it
    Travel closed;            // travel that closing takes; below 0: the platen would have to park lower
    Travel end_of_stroke;     // where the first jack ends, its rate at the slow end of its tolerance
    std::string first_to_end; // that jack's name
    double reserve_mm = 0;    // end of stroke less closed
    double daylight_room_mm =
        0; // in the tightest opening: what a packer may take from the daylight before the loose sandwich is stuck
};

/// Needs: a set-up with everything loaded, and its assembly.
[[nodiscard]] StrokeMeasure measure_stroke(const Setup& setup, const Assembly& assembly);

/// go: reserve >= the limit; marginal: it closes with less; no-go: a jack ends before the cavity is closed, or the
/// platen cannot park low enough for the mold to be closed at all.
[[nodiscard]] Finding judge(const StrokeMeasure& measure, const Setup& setup);

} // namespace evenclose
