// scene/outline/svg.hpp: the lines of an SVG drawing.
//
// Read are path, rect (rounded too), circle, ellipse, line, polyline and polygon with their transforms, in groups; not
// what is hidden or only defined (defs, symbol, clipPath ...). Text, images and clones (use) are counted.
//
// SVG's Y runs down the page. Here it runs up: the drawing is mirrored so that the page's lower left corner is the
// origin, as a person sees it on the screen. Places are in user units of the page's "viewBox".
#pragma once

#include "scene/outline/drawing.hpp"

#include <string_view>

namespace evenclose {

[[nodiscard]] bool looks_like_svg(std::string_view text);

/// What one user unit is. SVG 2, section 8: the page is "width" wide, in which the viewBox is fitted; CSS: a px is 1/96
/// inch.
struct SvgUnit {
    double mm = 25.4 / 96;
    std::string name;    // "the page is 210mm wide", "1/96 in"
    bool stated = false; // the page's width is in mm, cm, in, pt or pc; else it is in px, or not said
};
[[nodiscard]] SvgUnit unit_of_svg(std::string_view text);

/// Faults: no XML, no SVG, compressed; a mistake in a path, length or transform, with its line; more than kMostPlaces
/// corners; groups nested too deep.
[[nodiscard]] DrawingResult read_svg(std::string_view text, Flattening flat);

} // namespace evenclose
