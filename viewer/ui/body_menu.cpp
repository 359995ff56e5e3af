#include "viewer/ui/body_menu.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

namespace evenclose {
namespace {

struct Line {
    std::string id, words, key;
    Intent intent;
};

std::vector<Line> lines_of(const App& app, const BodyMenu& menu) {
    const BodySight& sight = app.closely.sight;
    std::vector<Line> lines;
    const auto add = [&](const char* id, std::string words, const char* key, CloselyIntent intent) {
        lines.push_back({id, std::move(words), key, Intent{std::move(intent)}});
    };
    if (!menu.body.empty()) {
        const bool ghost = sight.ghosts.contains(menu.body);
        add("menu.hide", "Hide", "H", SeeBody{SeeBody::How::hide, menu.body});
        add("menu.ghost", ghost ? "Solid again" : "See through", "J", SeeBody{SeeBody::How::see_through, menu.body});
        add("menu.alone", "This one alone", "I", SeeBody{SeeBody::How::alone, menu.body});
        for (const Axis axis : {Axis::x, Axis::y, Axis::z}) {
            SectionCut cut{axis, std::round(of(menu.at_mm, axis)), false};
            cut.flipped = !seen_from(cut, app.camera);
            static constexpr const char* kIds[] = {"menu.cut.x", "menu.cut.y", "menu.cut.z"};
            add(kIds[static_cast<std::size_t>(axis)], fmt::format("Cut here across {}", name_of(axis)), "",
                SetSection{cut});
        }
    }
    if (!sight.all_plain()) {
        add("menu.all", "Show all bodies", "V", SeeAllBodies{});
    }
    return lines;
}

} // namespace

void body_menu(const Desk& desk, const Rect& picture) {
    if (!desk.app.closely.menu || !desk.app.assembly) {
        return;
    }
    const BodyMenu& menu = *desk.app.closely.menu;
    const std::vector<Line> lines = lines_of(desk.app, menu);
    if (lines.empty()) {
        desk.want(CloselyIntent{CloseBodyMenu{}});
        return;
    }
    const Pen outside = desk.pen();
    const float row = outside.px(27);
    const float head = menu.body.empty() ? outside.px(6) : outside.px(34);
    float width = menu.body.empty() ? 0 : outside.width_of(Face::strong, menu.body) + outside.px(28);
    for (const Line& line : lines) {
        width = std::max(width, outside.width_of(Face::text, line.words) + outside.px(64));
    }
    width = std::min(width, picture.width - outside.px(16));
    const float high = head + static_cast<float>(lines.size()) * row + outside.px(6);
    const Rect paper{
        std::round(std::clamp(menu.x + outside.px(2), picture.x + outside.px(6),
                              std::max(picture.x + outside.px(6), picture.right() - width - outside.px(6)))),
        std::round(std::clamp(menu.y + outside.px(2), picture.y + outside.px(4),
                              std::max(picture.y + outside.px(4), picture.bottom() - high - outside.px(6)))),
        width, high};
    ImGui::SetNextWindowPos({paper.x, paper.y});
    ImGui::SetNextWindowSize({paper.width + outside.px(4), paper.height + outside.px(5)});
    ImGui::Begin("body menu", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoBackground |
                     ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoFocusOnAppearing);
    const Pen pen = desk.pen();
    pen.fill({paper.x + pen.px(2), paper.y + pen.px(3), paper.width, paper.height}, colour::shadow, 2);
    pen.fill(paper, colour::card, 2);
    pen.outline(paper, colour::ink, 1, 2);
    desk.places.note("menu", paper);
    float y = paper.y + head;
    if (!menu.body.empty()) {
        pen.text(paper.x + pen.px(14), paper.y + pen.px(7), Face::strong, colour::ink, menu.body,
                 paper.width - pen.px(24));
        pen.line(paper.x + pen.px(10), y - pen.px(3), paper.right() - pen.px(10), y - pen.px(3), colour::pencil);
    }
    for (const Line& line : lines) {
        const Rect place{paper.x + pen.px(2), y, paper.width - pen.px(4), row};
        const Pressable press = pen.pressable(line.id.c_str(), place);
        desk.places.note(line.id, place);
        if (press.hovered) {
            pen.fill(place, colour::accent_pale, 2);
            ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
        }
        const float text_y = place.middle_y() - 0.5F * pen.height_of(Face::text);
        pen.text(place.x + pen.px(12), text_y, Face::text, colour::ink, line.words);
        pen.text(place.right() - pen.px(12), text_y, Face::text, colour::graphite, line.key, 1e9F, Align::right);
        if (press.pressed) {
            desk.want(line.intent);
            desk.want(CloselyIntent{CloseBodyMenu{}});
        }
        y += row;
    }
    const ImVec2 mouse = ImGui::GetMousePos();
    const bool pressed = ImGui::IsMouseClicked(ImGuiMouseButton_Left) || ImGui::IsMouseClicked(ImGuiMouseButton_Right);
    if (pressed && !paper.contains(mouse.x, mouse.y)) {
        desk.want(CloselyIntent{CloseBodyMenu{}});
    }
    ImGui::End();
}

} // namespace evenclose
