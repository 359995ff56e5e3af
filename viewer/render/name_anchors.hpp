// viewer/render/name_anchors.hpp: for each thing in a picture a place on it that can be seen, for a leader from its name.
#pragma once

#include "scene/motion/assembly.hpp"
#include "viewer/render/frame.hpp"

#include <functional>
#include <string>
#include <vector>

namespace evenclose {

struct NameAnchor {
    std::string name; // shared_name of its bodies
    Vec3 at_mm{0.0};  // as the body is drawn, tilt and all
    float seen = 0;   // share of what was tried that can be seen, times the size of what is seen
};

/// Of what can be seen nowhere there is none. `covered`: whether something that lies over the picture hides the pixel x, y.
/// Needs: `frame` made of `assembly`; one body's index beyond it has no name. Threads: any.
[[nodiscard]] std::vector<NameAnchor> name_anchors(const Frame& frame, const Assembly& assembly, int width, int height,
                                                   const std::function<bool(double, double)>& covered);

/// The name that the parts of one thing share: "left jack body" and "left jack screw" are "left jack".
[[nodiscard]] std::string shared_name(const Body& body);

} // namespace evenclose
