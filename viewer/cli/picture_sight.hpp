// viewer/cli/picture_sight.hpp: what `picture` is told to cut open, hide and see through.
#pragma once

#include "scene/motion/assembly.hpp"
#include "viewer/cli/commands.hpp"
#include "viewer/render/body_sight.hpp"
#include "viewer/render/section_cut.hpp"

#include <optional>
#include <string>

namespace evenclose {

struct Sighted {
    BodySight sight;
    std::optional<SectionCut> section;
};
/// The reason names the option, and for a name that no body has the nearest one.
[[nodiscard]] Read<Sighted> sighted_of(const PictureCommand& command, const Assembly& assembly);

/// ", cut open across X at 120 mm", with a word where its faces are turned away from the camera.
[[nodiscard]] std::string section_words(const SectionCut& section, const Camera& camera);
/// ", 2 bodies hidden, 1 seen through"; empty when all are seen.
[[nodiscard]] std::string also_unseen(const BodySight& sight);

} // namespace evenclose
