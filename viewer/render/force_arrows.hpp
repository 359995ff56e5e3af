// viewer/render/force_arrows.hpp: the forces of the closed press as arrows: each jack under the platen, all of them together
// against the head, where the pressure acts in the middle.
#pragma once

#include "checks/frame/frame_check.hpp"
#include "scene/motion/assembly.hpp"
#include "viewer/render/frame.hpp"

#include <string>
#include <vector>

namespace evenclose {

struct ForceArrow {
    std::string name; // the jack's, or "head"
    double force_N = 0;
    Vec3 from_mm{0.0}, to_mm{0.0}; // its head is at `to_mm`
};

/// At this travel, level. As long as they are strong, the strongest a sixth of the way from the floor to the head.
/// Needs: a computed frame of this assembly.   Threads: pure, any.
[[nodiscard]] std::vector<ForceArrow> force_arrows(const FrameMeasure& measure, const Setup& setup,
                                                   const Assembly& assembly, Travel at);

/// Draws them over everything.
void add_force_arrows(Frame& frame, const std::vector<ForceArrow>& arrows);

} // namespace evenclose
