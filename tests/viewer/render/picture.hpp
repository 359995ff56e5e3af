// tests/viewer/render/picture.hpp: asks a picture what is where.
#pragma once

#include "viewer/render/frame.hpp"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <functional>

namespace evenclose::test {

using Pixel = std::array<int, 3>;

inline Pixel pixel(const Image& image, int x, int y) {
    const std::size_t at =
        4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width) + static_cast<std::size_t>(x));
    return {image.rgba[at], image.rgba[at + 1], image.rgba[at + 2]};
}
inline int difference(const Pixel& a, const Pixel& b) {
    return std::max({std::abs(a[0] - b[0]), std::abs(a[1] - b[1]), std::abs(a[2] - b[2])});
}
inline int brightness(const Pixel& p) { return (2 * p[0] + 5 * p[1] + p[2]) / 8; }

/// Half-open: low <= x < high.
struct Rectangle {
    int left = 1 << 30, top = 1 << 30, right = 0, bottom = 0;
    [[nodiscard]] bool empty() const { return right <= left; }
    [[nodiscard]] bool holds(int x, int y) const { return x >= left && x < right && y >= top && y < bottom; }
};
/// The least rectangle round the pixels that differ between two pictures of one size by more than `more_than` of 255.
inline Rectangle changed(const Image& a, const Image& b, int more_than = 12) {
    Rectangle found;
    for (int y = 0; y < a.height; ++y) {
        for (int x = 0; x < a.width; ++x) {
            if (difference(pixel(a, x, y), pixel(b, x, y)) > more_than) {
                found.left = std::min(found.left, x);
                found.right = std::max(found.right, x + 1);
                found.top = std::min(found.top, y);
                found.bottom = std::max(found.bottom, y + 1);
            }
        }
    }
    return found;
}

} // namespace evenclose::test
