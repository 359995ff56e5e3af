#include "viewer/ui/save_as_sheet.hpp"

#include "viewer/app/open_entries.hpp"

#include <filesystem>
#include <system_error>

namespace evenclose {

namespace fs = std::filesystem;

void SaveAsSheet::draw(const Desk& desk, const Rect& window, bool keys_waiting) {
    const Pen pen = desk.pen();
    const Rect paper = begin_sheet(desk, window, "sheet.save_as", "Save the set-up under another name", 720, 250);
    const float x = paper.x + pen.px(24);
    const float room = paper.width - pen.px(48);
    if (!field_.open()) {
        fs::path whole = desk.app.documents.setup;
        field_.begin(whole.string(), false);
        fault_.clear();
        asked_for_.clear();
    }
    float y = paper.y + pen.px(58);
    y += pen.wrapped(x, y, room, Face::small, colour::graphite,
                     "Press and mold, where they were edited, are written beside it under the same name; what you "
                     "opened stays as it is on the disk.") +
         pen.px(10);
    const Rect place{x, y, room, pen.px(32)};
    desk.places.note("save_as.field", place);
    const TextField::End end = field_.draw(pen, place, "##save as", keys_waiting, Face::text);
    if (fault_for_ != field_.text()) {
        fault_.clear();
    }
    y += pen.px(42);
    const Rect key{x, paper.bottom() - pen.px(54), pen.px(120), pen.px(36)};
    const Pressable press = pen.pressable("save_as.save", key);
    desk.places.note("save_as.save", key);
    pen.fill(key, press.hovered ? mixed(colour::accent, colour::ink, 0.25F) : colour::accent, 2);
    pen.text(key.middle_x(), key.middle_y() - 0.5F * pen.height_of(Face::text), Face::text, rgb(0xFFFFFF), "Save",
             key.width, Align::middle);
    if (end == TextField::End::entered || end == TextField::End::save || press.pressed) {
        fs::path file = typed_path(field_.text());
        if (!file.filename().empty() && file.extension() != ".json") {
            file += ".set-up.json";
        }
        std::error_code ignored;
        const bool itself = document_id(file) == desk.app.documents.setup;
        if (file.filename().empty() || fs::is_directory(file, ignored)) {
            fault_ = "Give the file a name, such as oak.set-up.json";
        } else if (!fs::is_directory(file.has_parent_path() ? file.parent_path() : fs::path("."), ignored)) {
            fault_ = "There is no folder " + file.parent_path().string();
        } else if (fs::exists(file, ignored) && !itself && asked_for_ != file.string()) {
            fault_ = "There is a file of that name; once more to write over it";
            asked_for_ = file.string();
        } else {
            desk.want(EditIntent{SaveAs{file.string()}});
            return;
        }
        fault_for_ = field_.text();
        field_.begin(field_.text(), false);
    }
    if (!fault_.empty()) {
        pen.text(x, y, Face::small, colour::foul_word, fault_, room);
        desk.places.note("save_as.fault", {x, y, room, pen.height_of(Face::small)});
    }
}

} // namespace evenclose
