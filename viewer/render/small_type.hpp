// viewer/render/small_type.hpp: boxes and small letters into a picture that no window drew: for scales beside a map.
//
// Letters five dots wide and seven high, our own drawing: capitals, figures and the few signs that a scale needs. Small
// letters are shown as capitals, what is not known as a blank.
#pragma once

#include "viewer/render/frame.hpp"

#include <string_view>

namespace evenclose {

/// Parts outside the picture are left out.
void fill_box(Image& image, int left, int top, int width, int height, const Colour& colour);
void frame_box(Image& image, int left, int top, int width, int height, int line, const Colour& colour);

/// `dot`: pixels a dot. A letter takes six dots.
void write_small(Image& image, int left, int top, int dot, std::string_view words, const Colour& colour);
[[nodiscard]] int width_of_small(std::string_view words, int dot);

} // namespace evenclose
