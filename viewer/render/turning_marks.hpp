// viewer/render/turning_marks.hpp: what lets one see that a round screw or shaft turns: its thread, drawn as a line along
// the crest, and a chalk line along it, as a fitter strikes one to count turns by.
#pragma once

#include "scene/motion/turning.hpp"
#include "viewer/render/frame.hpp"
#include "viewer/render/palette.hpp"

#include <vector>

namespace evenclose {

/// `pose`: where the body is drawn. A thread so fine that it has thousands of turns is left out; a body that is not
/// round (radius 0) has no marks, its edges show.
void add_turning_marks(const Turning& turning, const Pose& pose, const Palette& palette, std::vector<DrawnLine>& lines);

} // namespace evenclose
