// tests/bench/scenes.hpp: what the benchmarks sweep: two halves of a deck mold with an even gap, and a press frame beside
// a moving half. Own invention, of the size that a small shop builds.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"
#include "scene/motion/ride.hpp"

#include <cstddef>

namespace evenclose::bench {

inline constexpr double kStroke_mm = 150;
inline constexpr double kGap_mm = 10; // even, at the end of the stroke

/// A half of about `triangles` triangles. The lower one's forming face is sculpted (kicks at both ends, a concave, a
/// little twist), the upper one's is the same offset by kGap_mm along its normals; closed solids, as drawn when closed.
[[nodiscard]] TriangleMesh mold_half(std::size_t triangles, bool upper);

/// Four posts, rails between them and a head of about 21 000 triangles round the halves, 6 mm off them at the nearest.
[[nodiscard]] TriangleMesh press_frame();

/// Straight up by the stroke; tilted by up to `bound` either way in x and y.
[[nodiscard]] Ride closing_ride(double bound = 0);

} // namespace evenclose::bench
