// viewer/render/deck_grid.hpp: places on the lower half's forming face over the deck, in rows and columns: what maps and
// plies are drawn on, however coarse the half's own facets are.
#pragma once

#include "checks/cavity/gap_map.hpp"
#include "scene/vec.hpp"

#include <cstddef>
#include <vector>

namespace evenclose {

struct DeckPlace {
    Vec3 at_mm{0.0}, normal{0.0}; // lower half's frame
    bool there = false;
};

struct DeckGrid {
    int columns = 0, rows = 0;
    std::vector<DeckPlace> places; // row by row

    [[nodiscard]] std::size_t index(int column, int row) const {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(column);
    }
    /// All four corners of the square are there.
    [[nodiscard]] bool square(int column, int row) const {
        return column >= 0 && row >= 0 && column + 1 < columns && row + 1 < rows && places[index(column, row)].there &&
               places[index(column + 1, row)].there && places[index(column, row + 1)].there &&
               places[index(column + 1, row + 1)].there;
    }
};

/// About so many places over what `halves` looks at.   Threads: pure, any.
[[nodiscard]] DeckGrid deck_grid_of(const FacingHalves& halves, double places);

} // namespace evenclose
