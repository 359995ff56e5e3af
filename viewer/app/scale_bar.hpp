// viewer/app/scale_bar.hpp: a bar in the picture's corner that tells how long a length is there.
//
// In a parallel picture it holds everywhere; in perspective only in the plane through the camera's target that is square to
// the line of sight. Its length is a round one of the unit's own: 1, 2, 5 times a power of ten, or fractions, inches, feet.
//
// Pure. Threads: any.
#pragma once

#include "scene/units/units.hpp"
#include "viewer/render/frame.hpp"

#include <optional>
#include <string>

namespace evenclose {

struct ScaleBar {
    double length_mm = 0, length_px = 0;
    int parts = 2;     // it is divided into so many equal ones
    std::string words; // "200 mm"
    std::string holds; // where it holds
};

/// The longest that takes no more than `most_px` in a picture `height_px` high. None where the camera cannot see, or
/// nothing round is that short.
[[nodiscard]] std::optional<ScaleBar> scale_bar(const Camera& camera, double height_px, double most_px,
                                                UnitSystem units);

} // namespace evenclose
