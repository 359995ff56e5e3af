// scene/outline/plane_map.hpp: an affine map of the plane, as "transform" in SVG writes it: matrix(a b c d e f).
#pragma once

#include "scene/vec.hpp"

namespace evenclose {

struct PlaneMap {
    Vec2 x{1, 0}, y{0, 1}; // where the axes go: (a, b) and (c, d)
    Vec2 shift{0.0};       // (e, f)

    [[nodiscard]] Vec2 turn(Vec2 direction) const { return direction.x * x + direction.y * y; }
    [[nodiscard]] Vec2 apply(Vec2 at) const { return turn(at) + shift; }
};

/// `first` is applied first.
[[nodiscard]] inline PlaneMap operator*(const PlaneMap& then, const PlaneMap& first) {
    return {then.turn(first.x), then.turn(first.y), then.apply(first.shift)};
}

} // namespace evenclose
