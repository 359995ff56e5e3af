// scene/outline/dxf.hpp: the lines of an ASCII DXF drawing.
//
// The format is published with its group codes ("DXF Reference", release 14 and after): pairs of lines, a number that
// says what follows and the value. Read are $INSUNITS of the head and, of the section ENTITIES, LINE, ARC, CIRCLE,
// ELLIPSE, LWPOLYLINE and POLYLINE with their arcs (bulge), and SPLINE with its weights, seen from above (Z is let go);
// what lies in paper space or is invisible is not. Everything else is counted, blocks (INSERT) too: they are not followed.
//
// Own reading, since no library of the distribution serves: dxflib is GPL, GDAL's reader brings all of GDAL with it,
// dime's stands still since 2011; and none of them names the line of a fault.
#pragma once

#include "scene/outline/drawing.hpp"

#include <string_view>

namespace evenclose {

/// True if the text begins as a DXF does (a comment, or a section), whatever follows.
[[nodiscard]] bool looks_like_dxf(std::string_view text);

struct DxfUnit {
    double mm = 1;
    std::string name; // "mm", "in"
};
/// What $INSUNITS says; nothing where it says "no unit", is missing, or names one that no shop draws in (a light year).
[[nodiscard]] std::optional<DxfUnit> unit_of_dxf(std::string_view text);

/// Faults: binary; cut short (no EOF); what is no pair, no number, not finite or beyond kFarthest; an entity that is
/// tilted out of the plan; more than kMostPlaces corners; a spline without control points. With the line.
[[nodiscard]] DrawingResult read_dxf(std::string_view text, Flattening flat);

} // namespace evenclose
