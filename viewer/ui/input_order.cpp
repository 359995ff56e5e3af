#include "viewer/ui/input_order.hpp"

#include <algorithm>

namespace evenclose {

namespace {

// Dear ImGui takes a press in one frame and its release in the next, where both came at once.
constexpr int kFramesToSee = 2;
// No hand is so far ahead of the frames: then it is better to keep up than to keep order.
constexpr std::size_t kMostHeld = 40;

} // namespace

std::optional<InputEvent> InputOrder::next(bool text_waits) {
    if (events_.empty()) {
        return {};
    }
    const InputEvent event = events_.front();
    const bool waits = events_.size() <= kMostHeld;
    if (const auto* button = std::get_if<ButtonMove>(&event)) {
        // Of two presses in a frame it would see one.
        if (waits && button->down && (text_waits || moved_)) {
            return {};
        }
        moved_ = true;
        frames_to_see_ = kFramesToSee;
    } else if (waits && frames_to_see_ > 0) {
        return {};
    }
    events_.pop_front();
    return event;
}

void InputOrder::frame_drawn() {
    moved_ = false;
    frames_to_see_ = std::max(frames_to_see_ - 1, 0);
}

} // namespace evenclose
