// viewer/ui/panel.hpp: what every panel is given, and the panels. A panel reads the state, draws, and hands back intents;
// it changes nothing.
#pragma once

#include "viewer/app/app.hpp"
#include "viewer/ui/glfw_window.hpp"
#include "viewer/ui/pen.hpp"

#include <optional>
#include <utility>
#include <vector>

namespace evenclose {

/// What panels keep from frame to frame that is nobody else's business.
struct PanelMemory {
    std::optional<std::size_t> ledger_scrolled_to; // the choice that was last brought into sight
};

struct Desk {
    const App& app;
    const Fonts& fonts;
    float scale;
    double progress;      // of the job that runs, 0 to 1
    double plan_progress; // of the plan that is being made
    Places& places;
    std::vector<Intent>& intents;
    PanelMemory& memory;
    /// Where a mouse button went down since the last frame: slow frames see the cursor further on already.
    std::optional<Cursor> pressed_at;
    double film_progress = 0;  // of the film that is being made, 0 to 1
    double molds_progress = 0; // of the press being asked about molds
    double compare_progress = 0;

    [[nodiscard]] Pen pen() const { return {fonts, scale, places}; }
    void want(Intent intent) const { intents.push_back(std::move(intent)); }
};

// Each draws within `rect`. Needs: between Dear ImGui's NewFrame and Render, in a window that covers it.
void header_panel(const Desk& desk, const Rect& rect);
void bench_panel(const Desk& desk, const Rect& rect);
void rail_panel(const Desk& desk, const Rect& rect);
void ledger_panel(const Desk& desk, const Rect& rect);
/// Draws a sheet's paper in the middle of the veiled window and says where it is. "Close", or a press beside it, closes.
[[nodiscard]] Rect begin_sheet(const Desk& desk, const Rect& window, const char* id, const char* title, float width_pt,
                               float height_pt);
void key_sheet(const Desk& desk, const Rect& window);
/// The guide, a chapter at a time.
void guide_sheet(const Desk& desk, const Rect& window);
void caution_sheet(const Desk& desk, const Rect& window);
/// The schedule that the `time` check made, or why there is none.
void week_sheet(const Desk& desk, const Rect& window);
/// The ways to press more, as a diagram to click; or how far the work on it is.
void plan_sheet(const Desk& desk, const Rect& window);
/// What was saved, undone or is in the way, and what stands against edits that cannot be used yet; over the picture's foot.
void notice_strip(const Desk& desk, const Rect& picture);
void unsaved_sheet(const Desk& desk, const Rect& window);
void left_behind_sheet(const Desk& desk, const Rect& window);
void changed_sheet(const Desk& desk, const Rect& window);
void shared_sheet(const Desk& desk, const Rect& window);
void compare_sheet(const Desk& desk, const Rect& window);
/// Over the press while the desktop's dialog asks for a file.
void asking_sheet(const Desk& desk, const Rect& window);
void which_half_sheet(const Desk& desk, const Rect& window);

} // namespace evenclose
