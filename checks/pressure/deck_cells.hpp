// checks/pressure/deck_cells.hpp: the pressed deck cut into cells, each with as much area as lies inside the deck's outline.
#pragma once

#include "checks/deck.hpp"
#include "checks/pressure/no_tension.hpp"

#include <vector>

namespace evenclose {

/// In the deck's own axes; row by row over its rectangle, cells wholly outside the outline left out. A cell on the edge
/// has its share of area (by 8 x 8 spots) and stands in the middle of that share; in all they have the outline's area.
/// Needs: counts above 0.   Threads: pure, any.
[[nodiscard]] std::vector<FootprintCell> deck_cells(const DeckPlan& deck, int along, int across);

} // namespace evenclose
