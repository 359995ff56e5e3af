#include "viewer/ui/open_sheet.hpp"

#include "viewer/app/dropped_file.hpp"

#include <fmt/format.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cstdlib>
#include <system_error>
#include <utility>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

using Rank = FolderEntry::Rank;

std::string folder_words(const fs::path& folder) {
    std::string words = folder.string();
    return words.ends_with('/') ? words : words + "/";
}

} // namespace

void OpenSheet::draw(const Desk& desk, const Rect& window, bool keys_waiting) {
    const Pen pen = desk.pen();
    if (fresh_) {
        std::error_code ignored;
        const fs::path from =
            desk.app.file.empty() ? fs::current_path(ignored) : fs::absolute(desk.app.file, ignored).parent_path();
        typed_ = folder_words(from);
        fault_.clear();
        fresh_ = false;
        wants_focus_ = wants_end_ = true;
    }
    if (fault_for_ != typed_) {
        fault_.clear();
    }
    if (listed_for_ != typed_ || entries_.empty()) {
        entries_ = matching_entries(typed_);
        listed_for_ = typed_;
    }
    const Rect paper = begin_sheet(desk, window, "sheet.open", "Open a set-up", 720, 470);
    const float x = paper.x + pen.px(24);
    const float room = paper.width - pen.px(48);
    pen.text(x, paper.y + pen.px(58), Face::small, colour::graphite,
             desk.app.setup ? "Type where the file is, or choose below. Enter opens it; a mold or press takes the "
                              "place of the one here."
                            : "Type where the file is, or choose below. Enter opens it.",
             room);

    ImGui::SetCursorScreenPos({x, paper.y + pen.px(80)});
    ImGui::SetNextItemWidth(room);
    if (keys_waiting && !active_ && !wants_end_) {
        wants_focus_ = wants_end_ = true;
    }
    if (wants_focus_) {
        ImGui::
            SetKeyboardFocusHere(); // once: it takes hold in the next frame, and a second one would mark everything again
        wants_focus_ = false;
    }
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, pen.px(1));
    // When the field is taken up it would mark everything; the cursor belongs at the end, to type on.
    const auto to_end = [](ImGuiInputTextCallbackData* data) {
        if (std::exchange(*static_cast<bool*>(data->UserData), false)) {
            data->CursorPos = data->BufTextLen;
            data->SelectionStart = data->SelectionEnd = data->BufTextLen;
        }
        return 0;
    };
    const bool entered =
        ImGui::InputText("##path", &typed_, ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_CallbackAlways,
                         to_end, &wants_end_);
    active_ = ImGui::IsItemActive();
    ImGui::PopStyleVar();
    desk.places.note("open.field", {x, paper.y + pen.px(80), room, pen.px(30)});

    const auto take = [&](const fs::path& path, bool folder) {
        if (folder) {
            typed_ = folder_words(path.lexically_normal());
            wants_focus_ = wants_end_ = true;
            return;
        }
        std::error_code ignored;
        if (!fs::is_regular_file(path, ignored)) {
            fault_ = fmt::format("There is no file {}", path.string());
            fault_for_ = typed_;
            wants_focus_ = wants_end_ = true;
            return;
        }
        desk.want(ShowSheet{Sheet::none});
        for (Intent& intent : intents_of_drop(desk.app, path.string())) {
            desk.want(std::move(intent));
        }
    };
    if (entered) {
        const fs::path path = typed_path(typed_);
        std::error_code ignored;
        take(path, fs::is_directory(path, ignored));
    }
    float y = paper.y + pen.px(118);
    if (!fault_.empty()) {
        pen.text(x, y, Face::small, colour::foul_word, fault_, room);
        desk.places.note("open.fault", {x, y, room, pen.height_of(Face::small)});
    }
    y += pen.px(20);
    ImGui::SetCursorScreenPos({x, y});
    ImGui::BeginChild("entries", {room, paper.bottom() - pen.px(18) - y}, false, ImGuiWindowFlags_NoBackground);
    const Pen inside = desk.pen();
    float at = ImGui::GetCursorScreenPos().y;
    const float start = at;
    const float step = pen.px(26);
    if (entries_.empty()) {
        inside.text(x, at, Face::text, colour::graphite, "Nothing here begins like that.", room);
        at += step;
    }
    for (std::size_t i = 0; i < entries_.size(); ++i) {
        const FolderEntry& entry = entries_[i];
        const Rect row{x, at, room - pen.px(12), step};
        ImGui::PushID(static_cast<int>(i));
        const Pressable press = inside.pressable("entry", row);
        ImGui::PopID();
        desk.places.note("open.entry." + entry.name, row);
        if (press.hovered) {
            inside.fill(row, colour::accent_pale, 2);
            ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
        }
        inside.text(x + pen.px(8), at + pen.px(4), entry.rank == Rank::setup ? Face::strong : Face::text,
                    entry.rank == Rank::setup ? colour::ink : colour::graphite, entry.name, row.width - pen.px(16));
        if (press.pressed) {
            take(entry.path, entry.rank == Rank::folder);
            break; // the list is another one now
        }
        at += step;
    }
    ImGui::SetCursorScreenPos({x, start});
    ImGui::Dummy({1, at - start});
    ImGui::EndChild();
}

} // namespace evenclose
