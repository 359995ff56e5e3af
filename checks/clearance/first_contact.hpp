// checks/clearance/first_contact.hpp: the first travel at which two bodies can touch, and nothing after it.
//
// One traversal, the pair of boxes that could touch earliest first. A direction that parts two boxes gives a bound linear in
// travel, so a travel before which they cannot touch; at that travel the direction is looked for anew, and again, as in
// conservative advancement (B. Mirtich, J. Canny, "Impulse-based simulation of rigid bodies", Symposium on Interactive 3D
// Graphics, 1995), but box by box, so that a box that stays away is never taken apart.
#pragma once

#include "checks/clearance/sweep.hpp"

namespace evenclose {

struct FirstContact {
    Contact contact = Contact::clear; // clear: none up to the end; touching: there is one; inside: from the start; or
                                      // cancelled
    Travel clear_until;               // no contact before this travel, certified
    Travel touches_by;                // contact at or before this one, certified; if there is one
    Vec3 on_first_mm{0.0}, on_second_mm{0.0}; // where, at touches_by, world
    bool tight = true;                        // they lie within contact_tightness_mm of each other
};

/// Of the request only the travels, contact_tightness_mm and budget count.   Threads: pure, any.
[[nodiscard]] FirstContact first_contact(const SweptBody& first, const SweptBody& second, const SweepRequest& request,
                                         Progress& progress);

} // namespace evenclose
