// viewer/ui/layout.hpp: where the panels of the window stand. Pure arithmetic, tested without a screen.
//
// Everything is in pixels of the window, from its top left corner. Sizes in the panels are thought in points that are
// `scale` pixels each.
#pragma once

namespace evenclose {

struct Rect {
    float x = 0, y = 0, width = 0, height = 0;

    [[nodiscard]] float right() const { return x + width; }
    [[nodiscard]] float bottom() const { return y + height; }
    [[nodiscard]] float middle_x() const { return x + 0.5F * width; }
    [[nodiscard]] float middle_y() const { return y + 0.5F * height; }
    [[nodiscard]] bool contains(float at_x, float at_y) const {
        return at_x >= x && at_x < right() && at_y >= y && at_y < bottom();
    }
    [[nodiscard]] Rect inset(float by_x, float by_y) const {
        return {x + by_x, y + by_y, width - 2 * by_x, height - 2 * by_y};
    }
};

struct Layout {
    Rect header, bench, picture, rail, ledger; // fill the window, none over another
};

// Below this many points a window cannot hold all panels without cutting words off.
inline constexpr float kLeastWidth_pt = 1080, kLeastHeight_pt = 640;

/// The scale to draw with: the display's own, or less where the window would hold fewer points than it needs. Never
/// below 1 but for a window that is itself smaller than those points. In steps of 1/8, so that fonts are not made anew
/// at every pixel while a window is dragged larger.
[[nodiscard]] float fitting_scale(float width, float height, float display_scale);

/// Needs: width and height at least 1, scale > 0.
[[nodiscard]] Layout layout_for(float width, float height, float scale);

} // namespace evenclose
