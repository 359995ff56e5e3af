// scene/outline/outermost_line.hpp: the one closed line of a drawing that has everything else inside.
//
// Lines that end where others begin are one line, in any order and direction, as CAD programs write an outline: ends
// meet within `meet`. A line drawn twice counts once. Open lines (middle lines, measures) beside a closed one are left out.
#pragma once

#include "scene/outline/drawing.hpp"

namespace evenclose {

struct OutermostLine {
    std::vector<Vec2> places; // counter-clockwise, the first not repeated
    std::size_t line = 0;     // of the file, where it begins
    std::size_t inside = 0;   // closed lines within it
    std::size_t open = 0;     // lines that enclose nothing
};

/// Faults: no line at all; none closed (says where the longest ends, and how far that is from where it begins, or where
/// more than two lines meet); closed lines beside each other; one that crosses itself. Needs: finite places.
[[nodiscard]] std::variant<OutermostLine, DrawingFault> outermost_line(const Drawing& drawing, double meet);

} // namespace evenclose
