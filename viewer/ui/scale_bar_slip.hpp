// viewer/ui/scale_bar_slip.hpp: the scale bar as it is drawn in the picture's lower left corner.
#pragma once

#include "viewer/ui/panel.hpp"

#include <vector>

namespace evenclose {

/// Beside or above what is `taken` where the corner itself is. Not drawn where the camera cannot see, or without room.
void scale_bar_slip(const Desk& desk, const Rect& picture, const std::vector<Rect>& taken);

} // namespace evenclose
