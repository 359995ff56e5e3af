// viewer/ui/fonts.hpp: the type of the window, made at the very size it is drawn with, so that it is crisp at any scale.
//
// Open Sans where the distribution's package has put it, else DejaVu Sans, else the font that Dear ImGui carries. A file that
// is no font is passed by.
#pragma once

#include <imgui.h>

#include <string>

namespace evenclose {

enum class Face { text, small, strong, title, number };

struct Fonts {
    ImFont* text = nullptr;
    ImFont* small = nullptr;
    ImFont* strong = nullptr;
    ImFont* title = nullptr;
    ImFont* number = nullptr;

    [[nodiscard]] ImFont* of(Face face) const;
};

/// Throws away the fonts of before. Needs: a Dear ImGui context, no frame begun.
[[nodiscard]] Fonts make_fonts(float scale, const std::string& folder = "/usr/share/fonts/truetype");

} // namespace evenclose
