// checks/pressure/glue_band.hpp: the pressure that handbooks ask for by the wood's density, where no data sheet is at hand.
//
// About 0.7 MPa (100 psi) for light woods to 1.7 MPa (247 psi) for the densest (Wood Handbook, ch. 10, from memory); a
// line between them over specific gravity 0.35 to 0.70 is ours. Contested: shops press good decks far below with thin,
// flexible veneers. A hint, never a no-go.
#pragma once

#include "scene/mold/mold.hpp"

#include <string>

namespace evenclose {

struct GlueBand {
    double least_MPa = 0, most_MPa = 0;
    std::string species; // the densest of the stack that is known; empty: none is, and the band is that of all woods
};
[[nodiscard]] GlueBand glue_band(const PlyStack& stack);

} // namespace evenclose
