// scene/motion/stacked.hpp: several openings over one another: where the intermediate platens stand when open, and how they
// rise.
//
// Pressing from below, the platen rises under the lowest opening alone; when that is closed, the intermediate platen over
// it is picked up through the closed mold, and so on (REFERENCE 15). So every platen's height is piecewise linear in the
// lift of the lowest: it lies on its rest until the gaps below are all gone, then rises one for one. The order falls
// out of the geometry, the lowest first; weights decide nothing in it. They would if platens hung on springs or a linkage
// closed all openings together; neither is modelled.
//
// On its rest a platen is level; picked up it takes the slope of the moving platen, as every mold is then shut flush
// between its platens. Not covered: while a tilted platen picks one up by one edge, its middle may lead or lag by up
// to the slope times half the length (some tenths of a mm).
#pragma once

#include "scene/motion/ride.hpp"
#include "scene/setup/setup.hpp"

#include <vector>

namespace evenclose {

struct OpenHeights {
    double floor_z_mm = 0;     // face of the platen below, travel 0, level
    double ceiling_z_mm = 0;   // underside of the platen above, or of the head
    double shut_height_mm = 0; // of its mold
    double rest_short_mm =
        0; // > 0: the rest above is so much too low, the platen above lies on the closed mold instead

    [[nodiscard]] double daylight_mm() const { return ceiling_z_mm - floor_z_mm; }
    [[nodiscard]] double gap_mm() const { return daylight_mm() - shut_height_mm; } // left to close
};

/// From the bottom up. An intermediate platen rests where the set-up says, else on the press's rest, else so that the gaps
/// left over between those that are told are even. A rest that is too low for the closed mold below counts for nothing.
/// Needs: molds loaded; one intermediate platen fewer than openings.
[[nodiscard]] std::vector<OpenHeights> open_heights(const Setup& setup, double platen_face_z_mm);

/// How a platen goes that is picked up when the moving one has risen by `gone_mm`, at the travel `at`.
/// `reach_mm`: half its length. Needs: the moving platen's ride; 0 <= gone_mm.
[[nodiscard]] Ride picked_up_ride(const Ride& platen, double gone_mm, Travel at, double reach_mm);

} // namespace evenclose
