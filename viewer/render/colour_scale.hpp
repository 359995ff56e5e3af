// viewer/render/colour_scale.hpp: which colour a measured value has on a face, and the scale that tells it.
//
// Two hues that every colour vision tells apart, blue for too much and orange for too little (M. Okabe & K. Ito, "Color
// universal design", 2008), pale in the middle and darker outward, so that lightness alone tells how far off a place is.
// What is within tolerance is nearly bare; at the tolerance the colour steps, so that its border is seen as a line.
#pragma once

#include "viewer/render/overlay.hpp"

#include <string>
#include <vector>

namespace evenclose {

struct ScaleTick {
    double value = 0;
    std::string words; // "+0.3 mm"; "R 137"
    bool tolerance = false;
};

struct ColourScale {
    std::string title;            // "gap less stack"
    std::string low, high;        // what the ends mean: "too narrow", "too wide"
    double tolerance = 1;         // either way
    double most = 2;              // the ends; beyond keeps the end's colour
    std::vector<ScaleTick> ticks; // from low to high
    std::string lines{};          // what dark lines on the map are; empty: there are none

    [[nodiscard]] Colour at(double value) const;
};

/// Paints the scale with its ticks into the lower left corner of a picture, and gives where it stands. `points`: pixels a
/// point, 1 on a plain screen.
PictureBox paint_scale(Image& image, const ColourScale& scale, double points);

} // namespace evenclose
