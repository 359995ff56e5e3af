// viewer/render/map_spot.hpp: a place of a map that is worth looking at closely, with its number: the worst one, or the one
// that a finding is about.
#pragma once

#include "viewer/render/face_map.hpp"

#include <optional>
#include <string>

namespace evenclose {

struct MapSpot {
    Vec3 at_mm{0.0}; // on the lower half's forming face, lower half's frame
    double value = 0;
    std::string words; // "worst: +1.8 mm, too wide"; of a place that was asked for "R 78 mm, hollow"
};

/// With `near_mm` (lower half's frame) what was measured nearest to it in plan, else where the value is farthest from
/// none: the gap from the stack, the face from flat. Nothing where face_map gives nothing.   Threads: pure, any.
[[nodiscard]] std::optional<MapSpot> map_spot(MapKind kind, const CheckResults& results, UnitSystem units,
                                              const std::optional<Vec3>& near_mm = {}, std::size_t opening = 0);

/// Looks down on a place so that about `wide_mm` of the face fill a square picture, whatever stands round it.
[[nodiscard]] Camera camera_for_spot(const Vec3& at_mm, double wide_mm);

} // namespace evenclose
