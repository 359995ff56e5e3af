// scene/outline/drawing.hpp: the lines of a flat drawing, as a DXF or SVG file holds them. Plain data in the file's units.
//
// Arcs and curves are corners already, near enough to the curve (`Flattening`). What is no line (texts, measures,
// hatches, pictures) is only counted, for a message.
#pragma once

#include "scene/units/units.hpp"
#include "scene/vec.hpp"

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace evenclose {

struct PlanLine {
    std::vector<Vec2> places; // two or more
    bool closed = false;      // the last place leads back to the first, which is not repeated
    std::size_t line = 0;     // of the file, from 1: where it is written
};

struct Drawing {
    std::vector<PlanLine> lines;
    std::map<std::string, std::size_t> left_out; // "TEXT": 3
};

/// Why a file cannot be used, and what would do.
struct DrawingFault {
    std::string problem; // "line 12: \"oak\" is no number"
    std::string allowed;
};
using DrawingResult = std::variant<Drawing, DrawingFault>;

/// How near corners keep to a curve, in the file's units.
struct Flattening {
    double deviation = 0.01;
};

// A deck's outline has some hundreds; a file made to hurt, or of a whole town, must not fill the memory.
inline constexpr std::size_t kMostPlaces = 100'000;
// A coordinate beyond this is no deck in any unit, and squares of it still keep a thousandth in a double.
inline constexpr double kFarthest = 1e7;

} // namespace evenclose
