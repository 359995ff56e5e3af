// viewer/export/glb_of.hpp: the whole press with its mold as a glTF 2.0 binary (ISO/IEC 12113), the stroke as an animation.
//
// Metres and Y up, as glTF prescribes. One node a body, named as in the checks; meshes that several bodies share are stored
// once. The animation goes from open to as far as the press closes, level as the jacks nominally stand, in equal steps
// with straight motion between. A hose is drawn as it lies when open. Written by Assimp.
#pragma once

#include "scene/motion/assembly.hpp"
#include "viewer/render/palette.hpp"

#include <string>

namespace evenclose {

struct GlbStyle {
    double seconds = 8; // that the stroke takes in the animation
    int steps = 48;     // poses beyond the first one
};

/// Gives: the bytes of a .glb file.   Faults: std::runtime_error with Assimp's words.   Threads: any.
[[nodiscard]] std::string glb_of(const Assembly& assembly, const Palette& palette, const GlbStyle& style = {});

} // namespace evenclose
