#include "viewer/ui/file_name_sheet.hpp"

namespace evenclose {

std::optional<std::filesystem::path> FileNameSheet::draw(const Desk& desk, const Rect& window,
                                                         const FileNameAsked& asked, bool keys_waiting) {
    const Pen pen = desk.pen();
    const Rect paper = begin_sheet(desk, window, ("sheet." + asked.wanted.id).c_str(), asked.title.c_str(), 720, 250);
    if (!entry_.open()) {
        entry_.begin(asked.proposed.string());
    }
    const float y = paper.y + pen.px(58);
    const float high =
        pen.wrapped(paper.x + pen.px(24), y, paper.width - pen.px(48), Face::small, colour::graphite, asked.words);
    return entry_.draw(desk, paper, y + high + pen.px(10), asked.wanted, keys_waiting);
}

} // namespace evenclose
