// checks/clearance/travel_cells.hpp: the stroke cut into cells, each with the best upper bound so far and the lower bound
// that every pair of boxes must reach to be set aside.
//
// All pairs share these cells: that is what lets one traversal answer the whole stroke. The upper bound of a cell is a
// chord: for two convex bodies the distance is convex along a translation, since minimising a jointly convex function
// over some of its variables leaves it convex (Boyd & Vandenberghe, Convex Optimization, 2004, sec. 3.2.5), so between
// two travels the chord of one pair of triangles lies above its distance, hence above the bodies'.
//
// `wanted` only ever falls, so whatever was set aside against it earlier lies above the final one: at the end it *is* the
// certified lower bound.
#pragma once

#include "checks/clearance/relative_motion.hpp"
#include "checks/clearance/sweep.hpp"

#include <cstdint>
#include <limits>
#include <vector>

namespace evenclose {

/// Linear over a cell.
struct Line {
    double at_from = 0, at_to = 0;
    [[nodiscard]] double at(double share) const { return at_from + share * (at_to - at_from); }
};

/// A pair of triangles and the slopes at which it was measured.
struct Witness {
    std::uint32_t of_first = 0, of_second = 0;
    Slope slope_first, slope_second;
};

struct TravelCell {
    Travel from, to;
    double rise_from = 0, rise_to = 0; // RelativeMotion::rise_mm
    SlopeRange first_from, first_to;   // slopes off the reference, of the motion at hand
    SlopeRange second_from, second_to;
    Line upper{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
    Line wanted{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
    Witness witness;
    double given_up_mm = std::numeric_limits<double>::infinity(); // least lower bound among what was given up here

    [[nodiscard]] bool in_contact() const { return upper.at_from == 0 && upper.at_to == 0; }
    [[nodiscard]] double width_mm() const { return (to - from).mm; }
};

/// What is asked of each cell.
struct Goal {
    double interest_mm = 25;
    double slack_mm = 0.025;        // how far below the upper bound the lower one may stay
    double least_width_mm = 0.0025; // narrower cells near contact are not cut again
};

/// Lowers `wanted` to what the upper bound now asks for.
void lower_wanted(TravelCell& cell, const Goal& goal);

/// Takes the chord if it is lower on the whole (by `at_least_mm` at the middle), and lowers `wanted`. True if taken.
bool improve(TravelCell& cell, const Line& chord, const Witness& witness, const Goal& goal, double at_least_mm);

/// The certified lower bound: `wanted`, or less where something was given up; never negative.
[[nodiscard]] Line certified_lower(const TravelCell& cell);

/// Narrows the cells [from, to) to those where a bound, linear from the start of cell `line_from` to the end of the cell
/// before `line_to`, stays below what is wanted. Both ends are trimmed; what is between them stays.
inline void trim(const std::vector<TravelCell>& cells, const Line& bound, std::uint32_t line_from,
                 std::uint32_t line_to, std::uint32_t& from, std::uint32_t& to) {
    const double start = cells[line_from].from.mm;
    const double length = cells[line_to - 1].to.mm - start;
    const double slope = length > 0 ? (bound.at_to - bound.at_from) / length : 0;
    const auto reached = [&](const TravelCell& cell) {
        return cell.in_contact() || (bound.at_from + slope * (cell.from.mm - start) >= cell.wanted.at_from &&
                                     bound.at_from + slope * (cell.to.mm - start) >= cell.wanted.at_to);
    };
    while (from < to && reached(cells[from])) {
        ++from;
    }
    while (from < to && reached(cells[to - 1])) {
        --to;
    }
}
/// The same for a bound that is linear over just these cells.
inline void trim(const std::vector<TravelCell>& cells, const Line& bound, std::uint32_t& from, std::uint32_t& to) {
    trim(cells, bound, from, to, from, to);
}

/// Fills in rises and slope ranges for a motion.
void fit_to(std::vector<TravelCell>& cells, const RelativeMotion& motion);

} // namespace evenclose
