// viewer/ui/look.hpp: colours and type of the window: a setting-out board, paper and ink, one accent.
//
// Verdicts are told by word and by shape first, colour comes third: ink for go, a bright amber for marginal, vermilion
// for no-go. Amber and vermilion differ in lightness too, so that they stay apart for colour-blind eyes.
#pragma once

#include "checks/finding.hpp"

#include <imgui.h>

namespace evenclose {

/// 0xRRGGBB as Dear ImGui packs it.
constexpr ImU32 rgb(unsigned hex, unsigned alpha = 255) {
    return (alpha << 24U) | ((hex & 0xFFU) << 16U) | (hex & 0xFF00U) | ((hex >> 16U) & 0xFFU);
}

namespace colour {
inline constexpr ImU32 paper = rgb(0xF6F1E4);    // behind the picture's tools
inline constexpr ImU32 board = rgb(0xECE5D4);    // panels
inline constexpr ImU32 card = rgb(0xFBF8F0);     // cards and rows
inline constexpr ImU32 pencil = rgb(0xC6BBA3);   // thin lines
inline constexpr ImU32 graphite = rgb(0x5F5A4C); // quieter words
inline constexpr ImU32 ink = rgb(0x22303A);
inline constexpr ImU32 accent = rgb(0x1B5C99); // the chalk line: what is chosen, what can be moved
inline constexpr ImU32 accent_pale = rgb(0xD6E2EC);
inline constexpr ImU32 rod = rgb(0xE6CFA2); // the setting-out rod of the rail
inline constexpr ImU32 rod_edge = rgb(0xB99A5F);
inline constexpr ImU32 slate = rgb(0x222D34);
inline constexpr ImU32 slate_clear = rgb(0x3A4B55);
inline constexpr ImU32 chalk = rgb(0xEFEBDD);
inline constexpr ImU32 tight = rgb(0xF5B731);
inline constexpr ImU32 tight_word = rgb(0x7E5200);
inline constexpr ImU32 foul = rgb(0xDE4A1B);
inline constexpr ImU32 foul_word = rgb(0xA52E0C);
} // namespace colour

[[nodiscard]] ImU32 word_colour(Verdict verdict); // readable as text on paper
[[nodiscard]] ImU32 mark_colour(Verdict verdict);
/// Between two colours, `share` 0 to 1.
[[nodiscard]] ImU32 mixed(ImU32 from, ImU32 to, float share);

/// Style of what Dear ImGui draws by itself: scroll bars, tooltips, text fields.
void set_style(float scale);

} // namespace evenclose
