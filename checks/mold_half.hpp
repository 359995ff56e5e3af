// checks/mold_half.hpp: the mold's halves among the bodies of the press.
#pragma once

#include "scene/motion/assembly.hpp"

namespace evenclose {

/// The first body that is this part (Part::mold_lower or mold_upper); null if there is none.
[[nodiscard]] const Body* half_of(const Assembly& assembly, Part part);

} // namespace evenclose
