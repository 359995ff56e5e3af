#include "viewer/ui/file_name_sheet.hpp"

#include "viewer/app/open_entries.hpp"

#include <system_error>

namespace evenclose {

namespace fs = std::filesystem;

std::string FileNameSheet::fault_of(const FileNameAsked& asked, const fs::path& file) {
    std::error_code ignored;
    if (file.filename().empty() || fs::is_directory(file, ignored)) {
        return "Give the file a name, such as " + asked.example;
    }
    if (!fs::is_directory(file.has_parent_path() ? file.parent_path() : fs::path("."), ignored)) {
        return "There is no folder " + file.parent_path().string();
    }
    if (fs::exists(file, ignored) && document_id(file) != asked.itself && asked_for_ != file.string()) {
        asked_for_ = file.string();
        return "There is a file of that name; once more to write over it";
    }
    return {};
}

std::optional<fs::path> FileNameSheet::draw(const Desk& desk, const Rect& window, const FileNameAsked& asked,
                                            bool keys_waiting) {
    const Pen pen = desk.pen();
    const Rect paper = begin_sheet(desk, window, ("sheet." + asked.id).c_str(), asked.title.c_str(), 720, 250);
    const float x = paper.x + pen.px(24);
    const float room = paper.width - pen.px(48);
    if (!field_.open()) {
        field_.begin(asked.proposed.string(), false);
        fault_.clear();
        asked_for_.clear();
    }
    float y = paper.y + pen.px(58);
    y += pen.wrapped(x, y, room, Face::small, colour::graphite, asked.words) + pen.px(10);
    const Rect place{x, y, room, pen.px(32)};
    desk.places.note(asked.id + ".field", place);
    const TextField::End end = field_.draw(pen, place, ("##" + asked.id).c_str(), keys_waiting, Face::text);
    if (fault_for_ != field_.text()) {
        fault_.clear();
    }
    y += pen.px(42);
    const std::string key_id = asked.id + ".save";
    const Rect key{x, paper.bottom() - pen.px(54), pen.px(120), pen.px(36)};
    const Pressable press = pen.pressable(key_id.c_str(), key);
    desk.places.note(key_id, key);
    pen.fill(key, press.hovered ? mixed(colour::accent, colour::ink, 0.25F) : colour::accent, 2);
    pen.text(key.middle_x(), key.middle_y() - 0.5F * pen.height_of(Face::text), Face::text, colour::on_accent,
             asked.key, key.width, Align::middle);
    if (end == TextField::End::entered || end == TextField::End::save || press.pressed) {
        fs::path file = typed_path(field_.text());
        if (!file.filename().empty() && !asked.takes(file)) {
            file += asked.ending;
        }
        fault_ = fault_of(asked, file);
        if (fault_.empty()) {
            return file;
        }
        fault_for_ = field_.text();
        field_.begin(field_.text(), false);
    }
    if (!fault_.empty()) {
        pen.text(x, y, Face::small, colour::foul_word, fault_, room);
        desk.places.note(asked.id + ".fault", {x, y, room, pen.height_of(Face::small)});
    }
    return {};
}

} // namespace evenclose
