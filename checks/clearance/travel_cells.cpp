#include "checks/clearance/travel_cells.hpp"

#include "checks/clearance/piercing.hpp"

#include <algorithm>

namespace evenclose {
namespace {

// A lower bound this far above nothing tells a clear pair from one in touch; twice kTouch_mm, so that the two never
// overlap.
constexpr double kClear_mm = 2 * kTouch_mm;

double wanted_at(double upper, const Goal& goal) {
    if (upper == 0) {
        return -kClear_mm; // in touch at this very travel: nothing to ask
    }
    return std::max(upper - goal.slack_mm, std::min(0.5 * upper, kClear_mm));
}

} // namespace

void lower_wanted(TravelCell& cell, const Goal& goal) {
    Line wanted{wanted_at(cell.upper.at_from, goal), wanted_at(cell.upper.at_to, goal)};
    if (std::min(wanted.at_from, wanted.at_to) >= goal.interest_mm) {
        wanted = {goal.interest_mm, goal.interest_mm};
    } else if (goal.interest_mm <= 0) {
        wanted = {std::min(wanted.at_from, kClear_mm), std::min(wanted.at_to, kClear_mm)};
    }
    cell.wanted = {std::min(cell.wanted.at_from, wanted.at_from), std::min(cell.wanted.at_to, wanted.at_to)};
}

bool improve(TravelCell& cell, const Line& chord, const Witness& witness, const Goal& goal, double at_least_mm) {
    const bool contact = chord.at_from == 0 && chord.at_to == 0;
    if (contact ? cell.in_contact()
                : chord.at_from + chord.at_to + 2 * at_least_mm >= cell.upper.at_from + cell.upper.at_to) {
        return false;
    }
    cell.upper = chord;
    cell.witness = witness;
    lower_wanted(cell, goal);
    return true;
}

Line certified_lower(const TravelCell& cell) {
    if (cell.in_contact()) {
        return {0, 0};
    }
    if (cell.given_up_mm < std::max(cell.wanted.at_from, cell.wanted.at_to)) {
        const double low = std::max(0.0, std::min({cell.given_up_mm, cell.wanted.at_from, cell.wanted.at_to}));
        return {low, low};
    }
    return cell.wanted;
}

void fit_to(std::vector<TravelCell>& cells, const RelativeMotion& motion) {
    for (TravelCell& cell : cells) {
        cell.rise_from = motion.rise_mm(cell.from);
        cell.rise_to = motion.rise_mm(cell.to);
        cell.first_from = motion.first.off_reference(cell.from);
        cell.first_to = motion.first.off_reference(cell.to);
        cell.second_from = motion.second.off_reference(cell.from);
        cell.second_to = motion.second.off_reference(cell.to);
    }
}

} // namespace evenclose
