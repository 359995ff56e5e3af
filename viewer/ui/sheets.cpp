// Sheets of paper over the window: the list of keys, the cautions.
#include "checks/report/cautions.hpp"
#include "viewer/ui/commands.hpp"
#include "viewer/ui/panel.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <utility>
#include <vector>

namespace evenclose {
namespace {

/// In columns side by side, groups whole; `draw` false only measures. The lowest y reached.
float draw_groups(const Pen& pen, const std::vector<std::vector<const CommandGroup*>>& columns, float x, float y,
                  float wide, bool draw) {
    float lowest = y;
    const float keys = pen.px(104);
    const float gap = pen.px(26);
    const float column = (wide - gap * static_cast<float>(columns.size() - 1)) / static_cast<float>(columns.size());
    for (std::size_t i = 0; i < columns.size(); ++i) {
        const float left = x + static_cast<float>(i) * (column + gap);
        float at = y;
        for (const CommandGroup* group : columns[i]) {
            if (draw) {
                pen.text(left, at, Face::strong, colour::accent, group->title, column);
                pen.line(left, at + pen.px(22), left + column, at + pen.px(22), colour::pencil);
            }
            at += pen.px(27);
            for (const KeyLine& line : key_lines(*group)) {
                if (draw) {
                    pen.wrapped(left, at, keys - pen.px(6), Face::small, colour::ink, line.keys);
                    pen.wrapped(left + keys, at, column - keys, Face::small, colour::graphite, line.words);
                }
                at += std::max(pen.wrapped_height(keys - pen.px(6), Face::small, line.keys),
                               pen.wrapped_height(column - keys, Face::small, line.words)) +
                      pen.px(5);
            }
            at += pen.px(12);
        }
        lowest = std::max(lowest, at);
    }
    return lowest;
}

/// The groups in their order, dealt to three columns so that the longest one is as short as it can be.
std::vector<std::vector<const CommandGroup*>> columns_of(const std::vector<CommandGroup>& groups,
                                                         const std::function<float(const CommandGroup&)>& height) {
    std::vector<std::vector<const CommandGroup*>> best;
    float least = std::numeric_limits<float>::max();
    for (std::size_t first = 1; first + 1 < groups.size(); ++first) {
        for (std::size_t second = first + 1; second < groups.size(); ++second) {
            std::vector<std::vector<const CommandGroup*>> columns(3);
            std::array<float, 3> high{};
            for (std::size_t i = 0; i < groups.size(); ++i) {
                const std::size_t column = i < first ? 0 : i < second ? 1 : 2;
                columns[column].push_back(&groups[i]);
                high[column] += height(groups[i]);
            }
            if (const float most = *std::max_element(high.begin(), high.end()); most < least) {
                least = most;
                best = std::move(columns);
            }
        }
    }
    return best;
}

} // namespace

Rect begin_sheet(const Desk& desk, const Rect& window, const char* id, const char* title, float width_pt,
                 float height_pt) {
    const Pen pen = desk.pen();
    pen.fill(window, colour::veil);
    const float width = std::min(pen.px(width_pt), window.width - pen.px(24));
    const float height = std::min(pen.px(height_pt), window.height - pen.px(24));
    const Rect paper{std::round(window.middle_x() - 0.5F * width), std::round(window.middle_y() - 0.5F * height), width,
                     height};
    pen.fill({paper.x + pen.px(3), paper.y + pen.px(4), paper.width, paper.height}, colour::shadow, 2);
    pen.fill(paper, colour::card, 2);
    pen.fill({paper.x, paper.y, paper.width, pen.px(4)}, colour::ink);
    pen.text(paper.x + pen.px(24), paper.y + pen.px(20), Face::title, colour::ink, title, paper.width - pen.px(140));
    desk.places.note(id, paper);
    const Rect close{paper.right() - pen.px(92), paper.y + pen.px(16), pen.px(72), pen.px(30)};
    if (pen.button("sheet.close", close, "Close", false, "Esc")) {
        desk.want(ShowSheet{Sheet::none});
    }
    const ImVec2 mouse = ImGui::GetMousePos();
    if (ImGui::IsMouseClicked(ImGuiMouseButton_Left) && !paper.contains(mouse.x, mouse.y)) {
        desk.want(ShowSheet{Sheet::none});
    }
    return paper;
}

void key_sheet(const Desk& desk, const Rect& window) {
    const Pen measure = desk.pen();
    constexpr float kWide_pt = 1040;
    const float wide = std::min(measure.px(kWide_pt), window.width - measure.px(24)) - measure.px(48);
    const auto columns = columns_of(command_groups(), [&](const CommandGroup& group) {
        return draw_groups(measure, {{&group}, {}, {}}, 0, 0, wide, false);
    });
    const float high = draw_groups(measure, columns, 0, 0, wide, false);
    const Rect paper =
        begin_sheet(desk, window, "sheet.keys", "Keys and mouse", kWide_pt, 72 + high / measure.scale() + 14);
    const Rect body{paper.x + measure.px(24), paper.y + measure.px(62), wide,
                    paper.bottom() - paper.y - measure.px(62 + 14)};
    // Rolls where a small window cannot hold all.
    ImGui::SetCursorScreenPos({body.x, body.y});
    ImGui::BeginChild("key lines", {paper.right() - body.x, body.height}, false, ImGuiWindowFlags_NoBackground);
    draw_groups(desk.pen(), columns, body.x, ImGui::GetCursorScreenPos().y, wide, true);
    ImGui::SetCursorScreenPos({body.x, ImGui::GetCursorScreenPos().y});
    ImGui::Dummy({1, high});
    ImGui::EndChild();
}

void caution_sheet(const Desk& desk, const Rect& window) {
    const Pen pen = desk.pen();
    const float room_pt = 640 - 48;
    float height_pt = 76;
    for (const std::string& caution : cautions()) {
        height_pt += pen.wrapped_height(pen.px(room_pt - 24), Face::text, caution) / pen.scale() + 10;
    }
    height_pt += pen.wrapped_height(pen.px(room_pt), Face::text, disclaimer()) / pen.scale() + 30;
    const Rect paper = begin_sheet(desk, window, "sheet.cautions", "Where a press can hurt you", 640, height_pt);
    float y = paper.y + pen.px(66);
    const float x = paper.x + pen.px(24);
    for (const std::string& caution : cautions()) {
        pen.fill({x, y + pen.px(8), pen.px(8), pen.px(8)}, colour::foul);
        y += pen.wrapped(x + pen.px(24), y, pen.px(room_pt - 24), Face::text, colour::ink, caution) + pen.px(10);
    }
    pen.line(x, y + pen.px(2), x + pen.px(room_pt), y + pen.px(2), colour::pencil);
    pen.wrapped(x, y + pen.px(12), pen.px(room_pt), Face::text, colour::graphite, disclaimer());
}

} // namespace evenclose
