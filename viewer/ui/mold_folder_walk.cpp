#include "viewer/ui/mold_folder_walk.hpp"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <system_error>

namespace evenclose {

namespace fs = std::filesystem;
using Key = TextField::End;

namespace {

std::string with_slash(const fs::path& folder) {
    const std::string words = folder.string();
    return words.ends_with('/') ? words : words + "/";
}

} // namespace

void MoldFolderWalk::begin(const fs::path& folder) {
    path_.begin(with_slash(folder), false);
    left_ = false;
    entry_.reset();
    fault_.clear();
}

void MoldFolderWalk::end() {
    if (path_.open()) {
        path_.end();
    }
}

void MoldFolderWalk::go_into(const fs::path& folder) {
    path_.set_text(with_slash(folder.lexically_normal()));
    entry_.reset();
    fault_.clear();
}

std::optional<MoldFolderWalk::End> MoldFolderWalk::taken() {
    fs::path folder = typed_path(path_.text());
    std::error_code ignored;
    if (fs::is_directory(folder, ignored)) {
        return End{std::move(folder)};
    }
    fault_ = fmt::format("There is no folder {}", folder.string());
    return std::nullopt;
}

void MoldFolderWalk::step(Key key) {
    const std::size_t count = entries_.size();
    if (count == 0) {
        return;
    }
    const bool down = key == Key::down;
    entry_ = !entry_ ? (down ? 0 : count - 1) : (*entry_ + (down ? 1 : count - 1)) % count;
}

std::optional<MoldFolderWalk::End> MoldFolderWalk::draw(const Desk& desk, const Rect& paper, bool keys_waiting) {
    const Pen pen = desk.pen();
    const float x = paper.x + pen.px(24);
    const float room = paper.width - pen.px(48);
    const Rect field{x, paper.y + pen.px(56), room, pen.px(32)};
    desk.places.note("molds.path", field);
    const std::string before = path_.text();
    const Key key = path_.draw(pen, field, "##path", keys_waiting, Face::text);
    if (path_.text() != before) {
        entry_.reset();
        fault_.clear();
    }
    if (listed_for_ != path_.text() || entries_.empty()) {
        entries_ = matching_entries(path_.text());
        std::erase_if(entries_, [](const FolderEntry& entry) { return entry.rank != FolderEntry::Rank::folder; });
        listed_for_ = path_.text();
    }
    std::optional<End> ended;
    const bool stepped = key == Key::down || key == Key::up;
    if (key == Key::entered && entry_) {
        go_into(entries_[*entry_].path);
    } else if (key == Key::entered) {
        ended = taken();
    } else if (stepped) {
        step(key);
    } else if (key == Key::next || key == Key::previous) {
        ended = End{};
    }
    // Where nothing came of it the typing goes on; not while a hand is still on something.
    left_ = left_ || key == Key::entered || key == Key::left;
    if (!ended && left_ && !ImGui::IsMouseDown(ImGuiMouseButton_Left)) {
        path_.begin(path_.text(), false);
        left_ = false;
    }
    float y = field.bottom() + pen.px(8);
    if (!fault_.empty()) {
        const float high = pen.wrapped(x, y, room, Face::small, colour::foul_word, fault_);
        desk.places.note("molds.fault", {x, y, room, high});
        y += high + pen.px(6);
    }
    const float high = pen.px(34);
    const Rect foot{x, paper.bottom() - pen.px(16) - high, room, high};
    const Rect show{foot.right() - pen.px(220), foot.y, pen.px(220), high};
    const Rect back{show.x - pen.px(12) - pen.px(110), foot.y, pen.px(110), high};
    if (pen.answer("molds.show", show, "Show its molds  ( Enter )", true)) {
        ended = taken();
    }
    if (pen.answer("molds.back", back, "Back  ( Tab )", false)) {
        ended = End{};
    }
    if (!desk.app.session.settings.molds_folder.empty() &&
        pen.button("molds.follow", {x, foot.y, pen.px(330), high}, "The folder of the mold in the press, always")) {
        ended = End{fs::path{}};
    }
    if (const auto walked = list(desk, {x, y, room, foot.y - pen.px(8) - y}, stepped)) {
        go_into(*walked);
    }
    return ended;
}

std::optional<fs::path> MoldFolderWalk::list(const Desk& desk, const Rect& body, bool stepped) {
    ImGui::SetCursorScreenPos({body.x, body.y});
    ImGui::BeginChild("mold folders", {body.width, body.height}, false, ImGuiWindowFlags_NoBackground);
    const Pen pen = desk.pen(); // of the scrolling child
    const float start = ImGui::GetCursorScreenPos().y;
    const float high = pen.px(26);
    float at = start;
    if (entries_.empty()) {
        pen.text(body.x, at, Face::text, colour::graphite, "No folder here begins like that.", body.width);
    }
    std::optional<fs::path> walked;
    for (std::size_t i = 0; i < entries_.size(); ++i, at += high) {
        const Rect row{body.x, at, body.width - pen.px(14), high};
        ImGui::PushID(static_cast<int>(i));
        const Pressable press = pen.pressable("folder", row);
        ImGui::PopID();
        if (row.y >= body.y - 1 && row.bottom() <= body.bottom() + 1) {
            desk.places.note("molds.entry." + entries_[i].name, row);
        }
        if (press.hovered || entry_ == i) {
            pen.fill(row, colour::accent_pale, 2);
        }
        if (press.hovered) {
            ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
        }
        pen.text(body.x + pen.px(8), at + pen.px(4), Face::text, colour::ink, entries_[i].name, row.width);
        if (press.pressed) {
            walked = entries_[i].path;
        }
    }
    ImGui::SetCursorScreenPos({body.x, start});
    ImGui::Dummy({1, std::max(at - start, high)});
    if (entry_ && stepped) {
        const float top = high * static_cast<float>(*entry_);
        ImGui::SetScrollY(std::clamp(ImGui::GetScrollY(), std::min(top + high - body.height, top), top));
    }
    ImGui::EndChild();
    return walked;
}

} // namespace evenclose
