#include "viewer/ui/free_place.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace evenclose {

Rect free_place(const Rect& wanted, const Rect& picture, const std::vector<Rect>& taken, float gap) {
    const auto within = [&](Rect rect) {
        rect.x = std::clamp(rect.x, picture.x, std::max(picture.x, picture.right() - rect.width));
        rect.y = std::clamp(rect.y, picture.y, std::max(picture.y, picture.bottom() - rect.height));
        return rect;
    };
    // The nearest free place touches what is in the way, or the picture's edge, in either direction.
    std::vector<float> across{wanted.x};
    std::vector<float> down{wanted.y};
    for (const Rect& rect : taken) {
        across.insert(across.end(), {rect.x - gap - wanted.width, rect.right() + gap});
        down.insert(down.end(), {rect.y - gap - wanted.height, rect.bottom() + gap});
    }
    const Rect home = within(wanted);
    Rect best = home;
    float least = std::numeric_limits<float>::max();
    for (const float x : across) {
        for (const float y : down) {
            const Rect place = within({x, y, wanted.width, wanted.height});
            const float away = std::hypot(place.x - home.x, place.y - home.y);
            const Rect kept{place.x - 0.9F * gap, place.y - 0.9F * gap, place.width + 1.8F * gap,
                            place.height + 1.8F * gap};
            if (away < least &&
                std::none_of(taken.begin(), taken.end(), [&](const Rect& rect) { return overlap(kept, rect); })) {
                least = away;
                best = place;
            }
        }
    }
    return best;
}

} // namespace evenclose
