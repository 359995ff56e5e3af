// viewer/ui/head_tags.hpp: how high each jack's head stands, written at the foot of a dimension line from the floor: a tilt in
// numbers.
#pragma once

#include "viewer/ui/panel.hpp"

namespace evenclose {

/// True heights above the floor under the slope that is shown, however much the picture magnifies it; less the highest,
/// where they differ. `picture`: where the press is drawn.   Needs: an assembly.
void head_tags(const Desk& desk, const Rect& picture);

} // namespace evenclose
