// viewer/app/clearance_band.hpp: a pair's clearance over the travel, cut into the cells of a thin band beside the rail.
//
// A cell shows the worst that its stretch of travel holds, by the certified lower bound, so that a foul over a fraction
// of a millimetre of stroke is seen however small the band is drawn. Threads: pure, any.
#pragma once

#include "checks/clearance/sweep.hpp"
#include "checks/travel/worst_pairs.hpp"

#include <cstddef>
#include <vector>

namespace evenclose {

enum class BandShade { unknown, clear, near, tight, foul };

struct BandCell {
    BandShade shade = BandShade::unknown;
    double least_mm = 0; // certified: not closer than this; 0 for a foul, infinite when nothing is known
};

/// unknown: not swept there. foul: contact is certain. tight: may be closer than `limit_mm`. near: closer than
/// `interest_mm`. clear: beyond.
/// Needs: from < to, cells > 0, 0 <= limit_mm <= interest_mm.
[[nodiscard]] std::vector<BandCell> band_cells(const Sweep& sweep, Travel from, Travel to, std::size_t cells,
                                               double limit_mm, double interest_mm);

} // namespace evenclose
