// viewer/render/snap.hpp: the place on a body that a hand means: a corner or an edge near the cursor, else the surface
// under it.
//
// Corners and edges are the features of the drawn meshes (drawable_mesh.hpp), and, with a section, where its plane cuts
// them. What lies behind something else, or was taken away, is not offered. A round edge is a row of short ones, whose ends
// lie on the true curve.
#pragma once

#include "viewer/render/frame.hpp"

#include <cstdint>
#include <optional>

namespace evenclose {

struct Snapped {
    enum class To { surface, edge, corner } to = To::surface;
    std::uint32_t body = 0; // DrawnBody::body
    Vec3 at_mm{0.0};
    Vec3 normal{0.0}; // of the surface under the cursor where `to` is surface; else zero
};

/// x, y as ray_pick has them; `near_px`: how near a corner or edge must be to be meant (0: the surface only). None where
/// there is neither. Threads: any.
[[nodiscard]] std::optional<Snapped> snap_pick(const Frame& frame, int width, int height, double x, double y,
                                               double near_px);

} // namespace evenclose
