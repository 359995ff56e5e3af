// checks/clearance/swept_piece.hpp: what the search made of one straight piece of the travel.
#pragma once

#include "checks/clearance/relative_motion.hpp"
#include "checks/clearance/spans.hpp"
#include "checks/clearance/travel_cells.hpp"

#include <vector>

namespace evenclose {

struct SweptPiece {
    RelativeMotion motion; // over the whole envelope
    std::vector<TravelCell> cells;
};

[[nodiscard]] LinearBounds bounds_of_cell(const TravelCell& cell);

/// Wider apart than asked: chords taken one after the other can leave a cell so.
[[nodiscard]] bool loose(const TravelCell& cell, const Goal& goal);

/// Neither certainly in contact nor certainly clear: too narrow to be cut again.
[[nodiscard]] bool uncertain(const TravelCell& cell);

} // namespace evenclose
