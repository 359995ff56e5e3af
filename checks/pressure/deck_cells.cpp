#include "checks/pressure/deck_cells.hpp"

#include "checks/outline.hpp"

namespace evenclose {

std::vector<FootprintCell> deck_cells(const DeckPlan& deck, int along, int across) {
    std::vector<FootprintCell> cells = rectangle_cells(deck.size_mm, along, across);
    if (deck.outline_mm.empty()) {
        return cells;
    }
    constexpr int kSpots = 8; // a side
    const Vec2 size = deck.size_mm / Vec2{along, across};
    std::vector<FootprintCell> kept;
    double sum = 0;
    for (const FootprintCell& cell : cells) {
        Vec2 middle{0.0};
        int inside = 0;
        for (int j = 0; j < kSpots; ++j) {
            for (int i = 0; i < kSpots; ++i) {
                const Vec2 spot = cell.at_mm + size * (Vec2{i + 0.5, j + 0.5} / static_cast<double>(kSpots) - 0.5);
                if (inside_outline(deck.outline_mm, spot)) {
                    middle += spot;
                    ++inside;
                }
            }
        }
        if (inside > 0) {
            kept.push_back({middle / static_cast<double>(inside), cell.area_mm2 * inside / (kSpots * kSpots)});
            sum += kept.back().area_mm2;
        }
    }
    for (FootprintCell& cell : kept) {
        cell.area_mm2 *= deck.area_mm2() / sum;
    }
    return kept;
}

} // namespace evenclose
