// scene/press/member_solid.hpp: a frame member as a solid in the world.
#pragma once

#include "scene/press/press.hpp"
#include "scene/vec.hpp"

namespace evenclose {

/// Local X, Y, Z of the pose are the section's u, v and the axis A to B; its origin is A. With roll 0, v points as far
/// up (+Z) as the axis lets it, for a vertical member to +Y; u = v x axis. A positive roll turns u towards v.
/// A member that leans less than a millionth is vertical; one that leans more turns v at once, as "up" asks.
/// Needs: A and B finite and apart.   Faults: std::invalid_argument.   Threads: pure, any.
[[nodiscard]] Pose frame_of(const Member& member);

/// The section drawn out from A to B, ends square and closed. A mesh section: placed with its origin at A, X Y Z kept,
/// turned by roll about Z; B is not looked at. A built-up section: its parts one by one, each a closed solid.
/// Gives: a closed mesh, outward (a mesh section: as its file is). Round parts: see section_outline.hpp.
/// Faults: std::invalid_argument that names the member and what does not fit.   Threads: pure, any.
[[nodiscard]] TriangleMesh solid_of(const Member& member);

} // namespace evenclose
