#include "viewer/ui/file_name_entry.hpp"

#include "viewer/app/open_entries.hpp"

#include <system_error>

namespace evenclose {

namespace fs = std::filesystem;

void FileNameEntry::begin(const std::string& proposed) {
    field_.begin(proposed, false);
    fault_.clear();
    asked_for_.clear();
}

std::string FileNameEntry::fault_of(const FileNameWanted& wanted, const fs::path& file) {
    std::error_code ignored;
    if (std::string fault = wanted.fault(file); !fault.empty()) {
        return fault;
    }
    if (!fs::is_directory(file.has_parent_path() ? file.parent_path() : fs::path("."), ignored)) {
        return "There is no folder " + file.parent_path().string();
    }
    if (fs::exists(file, ignored) && !wanted.over(file) && asked_for_ != file.string()) {
        asked_for_ = file.string();
        return "There is a file of that name; once more to write over it";
    }
    return {};
}

std::optional<fs::path> FileNameEntry::draw(const Desk& desk, const Rect& paper, float y, const FileNameWanted& wanted,
                                            bool keys_waiting) {
    const Pen pen = desk.pen();
    const float x = paper.x + pen.px(24);
    const float room = paper.width - pen.px(48);
    const Rect place{x, y, room, pen.px(32)};
    desk.places.note(wanted.id + ".field", place);
    const TextField::End end = field_.draw(pen, place, ("##" + wanted.id).c_str(), keys_waiting, Face::text);
    if (fault_for_ != field_.text()) {
        fault_.clear();
    }
    y += pen.px(42);
    const Rect key{x, paper.bottom() - pen.px(54), pen.px(120), pen.px(36)};
    const bool pressed = pen.answer((wanted.id + ".save").c_str(), key, wanted.key, true);
    const Rect beside{key.right() + pen.px(12), key.y, pen.width_of(Face::text, wanted.other_key) + pen.px(36),
                      key.height};
    const bool other =
        !wanted.other_key.empty() && pen.answer((wanted.id + ".other").c_str(), beside, wanted.other_key, false);
    if (pressed || other || end == TextField::End::entered || end == TextField::End::save) {
        const fs::path typed = typed_path(field_.text());
        const fs::path file = wanted.completed ? wanted.completed(typed) : typed;
        fault_ = fault_of(wanted, file);
        if (fault_.empty()) {
            other_ = other;
            return file;
        }
        fault_for_ = field_.text();
        field_.begin(field_.text(), false);
    }
    if (!fault_.empty()) {
        const float high = pen.wrapped(x, y, room, Face::small, colour::foul_word, fault_);
        desk.places.note(wanted.id + ".fault", {x, y, room, high});
    }
    return {};
}

} // namespace evenclose
