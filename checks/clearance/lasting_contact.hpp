// checks/clearance/lasting_contact.hpp: contact of two triangles that lasts while their corners go straight from where they
// are to where they will be.
//
// Where a body only rides, a pair in touch at both ends is in touch between, by convexity (travel_cells.hpp). Where it
// also turns, that is not so. But as long as an edge of the one goes through the inside of the other they are in touch,
// and that is a matter of five signed volumes that keep their signs. With corners going straight each volume is a cubic
// of the share of the way; a polynomial lies between the least and the greatest of its Bernstein coefficients (R. T.
// Farouki, "The Bernstein polynomial basis: a centennial retrospective", Computer Aided Geometric Design 29(6), 2012).
#pragma once

#include "checks/clearance/triangle_distance.hpp"

namespace evenclose {

/// Holds even if every corner strays up to `stray_mm` from its straight way, at any time on it.
[[nodiscard]] bool contact_lasts(const Triangle& a_start, const Triangle& a_end, const Triangle& b_start,
                                 const Triangle& b_end, double stray_mm);

} // namespace evenclose
