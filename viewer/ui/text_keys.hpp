// viewer/ui/text_keys.hpp: hands what is typed to Dear ImGui's text fields so that nothing is lost, however slow the frames.
//
// Dear ImGui 1.86 looks at the keyboard once a frame: a key that went down and up in between it never sees, and a
// character typed while it believes Ctrl to be held it drops, and characters it takes before keys. So one press is shown
// to it in a frame, or the characters up to the next press, and a second press of the same key only after a frame in
// which that key was up.
//
// Threads: the window's own.
#pragma once

#include "viewer/ui/input_order.hpp"

#include <deque>
#include <functional>
#include <utility>

namespace evenclose {

class TextKeys {
public:
    void add(const Typed& typed);
    [[nodiscard]] bool waiting() const { return !waiting_.empty(); }
    void clear() { waiting_.clear(); }
    /// What no field took.
    [[nodiscard]] std::deque<Typed> take_waiting() { return std::exchange(waiting_, {}); }

    /// Before NewFrame. `held`: whether a key (as GLFW numbers it) is down now. Without `ready` only tells which keys
    /// went up.
    void show_next(const std::function<bool(int)>& held, bool ready);

private:
    std::deque<Typed> waiting_;
    int shown_ = -1, shown_at_ = -1; // the key that the frame before saw go down, and where it is on the keyboard
};

} // namespace evenclose
