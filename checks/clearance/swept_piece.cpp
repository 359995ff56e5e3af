#include "checks/clearance/swept_piece.hpp"

#include <algorithm>

namespace evenclose {

LinearBounds bounds_of_cell(const TravelCell& cell) {
    const Line lower = certified_lower(cell);
    return {cell.from,
            cell.to,
            {{lower.at_from, lower.at_to}, {lower.at_from, lower.at_to}},
            {{cell.upper.at_from, cell.upper.at_to}, {cell.upper.at_from, cell.upper.at_to}}};
}

bool loose(const TravelCell& cell, const Goal& goal) {
    if (cell.in_contact() || std::min(cell.upper.at_from, cell.upper.at_to) < goal.slack_mm || cell.width_mm() < 1e-4) {
        return false;
    }
    const Extremes extremes = extremes_of(bounds_of_cell(cell), 0, 1);
    return extremes.lower < goal.interest_mm && extremes.gap > 1.6 * goal.slack_mm;
}

bool uncertain(const TravelCell& cell) {
    const Line lower = certified_lower(cell);
    return !cell.in_contact() && cell.given_up_mm <= 0 && std::max(lower.at_from, lower.at_to) <= 0;
}

} // namespace evenclose
