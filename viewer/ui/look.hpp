// viewer/ui/look.hpp: colours and type of the window: a setting-out board, paper and ink, one accent.
//
// Verdicts are told by word and by shape first, colour comes third: ink for go, a bright amber for marginal, vermilion
// for no-go. Amber and vermilion differ in lightness too, so that they stay apart for colour-blind eyes. Dark is the same
// shop by lamplight: the board is slate, the ink chalk. Words keep a contrast of 4.5 on every ground they stand on, as
// WCAG 2.1 (success criterion 1.4.3) asks; tests/viewer/ui/look_test.cpp holds all pairs to it.
#pragma once

#include "checks/finding.hpp"
#include "viewer/app/theme.hpp"

#include <imgui.h>

namespace evenclose {

/// The theme that the window is drawn in. One for the window, as Dear ImGui's style is; the window's thread alone asks.
[[nodiscard]] Theme theme_in_use();
void use_theme(Theme theme);

/// 0xRRGGBB as Dear ImGui packs it.
constexpr ImU32 rgb(unsigned hex, unsigned alpha = 255) {
    return (alpha << 24U) | ((hex & 0xFFU) << 16U) | (hex & 0xFF00U) | ((hex >> 16U) & 0xFFU);
}

/// One of the window's colours, by light and by dark.
struct ThemedColour {
    ImU32 light, dark;
    [[nodiscard]] ImU32 in(Theme theme) const { return theme == Theme::dark ? dark : light; }
    operator ImU32() const { return in(theme_in_use()); } // NOLINT(google-explicit-constructor): it is that colour
};

namespace colour {
inline constexpr ThemedColour paper{rgb(0xF6F1E4), rgb(0x1A2126)};    // behind the picture's tools
inline constexpr ThemedColour board{rgb(0xECE5D4), rgb(0x20292F)};    // panels
inline constexpr ThemedColour card{rgb(0xFBF8F0), rgb(0x2A343B)};     // cards and rows
inline constexpr ThemedColour pencil{rgb(0xC6BBA3), rgb(0x56636C)};   // thin lines
inline constexpr ThemedColour graphite{rgb(0x5F5A4C), rgb(0xB4B6AE)}; // quieter words
inline constexpr ThemedColour faint{rgb(0x676150), rgb(0xA0A6A3)};    // words for what is not there
inline constexpr ThemedColour ink{rgb(0x22303A), rgb(0xEFEADC)};
inline constexpr ThemedColour accent{rgb(0x1B5C99), rgb(0x8FC5F0)}; // the chalk line: what is chosen, what can be moved
inline constexpr ThemedColour accent_pale{rgb(0xD6E2EC), rgb(0x2E4659)};
inline constexpr ThemedColour on_accent{rgb(0xFFFFFF), rgb(0x0E1B26)}; // words on the accent, on ink, on foul_word
inline constexpr ThemedColour rod{rgb(0xE6CFA2), rgb(0x4F4228)};       // the setting-out rod of the rail
inline constexpr ThemedColour rod_edge{rgb(0xB99A5F), rgb(0xA78B57)};
inline constexpr ThemedColour slate{rgb(0x222D34), rgb(0x11171B)};
inline constexpr ThemedColour slate_clear{rgb(0x3A4B55), rgb(0x35444E)};
inline constexpr ThemedColour chalk{rgb(0xEFEBDD), rgb(0xEFEBDD)};
inline constexpr ThemedColour tight{rgb(0xF5B731), rgb(0xF5B731)};
inline constexpr ThemedColour tight_word{rgb(0x7E5200), rgb(0xF3C35A)};
inline constexpr ThemedColour foul{rgb(0xDE4A1B), rgb(0xEA5A2B)};
inline constexpr ThemedColour foul_word{rgb(0xA52E0C), rgb(0xFF9D7C)};
// See-through: laid over what is there.
inline constexpr ThemedColour hover{rgb(0x22303A, 18), rgb(0xEFEADC, 26)};
inline constexpr ThemedColour veil{rgb(0x22303A, 110), rgb(0x000000, 150)};
inline constexpr ThemedColour shadow{rgb(0x5F5A4C, 60), rgb(0x000000, 110)};
inline constexpr ThemedColour faint_line{rgb(0xC6BBA3, 150), rgb(0x56636C, 150)};
inline constexpr ThemedColour paper_over{rgb(0xF6F1E4, 235), rgb(0x1A2126, 235)}; // under words over the picture
inline constexpr ThemedColour card_over{rgb(0xFBF8F0, 240), rgb(0x2A343B, 240)};
inline constexpr ThemedColour halo{rgb(0xFBF8F0, 200), rgb(0x14191D, 200)}; // round lines over the picture
inline constexpr ThemedColour accent_wash{rgb(0x1B5C99, 80), rgb(0x8FC5F0, 80)};
inline constexpr ThemedColour accent_breath{rgb(0x1B5C99, 40), rgb(0x8FC5F0, 40)};
inline constexpr ThemedColour card_missing{rgb(0xFBF8F0, 110), rgb(0x2A343B, 110)};
} // namespace colour

[[nodiscard]] ImU32 word_colour(Verdict verdict); // readable as text on paper
[[nodiscard]] ImU32 mark_colour(Verdict verdict);
/// Between two colours, `share` 0 to 1.
[[nodiscard]] ImU32 mixed(ImU32 from, ImU32 to, float share);

/// Style of what Dear ImGui draws by itself: scroll bars, tooltips, text fields.
void set_style(float scale);

} // namespace evenclose
