#include "viewer/ui/text_field.hpp"

#include <GLFW/glfw3.h>
#include <imgui_stdlib.h>

#include <array>
#include <utility>

namespace evenclose {
namespace {

// A wish takes hold in the next frame.
constexpr int kHeardWithin = 3;

struct Called {
    bool *to_end, *to_mark, *tabbed;
    int* rows_down;
    bool at_end; // the cursor does not leave the end
};

int on_call(ImGuiInputTextCallbackData* data) {
    const auto& called = *static_cast<Called*>(data->UserData);
    if (data->EventFlag == ImGuiInputTextFlags_CallbackCompletion) {
        *called.tabbed = true;
    } else if (data->EventFlag == ImGuiInputTextFlags_CallbackHistory) {
        *called.rows_down = data->EventKey == ImGuiKey_DownArrow ? 1 : -1;
    } else if (std::exchange(*called.to_end, false)) {
        data->CursorPos = data->BufTextLen;
        data->SelectionStart = data->SelectionEnd = data->BufTextLen;
    } else if (std::exchange(*called.to_mark, false)) {
        data->SelectAll();
    } else if (called.at_end && !(data->SelectionStart == 0 && data->SelectionEnd == data->BufTextLen)) {
        data->CursorPos = data->SelectionStart = data->SelectionEnd = data->BufTextLen;
    }
    return 0;
}

} // namespace

void TextField::begin(std::string text, bool marked) {
    text_ = std::move(text);
    open_ = wants_focus_ = true;
    wants_end_ = !marked;
    wants_mark_ = marked;
    active_ = was_active_ = false;
}

void TextField::end() {
    open_ = active_ = was_active_ = wants_focus_ = wants_end_ = wants_mark_ = false;
    text_.clear();
}

TextField::End TextField::draw(const Pen& pen, const Rect& rect, const char* id, bool keys_waiting, Face face) {
    if (keys_waiting && !active_ && !wants_end_ && was_active_) {
        wants_focus_ = true;
    }
    // Dear ImGui lets a wish for the keyboard fall where another item takes it in the same frame; then it is wished again, or
    // what is typed would wait for ever.
    const bool heard = active_ || wants_focus_ || (was_active_ && !wants_end_ && !wants_mark_);
    frames_unheard_ = heard ? 0 : frames_unheard_ + 1;
    if (frames_unheard_ > kHeardWithin) {
        wants_focus_ = true;
        frames_unheard_ = 0;
    }
    ImGui::SetCursorScreenPos({rect.x, rect.y});
    ImGui::SetNextItemWidth(rect.width);
    if (std::exchange(wants_focus_, false)) {
        ImGui::SetKeyboardFocusHere(); // once: it takes hold in the next frame
    }
    ImFont* font = pen.fonts().of(face);
    ImGui::PushFont(font);
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, pen.px(1));
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {pen.px(5), 0.5F * (rect.height - font->FontSize)});
    ImGui::PushStyleColor(ImGuiCol_Border, colour::accent);
    bool tabbed = false;
    int rows_down = 0;
    Called called{&wants_end_, &wants_mark_, &tabbed, &rows_down, over_ == Over::grid};
    // Tab is asked for as "completion", since it would else wander off to whatever can be typed into.
    const bool entered = ImGui::InputText(id, &text_,
                                          ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_CallbackAlways |
                                              ImGuiInputTextFlags_CallbackCompletion |
                                              (over_ != Over::nothing ? ImGuiInputTextFlags_CallbackHistory : 0),
                                          on_call, &called);
    active_ = ImGui::IsItemActive();
    const bool deactivated = ImGui::IsItemDeactivated();
    ImGui::PopStyleColor();
    ImGui::PopStyleVar(2);
    ImGui::PopFont();
    was_active_ = was_active_ || active_;
    if (entered) {
        return End::entered;
    }
    if (rows_down != 0) {
        return rows_down > 0 ? End::down : End::up;
    }
    if (active_ && over_ == Over::grid) {
        constexpr std::array<std::pair<int, End>, 6> keys{{{GLFW_KEY_LEFT, End::leftward},
                                                           {GLFW_KEY_RIGHT, End::rightward},
                                                           {GLFW_KEY_PAGE_UP, End::page_up},
                                                           {GLFW_KEY_PAGE_DOWN, End::page_down},
                                                           {GLFW_KEY_HOME, End::first},
                                                           {GLFW_KEY_END, End::last}}};
        for (const auto& [key, end] : keys) {
            if (ImGui::IsKeyPressed(key)) {
                return end;
            }
        }
    }
    if (tabbed) {
        return ImGui::GetIO().KeyShift ? End::previous : End::next;
    }
    if (active_ && ImGui::GetIO().KeyCtrl && ImGui::IsKeyPressed(GLFW_KEY_S, false)) {
        return End::save;
    }
    if (deactivated) {
        return ImGui::IsKeyPressed(GLFW_KEY_ESCAPE, false) ? End::given_up : End::left;
    }
    return End::none;
}

} // namespace evenclose
