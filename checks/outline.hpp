// checks/outline.hpp: a deck's outline as seen along the stroke: is a place inside it, and how far from its edge?
#pragma once

#include "scene/vec.hpp"

#include <vector>

namespace evenclose {

/// Even-odd. Everything is inside no outline at all.
[[nodiscard]] bool inside_outline(const std::vector<Vec2>& outline_mm, const Vec2& place_mm);
/// Enclosed, whichever way round. Needs: an outline that does not cross itself.
[[nodiscard]] double outline_area_mm2(const std::vector<Vec2>& outline_mm);
/// Of the area enclosed. Needs: as above, and an area.
[[nodiscard]] Vec2 outline_centroid_mm(const std::vector<Vec2>& outline_mm);
/// From the nearest edge, whichever side; no outline is infinitely far away.
[[nodiscard]] double distance_to_outline_mm(const std::vector<Vec2>& outline_mm, const Vec2& place_mm);

} // namespace evenclose
