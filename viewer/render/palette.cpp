#include "viewer/render/palette.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <string>

namespace evenclose {
namespace {

/// Words in a material's name that tell metal. All else that a frame is made of is taken as timber only if it says so.
constexpr std::array kMetalWords = {"steel", "stahl",     "s235",  "s275",  "s355",   "iron", "cast",
                                    "alu",   "aluminium", "en aw", "brass", "bronze", "metal"};
constexpr std::array kTimberWords = {"wood", "timber", "pine",  "spruce",  "fir",   "oak", "beech",  "birch",
                                     "ash",  "maple",  "larch", "plywood", "ply",   "mdf", "glulam", "lvl",
                                     "c24",  "c16",    "kvh",   "poplar",  "board", "osb", "walnut"};

template <class Words> bool says_any(const std::string& text, const Words& words) {
    return std::any_of(words.begin(), words.end(),
                       [&](const char* word) { return text.find(word) != std::string::npos; });
}

Colour by_material(const Body& body, const Palette& palette) {
    std::string material = body.material;
    std::transform(material.begin(), material.end(), material.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    if (says_any(material, kMetalWords)) {
        return palette.steel;
    }
    return says_any(material, kTimberWords) ? palette.timber : palette.other;
}

double linear_of(float srgb) { // IEC 61966-2-1
    const double v = srgb;
    return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
}

} // namespace

const Palette& light_palette() {
    static const Palette palette{
        .timber = {0.86F, 0.76F, 0.60F},
        .steel = {0.58F, 0.62F, 0.66F},
        .other = {0.74F, 0.73F, 0.71F},
        .platen = {0.27F, 0.38F, 0.47F},
        .jack_body = {0.55F, 0.50F, 0.30F},
        .jack_hose = {0.58F, 0.36F, 0.31F},
        .jack_screw = {0.80F, 0.82F, 0.84F},
        .thread = {0.22F, 0.26F, 0.31F, 0.55F},
        .guide_post = {0.70F, 0.73F, 0.75F},
        .guide_sleeve = {0.42F, 0.45F, 0.48F},
        .mold_lower = {0.62F, 0.78F, 0.66F},
        .mold_upper = {0.52F, 0.36F, 0.52F},
        .veneer = {0.90F, 0.74F, 0.47F},
        .spot = {0.95F, 0.30F, 0.12F},
        .surroundings = {},
    };
    return palette;
}

const Palette& dark_palette() {
    static const Palette palette = [] {
        Palette p = light_palette();
        p.timber = {0.72F, 0.62F, 0.47F};
        p.steel = {0.47F, 0.51F, 0.55F};
        p.platen = {0.24F, 0.36F, 0.47F};
        p.jack_body = {0.50F, 0.45F, 0.27F};
        p.mold_upper = {0.50F, 0.33F, 0.49F};
        Surroundings& s = p.surroundings;
        s.above = {0.135F, 0.15F, 0.165F};
        s.below = {0.085F, 0.095F, 0.105F};
        s.floor_line = {0.62F, 0.68F, 0.74F, 0.34F};
        s.floor_shadow = {0.0F, 0.0F, 0.01F, 0.75F};
        s.edge_darkness = 0.70F;
        s.lit_outline = {1.0F, 0.86F, 0.45F};
        s.foul = {0.96F, 0.45F, 0.12F};
        s.foul_outline = {1.0F, 0.62F, 0.30F};
        s.dimmed = {0.45F, 0.47F, 0.50F};
        s.dimmed_edge = {0.78F, 0.81F, 0.85F};
        return p;
    }();
    return palette;
}

Colour colour_of(const Body& body, const Palette& palette) {
    switch (body.part) {
    case Part::member:
    case Part::head:
    case Part::floor:
        return by_material(body, palette);
    case Part::platen:
    case Part::intermediate_platen:
        return palette.platen;
    case Part::jack_body:
        return palette.jack_body;
    case Part::jack_link:
        return palette.jack_body;
    case Part::jack_hose:
        return palette.jack_hose;
    case Part::jack_screw:
    case Part::link_shaft:
        return palette.jack_screw;
    case Part::guide_post:
        return palette.guide_post;
    case Part::guide_sleeve:
        return palette.guide_sleeve;
    case Part::mold_lower:
        return palette.mold_lower;
    case Part::mold_upper:
        return palette.mold_upper;
    }
    return palette.other;
}

Colour use_colour(double use) {
    struct Stop {
        double at;
        Colour colour;
    };
    constexpr std::array<Stop, 4> kStops = {{{0.0, {0.93F, 0.95F, 0.92F}},
                                             {0.5, {0.95F, 0.82F, 0.47F}},
                                             {0.9, {0.88F, 0.48F, 0.16F}},
                                             {1.0, {0.50F, 0.06F, 0.12F}}}};
    for (std::size_t i = 1; i < kStops.size(); ++i) {
        if (use < kStops[i].at) {
            const auto t =
                static_cast<float>(std::max(0.0, (use - kStops[i - 1].at) / (kStops[i].at - kStops[i - 1].at)));
            const Colour& a = kStops[i - 1].colour;
            const Colour& b = kStops[i].colour;
            return {a.red + t * (b.red - a.red), a.green + t * (b.green - a.green), a.blue + t * (b.blue - a.blue)};
        }
    }
    return kStops.back().colour;
}

double lightness(const Colour& colour) {
    const double luminance =
        0.2126 * linear_of(colour.red) + 0.7152 * linear_of(colour.green) + 0.0722 * linear_of(colour.blue);
    constexpr double kSmall = 216.0 / 24389.0;
    return luminance > kSmall ? 116.0 * std::cbrt(luminance) - 16.0 : luminance * 24389.0 / 27.0;
}

} // namespace evenclose
