// viewer/ui/free_place.hpp: a slip of paper over the picture moved aside where it would cover another.
#pragma once

#include "viewer/ui/layout.hpp"

#include <vector>

namespace evenclose {

[[nodiscard]] inline bool overlap(const Rect& a, const Rect& b) {
    return a.x < b.right() && b.x < a.right() && a.y < b.bottom() && b.y < a.bottom();
}

/// The place nearest to `wanted`, of its size and within `picture`, that keeps `gap` from all that is taken; `wanted`, moved
/// into the picture, where there is none. Pure.
[[nodiscard]] Rect free_place(const Rect& wanted, const Rect& picture, const std::vector<Rect>& taken, float gap);

} // namespace evenclose
