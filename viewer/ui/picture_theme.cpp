#include "viewer/ui/picture_theme.hpp"

namespace evenclose {

const Palette& palette_for(Theme theme) {
    static const Palette light = [] {
        Palette palette = light_palette();
        palette.surroundings.above = {0.976F, 0.961F, 0.918F};
        palette.surroundings.below = {0.906F, 0.880F, 0.812F};
        return palette;
    }();
    static const Palette dark = [] {
        Palette palette = dark_palette();
        palette.surroundings.above = {0.125F, 0.153F, 0.176F};
        palette.surroundings.below = {0.078F, 0.098F, 0.114F};
        return palette;
    }();
    return theme == Theme::dark ? dark : light;
}

void theme_lines(Frame& frame, std::size_t first, Theme theme) {
    constexpr double kDark = 50; // CIE L*: half way
    for (std::size_t i = first; theme == Theme::dark && i < frame.lines.size(); ++i) {
        Colour& colour = frame.lines[i].colour;
        if (lightness(colour) < kDark) {
            constexpr float kShare = 0.62F; // towards white; the hue stays
            colour = {colour.red + kShare * (1 - colour.red), colour.green + kShare * (1 - colour.green),
                      colour.blue + kShare * (1 - colour.blue), colour.alpha};
        }
    }
}

} // namespace evenclose
