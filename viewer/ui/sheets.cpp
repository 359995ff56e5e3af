// Sheets of paper over the window: the list of keys, the cautions.
#include "checks/report/cautions.hpp"
#include "viewer/ui/panel.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace evenclose {
namespace {

constexpr std::array<std::pair<const char*, const char*>, 37> kKeys{{
    {"Space", "play or pause the stroke"},
    {"L", "slide the mold in, or put it back"},
    {"Up, Down", "travel by 1 mm or 1/16 in"},
    {"Shift, Up", "Shift with Up or Down: 0.1 mm or 1/64 in"},
    {"Page Up", "or Page Down: 10 mm or 1/2 in"},
    {"Home, End", "open, closed"},
    {"N, P", "next finding, the one before"},
    {"Esc", "close a sheet; else let go of what is chosen"},
    {"1 to 7", "corner, front, back, left, right, top, mold"},
    {"M", "the press, gap, curvature, cut, pressure"},
    {"O", "of several openings the next one"},
    {"U", "millimetres or inches"},
    {"T", "tilt drawn ×1, ×10, ×50, ×100"},
    {"B", "closed: frame bent, coloured by use"},
    {"W", "the week at the presses"},
    {"R", "read the set-up again and check it"},
    {"C", "stop the check"},
    {"Ctrl O", "open a set-up"},
    {"Ctrl N", "a new press from a few questions"},
    {"Ctrl S", "save; with Shift under another name"},
    {"Ctrl Z", "undo; with Shift do it again"},
    {"E", "every number of the documents, or the bench"},
    {"Tab", "type into the next field; Shift Tab the one before"},
    {"Enter, Esc", "apply what is typed, leave it as it was"},
    {"Ctrl F", "find a number by its words"},
    {"X", "the mold before the last swap, and back"},
    {"D", "differences of the two molds, check by check"},
    {"drop a mold", "swap the mold for that one"},
    {"Ctrl Q", "quit"},
    {"?", "this list"},
    {"drag", "turn round the point under the cursor"},
    {"right drag", "shift (or Shift and drag)"},
    {"Ctrl drag", "take the mold along its platen"},
    {"wheel", "nearer, further, at the cursor"},
    {"click", "a member, head or platen: what it bears"},
    {"double click", "look at that point closely"},
    {"drop a file", "open that set-up"},
}};

} // namespace

Rect begin_sheet(const Desk& desk, const Rect& window, const char* id, const char* title, float width_pt,
                 float height_pt) {
    const Pen pen = desk.pen();
    pen.fill(window, rgb(0x22303A, 110));
    const float width = std::min(pen.px(width_pt), window.width - pen.px(24));
    const float height = std::min(pen.px(height_pt), window.height - pen.px(24));
    const Rect paper{std::round(window.middle_x() - 0.5F * width), std::round(window.middle_y() - 0.5F * height), width,
                     height};
    pen.fill({paper.x + pen.px(3), paper.y + pen.px(4), paper.width, paper.height}, rgb(0, 60), 2);
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
    const Pen pen = desk.pen();
    const Rect paper = begin_sheet(desk, window, "sheet.keys", "Keys and mouse", 900, 580);
    const std::size_t half = (kKeys.size() + 1) / 2;
    for (std::size_t i = 0; i < kKeys.size(); ++i) {
        const float column = paper.x + pen.px(24) + (i < half ? 0.0F : 0.5F * (paper.width - pen.px(24)));
        const float y = paper.y + pen.px(66) + static_cast<float>(i % half) * pen.px(28);
        pen.text(column, y, Face::strong, colour::ink, kKeys[i].first, pen.px(100));
        pen.text(column + pen.px(106), y, Face::text, colour::graphite, kKeys[i].second,
                 0.5F * paper.width - pen.px(130));
    }
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
