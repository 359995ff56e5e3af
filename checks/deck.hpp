// checks/deck.hpp: the pressed deck as seen from above: where it lies and how large it is.
#pragma once

#include "scene/motion/assembly.hpp"

#include <vector>

namespace evenclose {

/// The deck's rectangle in the opening: stated by the mold, else the part of the plan that both halves share.
struct DeckPlan {
    Vec2 centre_mm{0.0};               // world X, Y
    Vec2 length_axis{1.0, 0.0};        // world direction of the deck's length
    Vec2 size_mm{0.0};                 // along the length axis, and across; of a stated outline the rectangle round it
    bool stated = false;               // given in the mold's document
    std::vector<Vec2> outline_mm = {}; // as stated, from the centre in the deck's own axes; empty: the rectangle

    [[nodiscard]] double area_mm2() const;
    [[nodiscard]] Vec2 centroid_mm() const;             // world X, Y: where an even pressure acts
    [[nodiscard]] Vec2 world_mm(Vec2 own) const;        // from the deck's own axes
    [[nodiscard]] std::vector<Vec2> corners_mm() const; // of the outline, or of the rectangle, own axes
};

/// Needs: an opening with its mold loaded.
[[nodiscard]] DeckPlan deck_plan(const Setup& setup, const Opening& opening);

/// The pressed deck's outline in the mold frame, seen along the stroke, as far as the mold's document states it; empty
/// where it does not, and then the deck is all that both halves share.
[[nodiscard]] std::vector<Vec2> deck_outline(const Mold& mold);

/// How much later one end (or side) of the deck closes than the other under a slope: the greatest difference of height
/// over the rectangle, mm.
[[nodiscard]] double height_difference_mm(const DeckPlan& deck, Slope slope);

} // namespace evenclose
