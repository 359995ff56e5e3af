// checks/clearance/ride_pieces.hpp: the travel cut where a ride has a knot, so that each piece is straight.
#pragma once

#include "checks/clearance/sweep.hpp"

#include <vector>

namespace evenclose {

/// From `from` to `to`, both included, in order; at least two.
[[nodiscard]] std::vector<Travel> stops_of_rides(const SweptBody& first, const SweptBody& second, Travel from,
                                                 Travel to);

} // namespace evenclose
