// viewer/render/face_map.hpp: what was measured over the deck, laid as colours on the lower half, with its scale.
#pragma once

#include "checks/check_list.hpp"
#include "scene/units/units.hpp"
#include "viewer/render/colour_scale.hpp"
#include "viewer/render/frame.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace evenclose {

enum class MapKind : std::uint8_t { none, cavity, bend, pressure };
/// "none", "cavity", "bend", "pressure"; none of them: nothing.
[[nodiscard]] std::optional<MapKind> map_named(const std::string& word);

struct FaceMap {
    SharedMesh surface; // a skin on the forming face, where something was measured; lower half's frame
    SharedTint tint;    // of the skin
    ColourScale scale;
    std::vector<std::pair<Vec3, Vec3>> joints; // of the print's pieces where they cross the face, lower half's frame
};

/// `cavity`: gap less stack, the tolerance the set-up's, ends at twice that, or at what was found, up to ten times.
/// `bend`: curvature of the face, the greater of the two principal ones, hollow above 0; the tolerance is the radius that
/// the stiffest ply is planned with; with the joints between the pieces that the lower half is printed in.
/// `pressure`: on the deck under bent platens, against the mean; the tolerance is half of the mean, as the `frame` check has
/// it; the low end is no pressure at all. Gives nothing if that check was not run or measured nothing.
/// Of several openings this one.
/// Threads: pure, any.
[[nodiscard]] std::optional<FaceMap> face_map(MapKind kind, const Setup& setup, const CheckResults& results,
                                              UnitSystem units, std::size_t opening = 0);

/// Draws the map on the lower half, takes away the upper half, the head, other openings and the frame, pales the rest.
/// With several openings `assembly` is that of a view (checks/opening_view.hpp).
void lay_map(Frame& frame, const Assembly& assembly, const FaceMap& map);

/// Looks down on the lower half at that travel; `cut`: at both halves from the front.
[[nodiscard]] Camera camera_for_map(const Assembly& assembly, Travel at, bool cut, double aspect);

} // namespace evenclose
