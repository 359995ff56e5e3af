// viewer/ui/closely_slips.hpp: the row of what looks closely, and under it a slip of paper for each that is at work: where
// the section stands, what a measure comes to, which bodies are not seen, how far a film is.
#pragma once

#include "viewer/ui/panel.hpp"

#include <string>

namespace evenclose {

/// Beside `chips`, or below them, and on down; gives where the last one ends. Takes presses: call before what lies under them
/// does.
float closely_slips(const Desk& desk, const Rect& picture, const Rect& chips);

/// "Hidden: left post, head and 3 more. Still checked." Pure, tested without a screen. Empty: all are seen.
[[nodiscard]] std::string sight_words(const BodySight& sight);

} // namespace evenclose
