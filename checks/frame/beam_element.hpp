// checks/frame/beam_element.hpp: stiffness and loads of one beam, in its own axes and carried to its nodes.
#pragma once

#include "checks/frame/space_frame.hpp"

#include <Eigen/Core>

namespace evenclose {

using Matrix12 = Eigen::Matrix<double, 12, 12>;
using Vector12 = Eigen::Matrix<double, 12, 1>;

struct BeamElement {
    Matrix12 stiffness; // own axes, hinges condensed out
    Vector12 load;      // what its uniform load brings to its ends, own axes, hinges condensed out
    Matrix12 to_own;    // node motions (world) to end motions (own axes), arms included
};
[[nodiscard]] BeamElement element_of(const SpaceFrame& frame, const FrameBeam& beam);

/// Motion of the end of an arm from the motion of its node: rows moves, turns.
[[nodiscard]] Eigen::Matrix<double, 6, 6> arm_matrix(const Vec3& arm_mm);

} // namespace evenclose
