// checks/travel/worst_pairs.hpp: which pairs of a travel check matter most, and where on the stroke. Threads: pure, any.
#pragma once

#include "checks/clearance/sweep.hpp"

#include <cstddef>
#include <vector>

namespace evenclose {

/// Contact that nobody wants is certain: they pierce, or one is inside the other.
[[nodiscard]] bool fouls(const Sweep& sweep);

/// The worse comes first: a foul before clear, then the longer foul, then the smaller least clearance, then order.
[[nodiscard]] std::vector<std::size_t> worst_first(const std::vector<const Sweep*>& sweeps);

/// Where a pair's trouble is: the start of its first contact, else where it is closest.
[[nodiscard]] Travel worst_travel(const Sweep& sweep);

} // namespace evenclose
