// checks/frame/plate_element.hpp: one flat four-cornered shell element (see solve.hpp for its make and sources).
#pragma once

#include "checks/frame/solve.hpp"
#include "checks/frame/space_frame.hpp"

#include <Eigen/Core>

namespace evenclose {

using Matrix24 = Eigen::Matrix<double, 24, 24>;
using Vector24 = Eigen::Matrix<double, 24, 1>;

struct PlateElement {
    Matrix24 stiffness; // world, six a node
    Vector24 load;      // world
};
/// Faults: std::invalid_argument if the corners are not in turn, or not flat to 1 % of its size.
[[nodiscard]] PlateElement element_of(const SpaceFrame& frame, const FramePlate& plate);
[[nodiscard]] PlateForces forces_of(const SpaceFrame& frame, const FramePlate& plate, const Vector24& motion);

} // namespace evenclose
