#include "viewer/ui/text_keys.hpp"

#include <GLFW/glfw3.h>
#include <imgui.h>

#include <iterator>

namespace evenclose {

void TextKeys::add(const Typed& typed) {
    // Keys that make a character mean nothing by themselves; without them a whole word is shown in one frame.
    const auto* press = std::get_if<KeyPress>(&typed);
    const bool mute = press != nullptr && press->key < GLFW_KEY_ESCAPE &&
                      (press->mods & (GLFW_MOD_CONTROL | GLFW_MOD_ALT | GLFW_MOD_SUPER)) == 0;
    if (!mute) {
        waiting_.push_back(typed);
    }
}

void TextKeys::show_next(const std::function<bool(int)>& held, bool ready) {
    ImGuiIO& io = ImGui::GetIO();
    bool again_too_soon = false;
    if (shown_ >= 0) {
        const auto* next = waiting_.empty() ? nullptr : std::get_if<KeyPress>(&waiting_.front());
        again_too_soon = next != nullptr && next->key == shown_;
        io.KeysDown[shown_] = !again_too_soon && held(shown_at_); // a key that stays down repeats by itself
        if (!io.KeysDown[shown_]) {
            shown_ = -1;
        }
    }
    io.KeyCtrl = held(GLFW_KEY_LEFT_CONTROL) || held(GLFW_KEY_RIGHT_CONTROL);
    io.KeyShift = held(GLFW_KEY_LEFT_SHIFT) || held(GLFW_KEY_RIGHT_SHIFT);
    if (again_too_soon || waiting_.empty() || !ready) {
        return;
    }
    io.KeyCtrl = io.KeyShift = false; // what is shown now was typed with what was held then
    if (const auto* press = std::get_if<KeyPress>(&waiting_.front())) {
        if (press->key >= 0 && press->key < static_cast<int>(std::size(io.KeysDown))) {
            if (shown_ >= 0) {
                io.KeysDown[shown_] = false;
            }
            io.KeysDown[press->key] = true;
            shown_ = press->key;
            shown_at_ = press->held_at();
        }
        io.KeyCtrl = (press->mods & GLFW_MOD_CONTROL) != 0;
        io.KeyShift = (press->mods & GLFW_MOD_SHIFT) != 0;
        waiting_.pop_front();
        return; // characters shown in the same frame would be taken before it, or dropped for Ctrl
    }
    while (!waiting_.empty() && std::holds_alternative<char32_t>(waiting_.front())) {
        io.AddInputCharacter(static_cast<unsigned>(std::get<char32_t>(waiting_.front())));
        waiting_.pop_front();
    }
}

} // namespace evenclose
