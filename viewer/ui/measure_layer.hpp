// viewer/ui/measure_layer.hpp: the measure in the picture: what a click would take, the dimension line, its number.
#pragma once

#include "viewer/render/snap.hpp"
#include "viewer/ui/panel.hpp"
#include "viewer/ui/picture_view.hpp"

#include <optional>

namespace evenclose {

class MeasureLayer {
public:
    /// What the cursor means, if a measure is taken. Call in every frame.
    void hover(const Desk& desk, const Rect& picture, PictureView& view, bool hovered);
    /// A click at (x, y) of the window.
    void click(const Desk& desk, const Rect& picture, PictureView& view, float x, float y) const;
    void draw(const Desk& desk, const Rect& picture) const;

private:
    std::optional<Snapped> under_;
};

} // namespace evenclose
