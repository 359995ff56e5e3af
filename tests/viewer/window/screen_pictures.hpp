// tests/viewer/window/screen_pictures.hpp: what a picture of the screen shows, in numbers.
#pragma once

#include "viewer/render/frame.hpp"
#include "viewer/ui/layout.hpp"

#include <cstdlib>

namespace evenclose::test {

struct Pixel {
    int red, green, blue;
};

inline Pixel pixel(const Image& image, int x, int y) {
    const std::size_t at = (static_cast<std::size_t>(y) * image.width + x) * 4;
    return {image.rgba[at], image.rgba[at + 1], image.rgba[at + 2]};
}

/// How many pixels inside `rect` differ by more than `by` in some channel.
inline int differing(const Image& a, const Image& b, const Rect& rect, int by = 12) {
    int count = 0;
    for (int y = static_cast<int>(rect.y); y < static_cast<int>(rect.bottom()); ++y) {
        for (int x = static_cast<int>(rect.x); x < static_cast<int>(rect.right()); ++x) {
            const Pixel p = pixel(a, x, y);
            const Pixel q = pixel(b, x, y);
            count += std::abs(p.red - q.red) > by || std::abs(p.green - q.green) > by || std::abs(p.blue - q.blue) > by;
        }
    }
    return count;
}

/// Mean height on the screen of the pixels inside `rect` that are as blue as the platen is painted, and how many.
struct Found {
    double y = 0;
    int count = 0;
};
inline Found platen_pixels(const Image& image, const Rect& rect) {
    Found found;
    for (int y = static_cast<int>(rect.y); y < static_cast<int>(rect.bottom()); ++y) {
        for (int x = static_cast<int>(rect.x); x < static_cast<int>(rect.right()); ++x) {
            const Pixel p = pixel(image, x, y);
            if (p.blue > p.red + 25 && p.blue > p.green + 8 && p.red < 110) {
                found.y += y;
                ++found.count;
            }
        }
    }
    found.y /= (found.count > 0 ? found.count : 1);
    return found;
}

} // namespace evenclose::test
