// viewer/ui/rail_level.hpp: the tilt over travel, pencilled on the setting-out rod: leaning out to the right where the
// deck's right end stands higher.
//
// A filled band: all that the deck's ends may differ by; a line within it: as the jacks are told; dashed: each drive by
// itself, without the link shafts; thin uprights: what the limit allows.
#pragma once

#include "viewer/app/rail_scale.hpp"
#include "viewer/ui/panel.hpp"

#include <string>

namespace evenclose {

/// Within `rect`, as wide as the curve may lean.
void draw_level(const Desk& desk, const Pen& pen, const RailScale& scale, const Rect& rect);

/// What the curve says at a travel, in a few lines; empty without a curve.
[[nodiscard]] std::string level_words(const App& app, Travel at);

} // namespace evenclose
