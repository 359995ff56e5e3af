// viewer/render/ray_pick.hpp: which body of a frame is under a pixel. By a ray, without the graphics card.
#pragma once

#include "viewer/render/frame.hpp"

#include <cstdint>
#include <optional>

namespace evenclose {

struct RayPick {
    std::uint32_t body = 0; // DrawnBody::body
    Vec3 at_mm{0.0};
    Vec3 normal{0.0}; // of the surface there, unit; of a section's face the plane's
};

/// x, y in pixels from the picture's top left corner, 0.5, 0.5 the first pixel's middle. Nothing outside the picture,
/// or where only ground or floor is. A dimmed body is picked like any other. Threads: any.
[[nodiscard]] std::optional<RayPick> ray_pick(const Frame& frame, int width, int height, double x, double y);

} // namespace evenclose
