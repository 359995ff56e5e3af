// The sheet that lies over the press while the desktop's dialog asks for a file.
#include "viewer/ui/panel.hpp"

namespace evenclose {
namespace {

const char* title_of(FileQuestion question) {
    switch (question) {
    case FileQuestion::open:
        return "Which set-up is to be opened?";
    case FileQuestion::save_as:
        return "Under which name is it to be saved?";
    case FileQuestion::report:
        return "Under which name is the report to be made?";
    }
    return "";
}

} // namespace

void asking_sheet(const Desk& desk, const Rect& window) {
    const Pen pen = desk.pen();
    const FileQuestion question = desk.app.asking.question;
    const Rect paper = begin_sheet(desk, window, "sheet.asking", title_of(question), 520, 190);
    const float x = paper.x + pen.px(24);
    pen.wrapped(x, paper.y + pen.px(60), pen.px(520 - 48), Face::text, colour::ink,
                "The desktop asks in a dialog of its own, which may lie behind this window. Close or Esc takes the "
                "question back.");
    if (pen.answer("asking.here", {x, paper.bottom() - pen.px(60), pen.px(190), pen.px(36)}, "Type the name here",
                   false)) {
        desk.want(FileQuestionIntent{AskForFile{question, true}});
    }
}

} // namespace evenclose
