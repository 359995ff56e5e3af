#include "checks/deck.hpp"

#include "checks/outline.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {

std::vector<Vec2> DeckPlan::corners_mm() const {
    const Vec2 half = 0.5 * size_mm;
    return outline_mm.empty()
               ? std::vector<Vec2>{{-half.x, -half.y}, {half.x, -half.y}, {half.x, half.y}, {-half.x, half.y}}
               : outline_mm;
}

double DeckPlan::area_mm2() const { return outline_mm.empty() ? size_mm.x * size_mm.y : outline_area_mm2(outline_mm); }

Vec2 DeckPlan::world_mm(Vec2 own) const {
    return centre_mm + own.x * length_axis + own.y * Vec2{-length_axis.y, length_axis.x};
}

Vec2 DeckPlan::centroid_mm() const {
    return outline_mm.empty() ? centre_mm : world_mm(outline_centroid_mm(outline_mm));
}

DeckPlan deck_plan(const Setup& setup, const Opening& opening) {
    const Mold& mold = *opening.mold;
    const double c = std::cos(opening.turn_rad);
    const double s = std::sin(opening.turn_rad);
    DeckPlan deck;
    deck.length_axis = {c, s};
    Vec2 middle{0.0};
    if (!mold.deck_outline_mm.empty()) {
        Vec2 low = mold.deck_outline_mm.front();
        Vec2 high = low;
        for (const Vec2& corner : mold.deck_outline_mm) {
            low = glm::min(low, corner);
            high = glm::max(high, corner);
        }
        deck.size_mm = high - low;
        middle = 0.5 * (low + high);
        deck.stated = true;
        for (const Vec2& corner : mold.deck_outline_mm) {
            deck.outline_mm.push_back(corner - middle);
        }
    } else if (mold.deck_size_mm) {
        deck.size_mm = *mold.deck_size_mm;
        deck.stated = true;
    } else {
        const Box lower = bounds_of(*mold.lower.mesh);
        const Box upper = bounds_of(*mold.upper.mesh);
        const Vec3 low = glm::max(lower.low_mm, upper.low_mm);
        const Vec3 high = glm::min(lower.high_mm, upper.high_mm);
        deck.size_mm = {std::max(0.0, high.x - low.x), std::max(0.0, high.y - low.y)};
        middle = {0.5 * (low.x + high.x), 0.5 * (low.y + high.y)};
    }
    deck.centre_mm =
        setup.press->platen.centre_mm + opening.at_mm + Vec2{c * middle.x - s * middle.y, s * middle.x + c * middle.y};
    return deck;
}

std::vector<Vec2> deck_outline(const Mold& mold) {
    if (!mold.deck_outline_mm.empty()) {
        return mold.deck_outline_mm;
    }
    if (!mold.deck_size_mm) {
        return {};
    }
    const Vec2 half = 0.5 * *mold.deck_size_mm;
    return {{-half.x, -half.y}, {half.x, -half.y}, {half.x, half.y}, {-half.x, half.y}};
}

double height_difference_mm(const DeckPlan& deck, Slope slope) {
    const double along = slope.x * deck.length_axis.x + slope.y * deck.length_axis.y;
    const double across = -slope.x * deck.length_axis.y + slope.y * deck.length_axis.x;
    return std::abs(along) * deck.size_mm.x + std::abs(across) * deck.size_mm.y;
}

} // namespace evenclose
