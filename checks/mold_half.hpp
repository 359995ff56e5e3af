// checks/mold_half.hpp: the mold's halves among the bodies of the press, and where they are when closed.
#pragma once

#include "scene/motion/assembly.hpp"

namespace evenclose {

/// The first body that is this part (Part::mold_lower or mold_upper); null if there is none.
[[nodiscard]] const Body* half_of(const Assembly& assembly, Part part);

/// How far the platen rises from open until the mold is closed on its stack.
[[nodiscard]] double closing_lift_mm(const Assembly& assembly);

/// Where a body that rides on the platen (the lower half) stands then, the platen level.
[[nodiscard]] Pose pose_when_closed(const Assembly& assembly, const Body& on_platen);

} // namespace evenclose
