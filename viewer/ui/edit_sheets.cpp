// Sheets that ask about unsaved work, and the strip that says what was done with it.
#include "viewer/ui/free_place.hpp"
#include "viewer/ui/panel.hpp"
#include "viewer/ui/words.hpp"

#include <fmt/chrono.h>
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <ctime>
#include <filesystem>

namespace evenclose {
namespace {

std::string local_time(std::filesystem::file_time_type when) {
    const auto system = std::chrono::file_clock::to_sys(when);
    const std::time_t seconds =
        std::chrono::system_clock::to_time_t(std::chrono::time_point_cast<std::chrono::system_clock::duration>(system));
    std::tm parts{};
    localtime_r(&seconds, &parts);
    return fmt::format("{:%Y-%m-%d %H:%M}", parts);
}

std::string names_of(const DocumentTexts& texts) {
    std::string names;
    for (const auto& [file, text] : texts) {
        names += (names.empty() ? "" : ", ") + file.filename().string();
    }
    return names;
}

/// Says that a document changed under the hand, and whose text is to stand. The strip's upper edge.
float conflict_strip(const Desk& desk, const Rect& picture, float bottom, const std::filesystem::path& file,
                     bool readable) {
    const Pen below = desk.pen();
    const std::string words =
        file.filename().string() + (readable ? " changed on the disk while you edit it here. Nothing is overwritten."
                                             : " went from the disk while you edit it here. Saving writes it again.");
    const float wide = std::min(below.px(620), picture.width - below.px(40));
    const float keys = readable ? below.px(250) : below.px(80);
    const float room = wide - keys - below.px(44);
    const float high = std::max(below.wrapped_height(room, Face::text, words) + below.px(14), below.px(44));
    const Rect place = free_place({picture.middle_x() - 0.5F * wide, bottom - high, wide, high}, picture,
                                  desk.places.on_picture(), below.px(8));
    below.fill({place.x + below.px(1), place.y + below.px(2), place.width, place.height}, colour::shadow, 2);
    // In a window of its own: the picture under it would take the press.
    ImGui::SetCursorScreenPos({place.x, place.y});
    ImGui::BeginChild(file.c_str(), {place.width, place.height}, false,
                      ImGuiWindowFlags_NoBackground | ImGuiWindowFlags_NoScrollbar |
                          ImGuiWindowFlags_NoScrollWithMouse);
    const Pen pen = desk.pen();
    pen.fill(place, colour::card, 2);
    pen.fill({place.x, place.y, pen.px(5), place.height}, colour::foul);
    pen.wrapped(place.x + pen.px(17), place.middle_y() - 0.5F * pen.wrapped_height(room, Face::text, words), room,
                Face::text, colour::ink, words);
    desk.places.note("notice.conflict", place);
    const float y = place.middle_y() - pen.px(16);
    const float x = place.right() - keys - pen.px(8);
    if (readable && pen.answer("conflict.theirs", {x, y, pen.px(130), pen.px(32)}, "Take the file's", false)) {
        desk.want(EditIntent{AnswerConflict{file, true}});
    }
    if (pen.answer("conflict.mine", {x + (readable ? pen.px(138) : 0), y, readable ? pen.px(112) : keys, pen.px(32)},
                   readable ? "Keep mine" : "Good", readable)) {
        desk.want(EditIntent{AnswerConflict{file, false}});
    }
    ImGui::EndChild();
    return place.y;
}

} // namespace

void unsaved_sheet(const Desk& desk, const Rect& window) {
    const Pen pen = desk.pen();
    const std::string names = names_of(desk.app.documents.unsaved_texts());
    const float room = pen.px(560 - 48);
    const char* const are_unsaved = desk.app.documents.unsaved_texts().size() == 1
                                        ? " has changes that are not saved yet."
                                        : " have changes that are not saved yet.";
    const float words = pen.wrapped_height(room, Face::text, names + are_unsaved);
    const Rect paper =
        begin_sheet(desk, window, "sheet.unsaved", "Save your work first?", 560, 150 + words / pen.scale());
    const float x = paper.x + pen.px(24);
    float y = paper.y + pen.px(62);
    y += pen.wrapped(x, y, room, Face::text, colour::ink, names + are_unsaved) + pen.px(24);
    const float wide = pen.px(160);
    if (pen.answer("unsaved.save", {x, y, wide, pen.px(36)}, "Save and go on", true)) {
        desk.want(EditIntent{LeaveUnsaved{LeaveUnsaved::How::save}});
    }
    if (pen.answer("unsaved.discard", {x + wide + pen.px(12), y, wide, pen.px(36)}, "Throw it away", false, true)) {
        desk.want(EditIntent{LeaveUnsaved{LeaveUnsaved::How::discard}});
    }
    if (pen.answer("unsaved.stay", {x + 2 * (wide + pen.px(12)), y, wide, pen.px(36)}, "Stay here", false)) {
        desk.want(EditIntent{LeaveUnsaved{LeaveUnsaved::How::stay}});
    }
}

void changed_sheet(const Desk& desk, const Rect& window) {
    const Pen pen = desk.pen();
    const Rect paper = begin_sheet(desk, window, "sheet.changed", "The file changed on the disk", 600, 214);
    const float x = paper.x + pen.px(24);
    float y = paper.y + pen.px(62);
    y += pen.wrapped(x, y, pen.px(600 - 48), Face::text, colour::ink,
                     desk.app.notice + ". Another program or window wrote it. What do you want there?") +
         pen.px(24);
    const float wide = pen.px(174);
    if (pen.answer("changed.mine", {x, y, wide, pen.px(36)}, "Mine over it", true, true)) {
        desk.want(ShowSheet{Sheet::none});
        desk.want(EditIntent{Save{true}});
    }
    if (pen.answer("changed.other", {x + wide + pen.px(12), y, wide, pen.px(36)}, "Another name", false)) {
        desk.want(FileQuestionIntent{AskForFile{FileQuestion::save_as}});
    }
    if (pen.answer("changed.wait", {x + 2 * (wide + pen.px(12)), y, wide, pen.px(36)}, "Leave it for now", false)) {
        desk.want(ShowSheet{Sheet::none});
    }
}

void shared_sheet(const Desk& desk, const Rect& window) {
    const Pen pen = desk.pen();
    const Rect paper = begin_sheet(desk, window, "sheet.shared", "Another window has it open", 600, 228);
    const float x = paper.x + pen.px(24);
    float y = paper.y + pen.px(62);
    y += pen.wrapped(x, y, pen.px(600 - 48), Face::text, colour::ink,
                     desk.app.notice +
                         ". What is saved here is read again there; what is edited there and not saved yet "
                         "may be lost to one of you.") +
         pen.px(24);
    const float wide = pen.px(174);
    if (pen.answer("shared.save", {x, y, wide, pen.px(36)}, "Save all the same", true)) {
        desk.want(ShowSheet{Sheet::none});
        desk.want(EditIntent{Save{false, true}});
    }
    if (pen.answer("shared.other", {x + wide + pen.px(12), y, wide, pen.px(36)}, "Another name", false)) {
        desk.want(FileQuestionIntent{AskForFile{FileQuestion::save_as}});
    }
    if (pen.answer("shared.wait", {x + 2 * (wide + pen.px(12)), y, wide, pen.px(36)}, "Leave it for now", false)) {
        desk.want(ShowSheet{Sheet::none});
    }
}

void which_half_sheet(const Desk& desk, const Rect& window) {
    const Pen pen = desk.pen();
    const Rect paper = begin_sheet(desk, window, "sheet.which_half", "For which half of the mold?", 520, 190);
    const float x = paper.x + pen.px(24);
    pen.text(x, paper.y + pen.px(60), Face::text, colour::ink, file_name(desk.app.dropped_mesh), pen.px(520 - 48));
    const float y = paper.bottom() - pen.px(60);
    if (pen.answer("half.upper", {x, y, pen.px(150), pen.px(36)}, "Upper half", true)) {
        desk.want(EditIntent{MeshForHalf{"upper"}});
    }
    if (pen.answer("half.lower", {x + pen.px(162), y, pen.px(150), pen.px(36)}, "Lower half", true)) {
        desk.want(EditIntent{MeshForHalf{"lower"}});
    }
}

void left_behind_sheet(const Desk& desk, const Rect& window) {
    const Pen pen = desk.pen();
    const auto& all = desk.app.session.left_behind;
    const std::size_t shown = std::min<std::size_t>(all.size(), 5);
    const Rect paper = begin_sheet(desk, window, "sheet.left_behind", "Unsaved work was left behind", 680,
                                   134 + 78 * static_cast<float>(shown));
    const float x = paper.x + pen.px(24);
    float y = paper.y + pen.px(60);
    y += pen.wrapped(x, y, pen.px(680 - 48), Face::text, colour::graphite,
                     "A window ended before its work was saved. Taking it up opens it as it was; nothing is written "
                     "until you save.") +
         pen.px(14);
    for (std::size_t i = 0; i < shown; ++i) {
        const LeftBehind& left = all[i];
        pen.line(x, y, paper.right() - pen.px(24), y, colour::pencil);
        const float keys = pen.px(228);
        const float room = paper.right() - pen.px(24) - keys - x;
        pen.text(x, y + pen.px(10), Face::strong, colour::ink, file_name(left.work.setup.string()), room);
        pen.wrapped(x, y + pen.px(32), room, Face::small, colour::graphite,
                    fmt::format("{}, edited until {}", names_of(left.work.texts), local_time(left.when)));
        const float kx = paper.right() - pen.px(24) - keys + pen.px(8);
        if (pen.answer(fmt::format("left_behind.take.{}", i).c_str(), {kx, y + pen.px(18), pen.px(100), pen.px(34)},
                       "Take it up", i == 0)) {
            desk.want(EditIntent{TakeUpWork{i}});
        }
        if (pen.answer(fmt::format("left_behind.discard.{}", i).c_str(),
                       {kx + pen.px(108), y + pen.px(18), pen.px(112), pen.px(34)}, "Throw away", false, true)) {
            desk.want(EditIntent{DiscardWork{i}});
        }
        y += pen.px(78);
    }
}

void notice_strip(const Desk& desk, const Rect& picture) {
    const App& app = desk.app;
    const Pen pen = desk.pen();
    const float most = picture.width - pen.px(40);
    const auto strip = [&](const std::string& words, bool bad, float bottom, const char* id) {
        const float wide = std::min(pen.width_of(Face::text, words) + pen.px(32), most);
        const float high = pen.wrapped_height(wide - pen.px(30), Face::text, words) + pen.px(14);
        const Rect place = free_place({picture.middle_x() - 0.5F * wide, bottom - high, wide, high}, picture,
                                      desk.places.on_picture(), pen.px(8));
        pen.fill({place.x + pen.px(1), place.y + pen.px(2), place.width, place.height}, colour::shadow, 2);
        pen.fill(place, colour::card, 2);
        pen.fill({place.x, place.y, pen.px(5), place.height}, bad ? colour::foul : colour::accent);
        pen.wrapped(place.x + pen.px(17), place.y + pen.px(7), wide - pen.px(30), Face::text,
                    bad ? colour::foul_word : colour::ink, words);
        desk.places.note(id, place);
        return place;
    };
    float bottom = picture.bottom() - pen.px(12);
    if (!app.notice.empty()) {
        bottom = strip(app.notice, app.notice_bad, bottom, "notice").y - pen.px(8);
    }
    for (const auto& [file, text] : app.conflicts) {
        bottom = conflict_strip(desk, picture, bottom, file, text != nullptr) - pen.px(8);
    }
    if (!app.not_whole.empty()) {
        bottom = strip("Not whole on the disk yet, so the press stays as it was: " + app.not_whole, false, bottom,
                       "notice.not_whole")
                     .y -
                 pen.px(8);
    }
    if (app.shows_last_good()) {
        const std::size_t more = app.document_faults.size() > 1 ? app.document_faults.size() - 1 : 0;
        std::string words = "The press as it was before. To mend: ";
        if (!app.document_faults.empty()) {
            DocumentFault first = app.document_faults.front();
            first.file = file_name(first.file);
            words += first.sentence();
        } else if (!app.faults.empty()) {
            words += app.faults.front();
        }
        words += more > 0 ? fmt::format(" (and {} more)", more) : "";
        strip(words, true, bottom, "notice.fault");
    }
}

} // namespace evenclose
