#include "viewer/render/deck_grid.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {

DeckGrid deck_grid_of(const FacingHalves& halves, double places) {
    const HeightMap& map = halves.lower_map();
    const PlanGrid& grid = map.grid;
    const int every = std::max(1, static_cast<int>(std::ceil(std::sqrt(static_cast<double>(grid.size()) / places))));
    DeckGrid result;
    result.columns = (grid.columns - 1) / every + 1;
    result.rows = (grid.rows - 1) / every + 1;
    result.places.resize(static_cast<std::size_t>(result.columns) * static_cast<std::size_t>(result.rows));
    for (int row = 0; row < result.rows; ++row) {
        for (int column = 0; column < result.columns; ++column) {
            const std::size_t i = grid.index(column * every, row * every);
            if (map.seen(i) && halves.lower_face().forming[map.triangle[i]] != 0) {
                DeckPlace& place = result.places[result.index(column, row)];
                place.at_mm = {grid.at_mm(i), map.z_mm(i)};
                place.normal =
                    normal_at(halves.lower(), halves.lower_face(), SeenFrom::above, map.triangle[i], place.at_mm);
                place.there = true;
            }
        }
    }
    return result;
}

} // namespace evenclose
