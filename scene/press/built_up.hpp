// scene/press/built_up.hpp: a member's section as the parts it is built up of; a plain one is a single part.
#pragma once

#include "scene/press/press.hpp"

#include <string>
#include <vector>

namespace evenclose {

/// Width (along u) and depth (along v) of the section's box; 0, 0 for a mesh.
[[nodiscard]] Vec2 size_of(const Section& section);

/// The parts of a built-up section; of a plain one itself, in the middle; of a mesh none.
[[nodiscard]] std::vector<BuiltUpPart> parts_of(const Section& section);

/// Parts that touch in a row along u, from -u on, each in the middle of the depth; or, stacked, one on the other along v
/// from below, each in the middle of the width. Sets their places.
[[nodiscard]] BuiltUpSection side_by_side(std::vector<BuiltUpPart> parts);
[[nodiscard]] BuiltUpSection stacked(std::vector<BuiltUpPart> parts);

/// The material's word of a part: its own, or its member's.
[[nodiscard]] const std::string& material_of(const BuiltUpPart& part, const Member& member);

/// "60 x 120 x 5 tube", "82 x 140 of 3 parts": in mm; "part" for a mesh.
[[nodiscard]] std::string words_of(const Section& section);

} // namespace evenclose
