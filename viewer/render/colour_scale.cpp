#include "viewer/render/colour_scale.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// Light to dark on each side; L* falls from 90 to 35 on both (CIE 1976).
constexpr Colour kBare{0.93F, 0.91F, 0.86F, 1};
constexpr Colour kWide{0.55F, 0.75F, 0.90F, 1}, kWidest{0.04F, 0.29F, 0.56F, 1};
constexpr Colour kNarrow{0.92F, 0.62F, 0.34F, 1}, kNarrowest{0.60F, 0.24F, 0.02F, 1};
// Within tolerance a value shows half of the first outer colour at most: the step stays.
constexpr double kWithin = 0.50;

Colour mix(const Colour& a, const Colour& b, double share) {
    const auto s = static_cast<float>(share);
    return {a.red + s * (b.red - a.red), a.green + s * (b.green - a.green), a.blue + s * (b.blue - a.blue), 1};
}

constexpr Colour kPaper{0.985F, 0.975F, 0.945F, 1}, kInk{0.13F, 0.19F, 0.23F, 1};

} // namespace

Colour ColourScale::at(double value) const {
    const double size = std::abs(value);
    const Colour& first = value >= 0 ? kWide : kNarrow;
    const Colour& last = value >= 0 ? kWidest : kNarrowest;
    if (size <= tolerance) {
        return mix(kBare, first, tolerance > 0 ? kWithin * size / tolerance : 0);
    }
    return mix(first, last, most > tolerance ? std::min(1.0, (size - tolerance) / (most - tolerance)) : 1);
}

PictureBox paint_scale(Image& image, const ColourScale& scale, double points) {
    Overlay over(image);
    const double size = 14 * points;
    const double line = over.height_of(size);
    const double margin = 14 * points;
    const double bar_wide = 18 * points;
    const double bar_high = std::min(200.0 * points, 0.5 * image.height);
    const double beside = bar_wide + 14 * points; // where what is said of the bar begins
    double words_wide = std::max({over.width_of(scale.title, size, true), over.width_of(scale.high, size),
                                  over.width_of(scale.low, size), beside + over.width_of(scale.lines, size)});
    for (const ScaleTick& tick : scale.ticks) {
        words_wide = std::max(words_wide, beside + over.width_of(tick.words, size));
    }
    const double high = bar_high + (scale.lines.empty() ? 3 : 4) * line + 2 * margin + 20 * points;
    const double left = margin;
    const double top = image.height - margin - high;
    over.fill(left, top, words_wide + 2 * margin, high, kPaper);
    over.outline(left, top, words_wide + 2 * margin, high, points, kInk);
    const double bar_left = left + margin;
    over.words(bar_left, top + margin, size, scale.title, kInk, true);
    over.words(bar_left, top + margin + line, size, scale.high, kInk);
    const double bar_top = top + margin + 2 * line + 8 * points;
    const int rows = std::max(2, static_cast<int>(bar_high));
    for (int row = 0; row < rows; ++row) {
        const double value = scale.most * (1.0 - 2.0 * row / (rows - 1));
        // Half a pixel over the next one, so that nothing shines through between two.
        over.fill(bar_left, bar_top + row * bar_high / rows, bar_wide, bar_high / rows + (row + 1 < rows ? 0.5 : 0.0),
                  scale.at(value));
    }
    over.outline(bar_left, bar_top, bar_wide, bar_high, points, kInk);
    for (const ScaleTick& tick : scale.ticks) {
        const double row = bar_top + std::clamp(0.5 - 0.5 * tick.value / scale.most, 0.0, 1.0) * bar_high;
        over.line(tick.tolerance ? bar_left : bar_left + bar_wide, row,
                  bar_left + bar_wide + (tick.tolerance ? 10 : 5) * points, row, (tick.tolerance ? 2 : 1) * points,
                  kInk);
        over.words(bar_left + beside, row - 0.5 * line, size, tick.words, kInk);
    }
    double foot = bar_top + bar_high + 8 * points;
    over.words(bar_left, foot, size, scale.low, kInk);
    if (!scale.lines.empty()) {
        foot += line;
        over.line(bar_left, foot + 0.5 * line, bar_left + bar_wide, foot + 0.5 * line, 2 * points, kInk);
        over.words(bar_left + beside, foot, size, scale.lines, kInk);
    }
    return {left, top, words_wide + 2 * margin, high};
}

} // namespace evenclose
