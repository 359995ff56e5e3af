// viewer/ui/input_order.hpp: keys and mouse buttons in the order in which they were pressed, however slow the frames.
//
// Keys are understood at once, a click only by the frames that see it, and what is typed into a field is shown to it by and
// by (text_keys.hpp). A quick hand would have its Esc overtake its click, and its click on "Save" the end of the name that
// it typed. So a key waits until two frames have seen a button go down and up, a press until the field has all that was typed.
//
// Pure but for what it remembers. Threads: the window's own.
#pragma once

#include <cstdint>
#include <deque>
#include <optional>
#include <variant>

namespace evenclose {

struct KeyPress {
    int key = 0, mods = 0; // as GLFW numbers them; with Ctrl the one whose letter the keyboard's layout has there
    bool again = false;    // a held key comes again and again
    int place = -1;        // on a keyboard of the United States, as GLFW numbers keys; -1: that of `key`

    [[nodiscard]] int held_at() const { return place < 0 ? key : place; }
};

struct Cursor {
    float x = 0, y = 0;
};

struct ButtonMove {
    int button = 0, mods = 0; // as GLFW numbers them
    bool down = false;
    Cursor at; // however far the cursor moved since
};

using Typed = std::variant<KeyPress, char32_t>;
using InputEvent = std::variant<KeyPress, char32_t, ButtonMove>;

class InputOrder {
public:
    void add(const InputEvent& event) { events_.push_back(event); }
    /// The next one whose turn it is; none if there is none, or a frame has to be drawn first. `text_waits`: a field has yet
    /// to be shown what was typed before.
    [[nodiscard]] std::optional<InputEvent> next(bool text_waits);
    void frame_drawn();
    [[nodiscard]] bool waiting() const { return !events_.empty(); }

private:
    std::deque<InputEvent> events_;
    int frames_to_see_ = 0; // until a button's move has done what it does
    bool moved_ = false;    // a button, since the last frame
};

} // namespace evenclose
