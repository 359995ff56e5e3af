// viewer/render/palette.hpp: which colour a part has and why.
//
// Told apart first by lightness (CIE L* at least 9 apart between parts that touch), then by hue, so that they stay apart
// for any colour vision and on a grey print. What moves or is swapped is stronger than the frame that only stands there:
//   timber members  pale warm wood, light: most of the picture, and quiet
//   steel members   cool grey, middling
//   head            the frame's own material: it does not move
//   platen          deep blue-grey, the darkest large part, so that what moves is found at once
//   jacks           olive enamel, as machines are painted, and a bright screw: how far it is out shows; link shafts
//                   as screws; a hose in a dull rubber red
//   guides          as jacks: turned steel
//   mold halves     two muted tones far apart in lightness: lower light sand-green, upper deep plum
// Emphasis (lit, foul) keeps to colours that no part has.
#pragma once

#include "scene/motion/assembly.hpp"
#include "viewer/render/frame.hpp"

namespace evenclose {

struct Palette {
    Colour timber, steel, other;
    Colour platen, jack_body, jack_hose, jack_screw, thread, guide_post, guide_sleeve;
    Colour mold_lower, mold_upper, veneer;
    Colour spot;
    Surroundings surroundings;
};

[[nodiscard]] const Palette& light_palette(); // for daylight and paper
[[nodiscard]] const Palette& dark_palette();  // for a dim shop

/// By part, and for members and head by material.
[[nodiscard]] Colour colour_of(const Body& body, const Palette& palette);

/// Of a part that uses so much of what it may bear: pale at 0, straw, orange at 0.9, and from 1 on the dark red of a fault.
/// Lightness falls all the way, so that it reads without colour too.
[[nodiscard]] Colour use_colour(double use);

/// CIE 1976 lightness, 0 to 100, of an sRGB colour (IEC 61966-2-1; CIE 15:2004).
[[nodiscard]] double lightness(const Colour& colour);

} // namespace evenclose
