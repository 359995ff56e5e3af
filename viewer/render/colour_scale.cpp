#include "viewer/render/colour_scale.hpp"

#include "viewer/render/small_type.hpp"

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

void paint_scale(Image& image, const ColourScale& scale, double points) {
    const int point = std::max(1, static_cast<int>(std::lround(points)));
    const int line = 7 * 2 * point; // a row of letters, two pixels a dot
    const int margin = 12 * point;
    const int bar_wide = 16 * point;
    const int bar_high = std::min(200 * point, image.height / 2);
    int words_wide =
        std::max({width_of_small(scale.title, 2 * point), width_of_small(scale.high, 2 * point) + bar_wide + 14 * point,
                  width_of_small(scale.low, 2 * point) + bar_wide + 14 * point});
    if (!scale.lines.empty()) {
        words_wide = std::max(words_wide, bar_wide + 14 * point + width_of_small(scale.lines, 2 * point));
    }
    for (const ScaleTick& tick : scale.ticks) {
        words_wide = std::max(words_wide, bar_wide + 14 * point + width_of_small(tick.words, 2 * point));
    }
    const int wide = words_wide + 2 * margin;
    const int high = bar_high + (scale.lines.empty() ? 4 : 6) * line + 3 * margin + 8 * point;
    const int left = margin;
    const int top = image.height - margin - high;
    fill_box(image, left, top, wide, high, kPaper);
    frame_box(image, left, top, wide, high, point, kInk);
    write_small(image, left + margin, top + margin, 2 * point, scale.title, kInk);
    const int bar_left = left + margin;
    const int bar_top = top + 2 * margin + 2 * line + line / 2 + 4 * point;
    const auto row_of = [&](double value) {
        return bar_top + static_cast<int>(std::lround((0.5 - 0.5 * value / scale.most) * (bar_high - 1)));
    };
    for (int row = 0; row < bar_high; ++row) {
        const double value = scale.most * (1.0 - 2.0 * row / (bar_high - 1));
        fill_box(image, bar_left, bar_top + row, bar_wide, 1, scale.at(value));
    }
    frame_box(image, bar_left, bar_top, bar_wide, bar_high, point, kInk);
    for (const ScaleTick& tick : scale.ticks) {
        const int row = std::clamp(row_of(tick.value), bar_top, bar_top + bar_high - 1);
        const int reach = tick.tolerance ? bar_wide + 10 * point : bar_wide + 5 * point;
        fill_box(image, tick.tolerance ? bar_left : bar_left + bar_wide, row - point / 2,
                 tick.tolerance ? reach : reach - bar_wide, tick.tolerance ? 2 * point : point, kInk);
        write_small(image, bar_left + bar_wide + 13 * point, row - line / 2, 2 * point, tick.words, kInk);
    }
    write_small(image, bar_left, bar_top - line - line / 2 - 4 * point, 2 * point, scale.high, kInk);
    const int foot = bar_top + bar_high + line / 2 + 4 * point;
    write_small(image, bar_left, foot, 2 * point, scale.low, kInk);
    if (!scale.lines.empty()) {
        fill_box(image, bar_left, foot + 2 * line, bar_wide, 2 * point, kInk);
        write_small(image, bar_left + bar_wide + 13 * point, foot + 2 * line - line / 2 + point, 2 * point, scale.lines,
                    kInk);
    }
}

} // namespace evenclose
