// viewer/ui/section_handle.hpp: the knob by which a section's plane is dragged along its axis.
//
// It stands at the middle of the side of the plane's outline that is highest in the picture, or within the picture's rim
// if that is outside. A drag is taken along the axis as it is seen; seen end on, upward brings the plane nearer.
#pragma once

#include "viewer/ui/panel.hpp"

#include <optional>

namespace evenclose {

/// How far a drag by `by_px` takes the plane along its axis, mm. `place_mm`: on the plane, in front of the eye; `height_px`: of
/// the picture. Pure.
[[nodiscard]] double plane_dragged_by(const SectionCut& cut, const Camera& camera, const Vec3& place_mm,
                                      double height_px, Vec2 by_px);

class SectionHandle {
public:
    /// Takes presses; call before what lies under it does.
    void take(const Desk& desk, const Rect& picture);
    /// A press at (x, y) that what lies under it was given: the cursor had gone on when the frame was drawn. Whether it is
    /// the knob's.
    [[nodiscard]] bool grab(const App& app, float x, float y);
    void draw(const Desk& desk, const Rect& picture) const;
    [[nodiscard]] bool held() const { return held_.has_value(); }

private:
    struct Held {
        SectionCut from;
        float x = 0, y = 0; // where it was taken
        Vec3 place_mm{0.0};
    };
    std::optional<Held> held_;
    std::optional<Vec2> at_; // in this frame
    Vec3 place_mm_{0.0};
    float reach_ = 0;
    bool hovered_ = false;
};

} // namespace evenclose
