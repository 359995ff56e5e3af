#include "viewer/app/clearance_band.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace evenclose {

std::vector<BandCell> band_cells(const Sweep& sweep, Travel from, Travel to, std::size_t cells, double limit_mm,
                                 double interest_mm) {
    std::vector<BandCell> band(cells, BandCell{BandShade::unknown, std::numeric_limits<double>::infinity()});
    const double cell_mm = (to - from).mm / static_cast<double>(cells);

    // The cells that [low, high] reaches into; a span that ends on a border belongs to the cell before it alone, but a
    // span of no length (a touch at one travel) still takes one.
    const auto reached = [&](Travel low, Travel high) {
        const double first = std::floor((low - from).mm / cell_mm);
        const double last = std::max(first, std::ceil((high - from).mm / cell_mm) - 1.0);
        const double top = static_cast<double>(cells) - 1.0;
        if (last < 0.0 || first > static_cast<double>(cells)) {
            return std::pair<std::size_t, std::size_t>{1, 0};
        }
        return std::pair<std::size_t, std::size_t>{static_cast<std::size_t>(std::clamp(first, 0.0, top)),
                                                   static_cast<std::size_t>(std::clamp(last, 0.0, top))};
    };

    for (const ClearanceSpan& span : sweep.spans) {
        const auto [first, last] = reached(span.from, span.to);
        for (std::size_t i = first; i <= last && i < cells; ++i) {
            BandCell& cell = band[i];
            cell.least_mm = std::min(cell.least_mm, span.lower_mm);
            cell.shade = cell.least_mm < limit_mm      ? BandShade::tight
                         : cell.least_mm < interest_mm ? BandShade::near
                                                       : BandShade::clear;
        }
    }
    if (fouls(sweep)) {
        for (const ContactSpan& contact : sweep.contacts) {
            const auto [first, last] = reached(contact.from, contact.to);
            for (std::size_t i = first; i <= last && i < cells; ++i) {
                band[i] = {BandShade::foul, 0.0};
            }
        }
    }
    return band;
}

} // namespace evenclose
