// viewer/ui/text_field.hpp: one line that is typed into, ready at once however slow the frames (see text_keys.hpp).
//
// Threads: the window's own, between Dear ImGui's NewFrame and Render.
#pragma once

#include "viewer/ui/pen.hpp"

#include <string>

namespace evenclose {

class TextField {
public:
    /// How the typing ended in this frame. left: something else was pressed. save: Ctrl S. up to last: of a field over a
    /// list, the row above or below; over a grid, where in it; the typing goes on.
    enum class End {
        none,
        entered,
        next,
        previous,
        given_up,
        left,
        save,
        up,
        down,
        leftward,
        rightward,
        page_up,
        page_down,
        first,
        last
    };
    /// Whose keys the arrows are. Over a grid all of them are the grid's, and what is typed goes behind what is there.
    enum class Over { nothing, list, grid };

    explicit TextField(Over over = Over::nothing) : over_(over) {}

    /// Takes the keys, all of `text` marked so that typing replaces it, or the cursor behind it.
    void begin(std::string text, bool marked = true);
    void end();
    /// Needs: begin() before. `keys_waiting`: something was typed; the field is taken up if it is not.
    [[nodiscard]] End draw(const Pen& pen, const Rect& rect, const char* id, bool keys_waiting,
                           Face face = Face::small);

    [[nodiscard]] const std::string& text() const { return text_; }
    void set_text(std::string text) { begin(std::move(text), false); }
    [[nodiscard]] bool takes_keys() const { return active_ && !wants_end_ && !wants_mark_; }
    [[nodiscard]] bool takes_up() const { return open_ && (wants_focus_ || !active_ || wants_end_ || wants_mark_); }
    [[nodiscard]] bool open() const { return open_; }

private:
    std::string text_;
    Over over_;
    bool open_ = false, active_ = false, was_active_ = false;
    bool wants_focus_ = false, wants_end_ = false, wants_mark_ = false;
    int frames_unheard_ = 0; // since the keyboard was wished for
};

} // namespace evenclose
