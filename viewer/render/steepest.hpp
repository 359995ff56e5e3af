// viewer/render/steepest.hpp: the tilt to draw where the worst is asked for.
#pragma once

#include "scene/motion/ride.hpp"

namespace evenclose {

/// Of a range of slopes the steepest, axis by axis.   Threads: pure, any.
[[nodiscard]] Slope steepest(const SlopeRange& range);

} // namespace evenclose
