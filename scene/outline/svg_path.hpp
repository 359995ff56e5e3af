// scene/outline/svg_path.hpp: the path data of SVG ("d"): all commands, M L H V C S Q T A Z, of either case.
//
// SVG 2, chapter 9 (grammar 9.3.9; an arc's centre: appendix "Elliptical arc implementation notes", B.2.4 and B.2.5).
#pragma once

#include "scene/outline/drawing.hpp"
#include "scene/outline/plane_map.hpp"

#include <string_view>

namespace evenclose {

/// One line for each subpath of more than a point, mapped; `line` is left 0.
/// Faults: SvgMistake (svg_numbers.hpp), also for more than kMostPlaces corners.
[[nodiscard]] std::vector<PlanLine> read_svg_path(std::string_view data, const PlaneMap& map, Flattening flat);

} // namespace evenclose
