// viewer/ui/picture_panel.hpp: the press in the middle of the window, turned, shifted and brought near by hand.
#pragma once

#include "viewer/app/mold_snap.hpp"
#include "viewer/ui/body_labels.hpp"
#include "viewer/ui/loupe.hpp"
#include "viewer/ui/measure_layer.hpp"
#include "viewer/ui/panel.hpp"
#include "viewer/ui/picture_frame.hpp"
#include "viewer/ui/picture_view.hpp"
#include "viewer/ui/section_handle.hpp"

#include <optional>
#include <string>
#include <utility>

namespace evenclose {

class PicturePanel {
public:
    void draw(const Desk& desk, const Rect& rect);

    [[nodiscard]] std::uint64_t pictures() const { return view_.drawn(); }
    /// A hand is on the camera or the rail: pictures follow each other.
    void set_busy_hand(bool busy) { busy_hand_ = busy; }
    /// Seconds until it would like to look again without any input; none if never.
    [[nodiscard]] std::optional<double> due_s() const;

private:
    struct Drag {
        Camera start;
        Vec3 pivot_mm{0.0};
        float x = 0, y = 0; // where the button went down
        bool shifts = false;
        std::uint32_t body = 0;       // under the cursor when the button went down
        Vec3 at_mm{0.0};              // the place on it
        bool right = false;           // by the right button
        int clicks = 1;               // the second of a double click
        float seen_x = x, seen_y = y; // where the cursor was when it was last followed
    };

    /// A mold in the hand.
    struct MoldInHand {
        std::size_t opening = 0;
        Vec3 grabbed_mm{0.0};
        Vec2 stood_mm{0.0}; // where it stands in the set-up
        SnapTargets targets;
        std::string snapped_to; // in words; empty: to nothing
    };

    void image(const Desk& desk, const Rect& rect);
    [[nodiscard]] bool take_mold(const App& app, const Rect& rect, float x, float y);
    void move_mold(const Desk& desk, const Rect& rect);
    void move_note(const Desk& desk, const Rect& rect, float y) const;
    void hands(const Desk& desk, const Rect& rect);
    void name_under_cursor(const Desk& desk, const Rect& rect, bool hovered);
    void tools(const Desk& desk, const Rect& rect) const;
    void tilt_note(const Desk& desk, const Rect& rect) const;
    void bent_note(const Desk& desk, const Rect& rect) const;
    void force_tags(const Desk& desk, const Rect& rect) const;
    void load_note(const Desk& desk, const Rect& rect, float y) const;
    void tag(const Desk& desk, const Rect& rect) const;
    [[nodiscard]] Rect seeing_chips(const Desk& desk, const Rect& rect) const;
    void released(const Desk& desk, const Rect& rect);
    void labels(const Desk& desk, const Rect& rect);
    void scale(const Desk& desk, const Rect& rect) const;
    [[nodiscard]] Vec3 point_under(const App& app, const Rect& rect, float x, float y);

    PictureView view_;
    Loupe loupe_;
    SectionHandle section_handle_;
    MeasureLayer measure_;
    BodyLabels labels_;
    std::uint64_t labels_of_ = 0; // of which picture
    bool moving_ = false;
    std::optional<PictureKey> drawn_;
    std::optional<Drag> drag_;
    std::optional<MoldInHand> mold_;
    bool busy_hand_ = false;
    float rest_x_ = 0, rest_y_ = 0; // where the cursor rests
    double rests_since_s_ = 0;
    bool asked_ = true; // whether what lies under it was asked for
    std::string under_;
    std::optional<MeasuredPicture> measured_;
};

/// What stands in the picture's place as long as there is no press: what to do, or what is wrong with the file.
void no_press_panel(const Desk& desk, const Rect& rect);

} // namespace evenclose
