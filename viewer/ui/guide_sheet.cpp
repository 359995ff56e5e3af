// The sheet with the guide: chapters on the left, the one that lies open on the right.
#include "viewer/app/guide.hpp"
#include "viewer/ui/panel.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace evenclose {
namespace {

/// The height.
float chapter(const Pen& pen, const GuideChapter& told, float x, float y, float room) {
    const float start = y;
    const auto put = [&](float indent, Face face, ImU32 colour, std::string_view words) {
        y += pen.wrapped(x + indent, y, room - indent, face, colour, words);
    };
    put(0, Face::title, colour::ink, told.title);
    y += pen.px(14);
    for (const GuideBlock& block : told.blocks) {
        switch (block.kind) {
        case GuideBlock::Kind::paragraph:
            put(0, Face::text, colour::ink, block.words);
            break;
        case GuideBlock::Kind::item:
            pen.fill({x + pen.px(3), y + pen.px(7), pen.px(6), pen.px(2)}, colour::accent);
            put(pen.px(18), Face::text, colour::ink, block.words);
            break;
        case GuideBlock::Kind::code:
            put(pen.px(18), Face::small, colour::graphite, block.words);
            break;
        }
        y += pen.px(12);
    }
    return y - start;
}

} // namespace

void guide_sheet(const Desk& desk, const Rect& window) {
    const Pen pen = desk.pen();
    const auto& chapters = guide_chapters();
    if (chapters.empty()) {
        return;
    }
    const std::size_t open = std::min(desk.app.guide_chapter, chapters.size() - 1);
    const Rect paper = begin_sheet(desk, window, "sheet.guide", "Guide", 900, 560);
    const float x = paper.x + pen.px(24);
    const float names = pen.px(220);
    float y = paper.y + pen.px(66);
    for (std::size_t i = 0; i < chapters.size(); ++i) {
        const float high = pen.wrapped_height(names - pen.px(20), Face::text, chapters[i].title) + pen.px(14);
        const Rect row{x, y, names, high};
        const std::string id = fmt::format("guide.chapter.{}", i);
        const Pressable press = pen.pressable(id.c_str(), row);
        desk.places.note(id, row);
        if (i == open) {
            pen.fill(row, colour::accent_pale, 2);
            pen.fill({row.x, row.y, pen.px(4), row.height}, colour::accent);
        } else if (press.hovered) {
            pen.fill(row, colour::hover, 2);
        }
        if (press.hovered) {
            ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
        }
        pen.wrapped(row.x + pen.px(12), row.y + pen.px(7), names - pen.px(20), Face::text,
                    i == open ? colour::ink : colour::graphite, chapters[i].title);
        if (press.pressed) {
            desk.want(TurnGuide{0, i});
        }
        y += high + pen.px(2);
    }
    pen.wrapped(x, paper.bottom() - pen.px(56), names, Face::small, colour::graphite,
                "Page Down and Page Up turn the page, Esc closes it.");
    const Rect body{x + names + pen.px(28), paper.y + pen.px(66), paper.right() - pen.px(20) - x - names - pen.px(28),
                    paper.bottom() - pen.px(16) - paper.y - pen.px(66)};
    pen.line(body.x - pen.px(14), body.y, body.x - pen.px(14), body.bottom(), colour::pencil);
    desk.places.note("guide.page", body);
    ImGui::SetCursorScreenPos({body.x, body.y});
    ImGui::PushID(static_cast<int>(open)); // each chapter begins at its head
    ImGui::BeginChild("page", {body.width, body.height}, false, ImGuiWindowFlags_NoBackground);
    const Pen inside = desk.pen();
    const float top = ImGui::GetCursorScreenPos().y;
    const float high = chapter(inside, chapters[open], body.x, top, body.width - inside.px(24));
    ImGui::SetCursorScreenPos({body.x, top});
    ImGui::Dummy({1, high});
    ImGui::EndChild();
    ImGui::PopID();
}

} // namespace evenclose
