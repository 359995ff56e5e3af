// scene/documents/text_splice.hpp: where a document's text is cut and joined, so that all else stays as it was typed.
//
// A thing that is added takes the same line as its neighbour, or a line of its own with the neighbour's indentation if that
// has one. A thing that is removed takes its comma along, and, where it had lines of its own, those lines with the
// comment behind it on the last of them; comments on lines above it stay.
#pragma once

#include "scene/documents/source_tree.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace evenclose {

/// One step of a place: "jacks[1].stroke" is "jacks", 1, "stroke".
struct PlaceStep {
    std::string_view key; // empty: `index` counts
    std::size_t index = 0;
};

/// None if `place` is written wrongly. The steps point into it.
[[nodiscard]] std::optional<std::vector<PlaceStep>> steps_of(std::string_view place);
/// The value `count` steps down; null if there is none.
[[nodiscard]] const SourceValue* walk(const SourceValue& root, const std::vector<PlaceStep>& steps, std::size_t count);

/// Needs, all three: `object`, `list`, `parent` were read from `text`; `json` is one value; the child is there.
[[nodiscard]] std::string with_added_key(std::string_view text, const SourceValue& object, std::string_view key,
                                         std::string_view json);
[[nodiscard]] std::string with_added_item(std::string_view text, const SourceValue& list, std::string_view json);
[[nodiscard]] std::string without_child(std::string_view text, const SourceValue& parent, std::size_t index);

} // namespace evenclose
