// viewer/ui/body_menu.hpp: the menu at a body: hide it, see through it, leave it alone in the picture, cut it here.
#pragma once

#include "viewer/ui/panel.hpp"

namespace evenclose {

/// Draws it where the state says, within `picture`, over everything that was drawn before.
void body_menu(const Desk& desk, const Rect& picture);

} // namespace evenclose
