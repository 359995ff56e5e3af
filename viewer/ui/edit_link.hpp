// viewer/ui/edit_link.hpp: the line at the foot of a bench card that leads to the numbers of its document.
#pragma once

#include "viewer/ui/panel.hpp"

#include <string_view>

namespace evenclose {

/// Draws it if there is a document behind the card ("bench.press", "bench.mold", "bench.stack"); returns the height taken.
[[nodiscard]] float edit_link(const Desk& desk, const Pen& pen, std::string_view card, float x, float y, float width);

} // namespace evenclose
