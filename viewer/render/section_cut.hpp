// viewer/render/section_cut.hpp: a section square to an axis of the press: where, and which side is taken away.
#pragma once

#include "scene/units/units.hpp"
#include "viewer/render/frame.hpp"

#include <array>
#include <string_view>

namespace evenclose {

enum class Axis { x, y, z };
[[nodiscard]] const char* name_of(Axis axis); // "X", "Y", "Z"
[[nodiscard]] Vec3 along(Axis axis);
[[nodiscard]] double of(const Vec3& place_mm, Axis axis);

/// Taken away is what a person at the press's front right corner sees first: right of the plane (X), in front of it (Y),
/// above it (Z); flipped: the other side.
struct SectionCut {
    Axis axis = Axis::x;
    double at_mm = 0;
    bool flipped = false;
    friend bool operator==(const SectionCut&, const SectionCut&) = default;
};
[[nodiscard]] SectionPlane plane_of(const SectionCut& cut);
/// Whether the cut faces are turned towards the camera.
[[nodiscard]] bool seen_from(const SectionCut& cut, const Camera& camera);

/// The corners of a rectangle in the plane, in order round it, somewhat larger than the box. Needs: a box that is not empty.
[[nodiscard]] std::array<Vec3, 4> section_outline(const SectionCut& cut, const Box& reach_mm);

/// "x=120", "z = 31 1/2 in": an axis, an equals sign, a length. The reason says what is allowed.
[[nodiscard]] Read<SectionCut> read_section(std::string_view text);

} // namespace evenclose
