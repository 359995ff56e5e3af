// viewer/app/flight.hpp: a short flight of the camera from where it is to where it should be.
//
// The way of looking turns along the shortest arc, the target moves in a straight line, the distance changes by equal
// factors in equal times, all eased at both ends. Threads: pure, any.
#pragma once

#include "viewer/render/frame.hpp"

namespace evenclose {

struct Flight {
    Camera from, to;
    double elapsed_s = 0;
    // Long enough for the eye to keep its bearings, short enough not to be waited for (common practice, no source).
    double duration_s = 0.45;

    [[nodiscard]] bool over() const { return elapsed_s >= duration_s; }
};

/// Where the camera is `elapsed_s` into the flight; exactly `to` when it is over.
[[nodiscard]] Camera camera_on(const Flight& flight);

} // namespace evenclose
