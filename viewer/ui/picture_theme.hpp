// viewer/ui/picture_theme.hpp: the picture's colours in the window, by light and by dark.
#pragma once

#include "viewer/app/theme.hpp"
#include "viewer/render/palette.hpp"

namespace evenclose {

/// The renderer's own, its ground that of the board, so that the picture is no hole in the window.
[[nodiscard]] const Palette& palette_for(Theme theme);
/// Lines that were drawn for a light ground from `first` on are made readable on this one's.
void theme_lines(Frame& frame, std::size_t first, Theme theme);

} // namespace evenclose
