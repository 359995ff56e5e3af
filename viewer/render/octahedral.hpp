// viewer/render/octahedral.hpp: a unit vector in two 16-bit numbers: projected onto an octahedron, its lower half folded
// outward (Meyer, Suessmuth, Sussner, Stamminger, Greiner, "On floating-point normal vectors", EGSR 2010). Off by less
// than 0.005 degrees.
#pragma once

#include <glm/vec3.hpp>

#include <array>
#include <cstdint>

namespace evenclose {

/// Any length; a null or non-finite vector becomes straight up.
[[nodiscard]] std::array<std::int16_t, 2> fold_octahedral(const glm::vec3& direction);
[[nodiscard]] glm::vec3 unfold_octahedral(std::array<std::int16_t, 2> folded); // of length 1

} // namespace evenclose
