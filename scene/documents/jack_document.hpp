// scene/documents/jack_document.hpp: the jacks of a press document, of whichever kind.
//
// A screw jack's own keys stand in the jack itself; "scissor", "cylinder" or "hose" takes their place.
#pragma once

#include "scene/documents/object_cursor.hpp"
#include "scene/press/press.hpp"

#include <vector>

namespace evenclose {

// Rubber on dry wood does not reach it; a friction beyond is a mistyped one (common practice, no source).
inline constexpr NumberRange kFriction{1e-4, 1.0, "one above 0 and up to 1, such as 0.15"};

/// Gives: for each jack whether it is known of which kind it is; nothing is to follow from a fault there.
[[nodiscard]] std::vector<bool> read_jacks(ObjectCursor& document, Press& press);

} // namespace evenclose
