// The week at the presses as a chart of time: a line for each press, each person and the racks, a column for each day.
#include "checks/phrase.hpp"
#include "viewer/app/week_chart.hpp"
#include "viewer/ui/panel.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace evenclose {
namespace {

constexpr std::array<const char*, 7> kDays{"Monday", "Tuesday",  "Wednesday", "Thursday",
                                           "Friday", "Saturday", "Sunday"};

ImU32 colour_of(TaskKind kind) {
    switch (kind) {
    case TaskKind::press:
        return colour::slate_clear;
    case TaskKind::lay_up:
        return colour::rod_edge;
    case TaskKind::load:
        return colour::accent;
    case TaskKind::close:
        return colour::ink;
    case TaskKind::unload:
        return colour::graphite;
    case TaskKind::cure:
        break;
    }
    return colour::pencil;
}

constexpr std::array<std::pair<TaskKind, const char*>, 6> kLegend{{{TaskKind::lay_up, "lay-up"},
                                                                   {TaskKind::load, "mold in"},
                                                                   {TaskKind::close, "closing"},
                                                                   {TaskKind::press, "under pressure"},
                                                                   {TaskKind::unload, "mold out"},
                                                                   {TaskKind::cure, "curing on racks"}}};

std::string what_more_brings(const std::vector<Gain>& gains) {
    std::string text = "One more brings, in decks a week: ";
    for (std::size_t i = 0; i < gains.size(); ++i) {
        text +=
            fmt::format("{}{} {:+.3g}", i == 0 ? "" : ", ", gains[i].what, gains[i].gain == 0 ? 0.0 : gains[i].gain);
    }
    return text + ".";
}

void days(const Pen& pen, const WeekChart& chart, const Rect& area, float gap) {
    const float width = (area.width + gap) / static_cast<float>(chart.days);
    for (int day = 0; day < chart.days; ++day) {
        const float x = area.x + static_cast<float>(day) * width;
        const float right = x + width - gap;
        pen.fill({x, area.y, width - gap, area.height}, colour::board);
        pen.text(x, area.y - pen.px(38), Face::strong, colour::ink, kDays[static_cast<std::size_t>(day)], width - gap);
        const float room = 0.5F * (width - gap);
        pen.text(x, area.y - pen.px(19), Face::small, colour::graphite, chart.begins, room);
        pen.text(right, area.y - pen.px(19), Face::small, colour::graphite, chart.ends, room, Align::right);
    }
}

/// Says what the bar under the cursor is.
void bars(const Pen& pen, const WeekLine& line, const Rect& area, float day_width, float gap) {
    const ImVec2 mouse = ImGui::GetMousePos();
    for (const WeekBar& bar : line.bars) {
        const float from =
            area.x + static_cast<float>(bar.day) * day_width + static_cast<float>(bar.from) * (day_width - gap);
        const float to =
            area.x + static_cast<float>(bar.day) * day_width + static_cast<float>(bar.to) * (day_width - gap);
        const auto height = static_cast<float>(bar.high) * area.height;
        const Rect rect{from, area.bottom() - height, std::max(to - from - pen.px(0.5F), 1.0F), height};
        pen.fill(rect, colour_of(bar.kind));
        if (rect.contains(mouse.x, mouse.y)) {
            pen.tip(bar.told);
        }
    }
}

void legend(const Pen& pen, float x, float y, float right) {
    for (const auto& [kind, words] : kLegend) {
        const float width = pen.px(24) + pen.width_of(Face::small, words);
        if (x + width > right) {
            break;
        }
        pen.fill({x, y + pen.px(4), pen.px(12), pen.px(12)}, colour_of(kind));
        pen.text(x + pen.px(18), y, Face::small, colour::graphite, words);
        x += width + pen.px(14);
    }
}

} // namespace

void week_sheet(const Desk& desk, const Rect& window) {
    const Pen pen = desk.pen();
    const TimeMeasure* measure = desk.app.results ? desk.app.results->time.get() : nullptr;
    if (measure == nullptr || !measure->plan || !measure->schedule.not_possible.empty()) {
        const Rect paper = begin_sheet(desk, window, "sheet.week", "The week", 640, 190);
        std::string why = "The set-up is not checked yet.";
        if (measure != nullptr) {
            why = !measure->schedule.not_possible.empty()
                      ? "No week can be planned: " + measure->schedule.not_possible + "."
                  : !measure->no_press.empty()
                      ? measure->no_press + "."
                      : "Not enough is known of time. Missing: " + listed(measure->missing) + ".";
        }
        pen.wrapped(paper.x + pen.px(24), paper.y + pen.px(66), paper.width - pen.px(48), Face::text, colour::ink, why);
        return;
    }
    const WeekChart chart = week_chart(*measure);
    const float line_pt = 34;
    const auto lines = static_cast<float>(chart.lines.size());
    const std::string more = what_more_brings(measure->gains);
    const float more_pt =
        pen.wrapped_height(std::min(pen.px(1000), window.width - pen.px(24)) - pen.px(48), Face::text, more) /
        pen.scale();
    const Rect paper = begin_sheet(desk, window, "sheet.week", "The week", 1000, 170 + line_pt * lines + 40 + more_pt);
    const float left = paper.x + pen.px(24);
    const float room = paper.width - pen.px(48);
    const Schedule& schedule = measure->schedule;
    pen.text(left, paper.y + pen.px(56), Face::text, colour::ink,
             fmt::format(
                 "{:.4g} decks a week in {:.4g} pressings; people busy {:.0f} %, presses full {:.0f} % of the hours",
                 schedule.decks_a_week, schedule.pressings_a_week, 100 * schedule.crew_used, 100 * schedule.press_used),
             room);
    const float names = pen.px(86);
    const float gap = pen.px(10);
    const Rect area{left + names, paper.y + pen.px(134), room - names, pen.px(line_pt) * lines};
    days(pen, chart, area, gap);
    const float day_width = (area.width + gap) / static_cast<float>(chart.days);
    for (std::size_t i = 0; i < chart.lines.size(); ++i) {
        const float y = area.y + static_cast<float>(i) * pen.px(line_pt);
        pen.text(left, y + pen.px(9), Face::text, colour::ink, chart.lines[i].name, names - pen.px(6));
        bars(pen, chart.lines[i], {area.x, y + pen.px(5), area.width, pen.px(line_pt - 10)}, day_width, gap);
    }
    legend(pen, area.x, area.bottom() + pen.px(12), paper.right() - pen.px(24));
    pen.wrapped(left, area.bottom() + pen.px(46), room, Face::text, colour::graphite, more);
}

} // namespace evenclose
