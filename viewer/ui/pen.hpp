// viewer/ui/pen.hpp: draws words, lines and marks in the window's look, and the few things that can be pressed.
//
// Threads: the window's own, between Dear ImGui's NewFrame and Render.
#pragma once

#include "viewer/ui/fonts.hpp"
#include "viewer/ui/layout.hpp"
#include "viewer/ui/look.hpp"
#include "viewer/ui/places.hpp"
#include "viewer/ui/word_wrap.hpp"

#include <string>
#include <string_view>

namespace evenclose {

enum class Align { left, middle, right };

struct Pressable {
    bool pressed = false, hovered = false, held = false;
};

class Pen {
public:
    /// Draws into Dear ImGui's current window.
    Pen(const Fonts& fonts, float scale, Places& places);

    [[nodiscard]] float px(float points) const { return points * scale_; }
    [[nodiscard]] float scale() const { return scale_; }
    [[nodiscard]] ImDrawList& list() const { return *list_; }
    [[nodiscard]] Places& places() const { return places_; }
    [[nodiscard]] const Fonts& fonts() const { return fonts_; }

    void fill(const Rect& rect, ImU32 colour, float round_pt = 0) const;
    void outline(const Rect& rect, ImU32 colour, float width_pt = 1, float round_pt = 0) const;
    void line(float x0, float y0, float x1, float y1, ImU32 colour, float width_pt = 1) const;
    void dashed(float x0, float y0, float x1, float y1, ImU32 colour, float width_pt = 1, float dash_pt = 4) const;

    [[nodiscard]] float height_of(Face face) const;
    [[nodiscard]] float width_of(Face face, std::string_view words) const;
    /// On one line; shortened with "..." where it is wider than `room`, which is noted. Returns the width drawn.
    /// x is the left, middle or right end.
    // NOLINTNEXTLINE(modernize-use-nodiscard): mostly it is drawn for its own sake
    float text(float x, float y, Face face, ImU32 colour, std::string_view words, float room = 1e9F,
               Align align = Align::left) const;
    /// Broken into lines at blanks, never inside a number or between it and its unit; returns the height drawn.
    // NOLINTNEXTLINE(modernize-use-nodiscard)
    float wrapped(float x, float y, float room, Face face, ImU32 colour, std::string_view words) const;
    [[nodiscard]] float wrapped_height(float room, Face face, std::string_view words) const;

    /// A mark whose shape tells the verdict: jaws wide open (go), all but closed (marginal), one solid block (no-go), a
    /// dashed box (not checked). `size` in pixels.
    void verdict_mark(float x, float y, float size, Verdict verdict) const;

    /// Takes presses in `rect`; draws nothing.
    [[nodiscard]] Pressable pressable(const char* id, const Rect& rect) const;
    /// A word that can be pressed; `chosen` ones are underlined by the chalk line. Notes its place under `id`.
    [[nodiscard]] bool button(const char* id, const Rect& rect, std::string_view words, bool chosen = false,
                              const char* tip = nullptr, Face face = Face::text) const;
    /// A key with the weight of an answer: filled where it is the main one, else outlined; `bad`: something is lost by it.
    /// Notes its place under `id`.
    [[nodiscard]] bool answer(const char* id, const Rect& rect, std::string_view words, bool main,
                              bool bad = false) const;
    /// Shows `words` beside the cursor, in lines.
    void tip(std::string_view words) const;
    /// The same while the mouse is over `rect`, of what cannot be pressed.
    void hint(const Rect& rect, std::string_view words) const;

private:
    [[nodiscard]] bool under_mouse(const Rect& rect) const;
    void note_number(const Rect& rect, std::string_view words) const;
    void draw_line(float x, float y, const ImFont& font, ImU32 colour, std::string_view words) const;

    const Fonts& fonts_;
    float scale_;
    Places& places_;
    ImDrawList* list_;
};

} // namespace evenclose
