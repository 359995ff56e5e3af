#include "viewer/ui/command_search.hpp"

#include <algorithm>
#include <string>

namespace evenclose {
namespace {

/// What a command means once the sheet is closed; none where it makes no sense now.
std::optional<Intent> intent_after(const App& app, const Command& command) {
    App closed = app;
    closed.sheet = Sheet::none;
    return command.intent(closed);
}

} // namespace

void CommandSearch::do_it(const Desk& desk, const Command& command) const {
    if (auto intent = intent_after(desk.app, command)) {
        desk.want(ShowSheet{Sheet::none});
        desk.want(std::move(*intent));
    }
}

void CommandSearch::rows(const Desk& desk, const Rect& body) {
    const Pen pen = desk.pen(); // of the scrolling child
    const float step = pen.px(27);
    const float start = ImGui::GetCursorScreenPos().y;
    float y = start;
    for (std::size_t i = 0; i < found_.size(); ++i, y += step) {
        const Command& command = *found_[i];
        const Rect row{body.x, y, body.width - pen.px(14), step};
        const bool shown = row.bottom() > body.y && row.y < body.bottom();
        if (!shown) {
            continue;
        }
        ImGui::PushID(static_cast<int>(i));
        const Pressable press = pen.pressable("row", row);
        ImGui::PopID();
        if (row.y >= body.y - 1 && row.bottom() <= body.bottom() + 1) {
            desk.places.note("search.row." + command.id, row);
        }
        const bool possible = intent_after(desk.app, command).has_value();
        if (i == chosen_) {
            pen.fill(row, colour::accent_pale, 2);
            pen.fill({row.x, row.y, pen.px(4), row.height}, colour::accent);
            desk.places.note("search.chosen", row);
        } else if (press.hovered) {
            pen.fill(row, colour::board, 2);
        }
        if (press.hovered) {
            ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
        }
        const float at = row.middle_y() - 0.5F * pen.height_of(Face::text);
        const float keys =
            pen.text(row.right() - pen.px(8), at, Face::small, possible ? colour::accent : colour::graphite,
                     possible ? key_words(command) : "not now", pen.px(150), Align::right);
        pen.text(row.x + pen.px(12), at, Face::text, possible ? colour::ink : colour::graphite, command.words,
                 row.width - keys - pen.px(36));
        if (press.pressed) {
            do_it(desk, command);
        }
    }
    ImGui::SetCursorScreenPos({body.x, start});
    ImGui::Dummy({1, step * static_cast<float>(found_.size())});
    if (scrolls_) {
        const float top = step * static_cast<float>(chosen_);
        const float scroll = ImGui::GetScrollY();
        ImGui::SetScrollY(std::clamp(scroll, top + step - body.height, top));
        scrolls_ = false;
    }
}

void CommandSearch::draw(const Desk& desk, const Rect& window, bool keys_waiting) {
    const Pen pen = desk.pen();
    if (!field_.open()) {
        field_.begin("", false);
        found_ = found_commands("");
        chosen_ = 0;
        scrolls_ = true;
        left_ = false;
    }
    const Rect paper = begin_sheet(desk, window, "sheet.search", "What do you want to do?", 640, 500);
    const float x = paper.x + pen.px(24);
    const float room = paper.width - pen.px(48);
    const Rect place{x, paper.y + pen.px(58), room, pen.px(34)};
    desk.places.note("search.field", place);
    const std::string before = field_.text();
    const TextField::End end = field_.draw(pen, place, "##search", keys_waiting, Face::text);
    if (field_.text() != before) {
        found_ = found_commands(field_.text());
        chosen_ = 0;
        scrolls_ = true;
    }
    using End = TextField::End;
    if (!found_.empty() && (end == End::down || end == End::next || end == End::up || end == End::previous)) {
        const bool down = end == End::down || end == End::next;
        chosen_ = (chosen_ + (down ? 1 : found_.size() - 1)) % found_.size();
        scrolls_ = true;
    } else if (end == End::entered && chosen_ < found_.size()) {
        do_it(desk, *found_[chosen_]);
    }
    // Where nothing came of it the typing goes on; not while a hand is still on a row, or that row would lose it.
    left_ = left_ || end == End::entered || end == End::left;
    if (left_ && !ImGui::IsMouseDown(ImGuiMouseButton_Left)) {
        field_.begin(field_.text(), false);
        left_ = false;
    }
    const Rect body{x, place.bottom() + pen.px(10), room, paper.bottom() - pen.px(14) - place.bottom() - pen.px(10)};
    if (found_.empty()) {
        pen.wrapped(x, body.y + pen.px(6), room, Face::text, colour::graphite,
                    "Nothing that the window does is called that. Try another word for it, or fewer letters.");
        return;
    }
    ImGui::SetCursorScreenPos({body.x, body.y});
    ImGui::BeginChild("commands", {body.width, body.height}, false, ImGuiWindowFlags_NoBackground);
    rows(desk, body);
    ImGui::EndChild();
}

} // namespace evenclose
