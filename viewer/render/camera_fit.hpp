// viewer/render/camera_fit.hpp: places a camera so that what shall be seen just fits.
#pragma once

#include "viewer/render/frame.hpp"

#include <span>

namespace evenclose {

struct FitRequest {
    Vec3 towards_viewer{0.0, -1.0, 0.0}; // from what is seen to the eye; any length
    Vec3 up{0.0, 0.0, 1.0};
    double vertical_angle_rad = 0.5;
    bool parallel = false;
    double aspect = 1.6;
    double margin = 0.06; // of the picture's width and height, on each side
};

/// The nearest eye from which all places are within the picture less its margin, with equal room left and right, above
/// and below. One pass, exact: in the eye's axes each place bounds the eye linearly by each side of the frustum.
/// Needs: at least one place, all finite; aspect > 0. One place, or all at one: seen from 100 mm.
[[nodiscard]] Camera fit_camera(std::span<const Vec3> places_mm, const FitRequest& request);

} // namespace evenclose
