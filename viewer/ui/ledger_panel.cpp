// The ledger: every finding, worst first, as a line with its verdict, its number, its limit and what to do.
#include "checks/phrase.hpp"
#include "viewer/ui/panel.hpp"
#include "viewer/ui/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace evenclose {
namespace {

struct Columns {
    float verdict, sentence, value, limit, margin, travel; // left edges
    float sentence_width, number_width, travel_width;
};

Columns columns_of(const Pen& pen, const Rect& rect) {
    const float gap = pen.px(14);
    Columns c{};
    c.number_width = pen.px(92);
    c.travel_width = pen.px(134);
    c.verdict = rect.x + gap;
    c.sentence = c.verdict + pen.px(118);
    c.travel = rect.right() - pen.px(18) - c.travel_width;
    c.margin = c.travel - gap - c.number_width;
    c.limit = c.margin - gap - c.number_width;
    c.value = c.limit - gap - c.number_width;
    c.sentence_width = c.value - 1.5F * gap - c.sentence;
    return c;
}

void head_row(const Pen& pen, const Rect& rect, const Columns& c) {
    const float y = rect.y + pen.px(6);
    pen.text(c.verdict, y, Face::small, colour::graphite, "verdict");
    pen.text(c.sentence, y, Face::small, colour::graphite, "finding, and what to do");
    const auto right = [&](float x, const char* words, const char* hint) {
        pen.text(x + c.number_width, y, Face::small, colour::graphite, words, c.number_width, Align::right);
        pen.hint({x, rect.y, c.number_width, rect.height}, hint);
    };
    right(c.value, "measured", "What the check found. A right click on a number copies it.");
    right(c.limit, "limit", "What the set-up, the glue's data sheet or a standard asks for");
    right(c.margin, "margin", "What is left between the two; below nothing it is too much or too little");
    pen.hint({c.travel, rect.y, c.travel_width, rect.height}, "Where on the stroke: 0 is open");
    pen.text(c.travel, y, Face::small, colour::graphite, "travel", c.travel_width);
    pen.line(rect.x, rect.bottom(), rect.right(), rect.bottom(), colour::pencil);
}

/// Where there is room for it.
void report_key(const Desk& desk, const Rect& head, const Columns& c) {
    const Pen pen = desk.pen();
    const float wide = pen.width_of(Face::text, "Make the report") + pen.px(20);
    const Rect place{c.sentence + c.sentence_width - wide, head.y + pen.px(2), wide, head.height - pen.px(4)};
    if (place.x < c.sentence + pen.width_of(Face::small, "finding, and what to do") + pen.px(20)) {
        return;
    }
    if (pen.answer("ledger.report", place, "Make the report", false)) {
        desk.want(FileQuestionIntent{AskForFile{FileQuestion::report}});
    }
}

struct Sentences {
    std::string title, remedy, why;
};

Sentences sentences_of(const Finding& finding, bool chosen, UnitSystem units) {
    Sentences told{shown(finding.title, units), shown(finding.remedy, units), {}};
    // What could not be checked says at once which datum is missing; else the reason comes when it is asked for.
    if (chosen || finding.verdict == Verdict::not_checked) {
        told.why = shown(finding.why, units);
    }
    return told;
}

float row_height(const Pen& pen, const Columns& c, const Sentences& told) {
    float height = pen.px(14) + pen.wrapped_height(c.sentence_width, Face::text, told.title);
    for (const std::string& words : {told.why, told.remedy}) {
        if (!words.empty()) {
            height += pen.px(2) + pen.wrapped_height(c.sentence_width - pen.px(18), Face::small, words);
        }
    }
    return height;
}

void finding_row(const Desk& desk, const Pen& pen, const Columns& c, const Rect& row, std::size_t index,
                 const Sentences& told) {
    const Finding& finding = desk.app.results->findings[index];
    const bool chosen = desk.app.finding == index;
    ImGui::PushID(static_cast<int>(index));
    const Pressable press = pen.pressable("row", row);
    ImGui::PopID();
    desk.places.note(fmt::format("ledger.row.{}", index), row);
    if (press.pressed) {
        if (chosen) {
            desk.want(ClearChoice{});
        } else {
            desk.want(ChooseFinding{index});
        }
    }
    if (chosen) {
        pen.fill(row, colour::accent_pale);
        pen.fill({row.x, row.y, pen.px(5), row.height}, colour::accent);
    } else if (press.hovered) {
        pen.fill(row, colour::card);
    }
    if (press.hovered) {
        ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    }
    float y = row.y + pen.px(7);
    const float line = pen.height_of(Face::text);
    const float mark = pen.px(13);
    pen.verdict_mark(c.verdict + pen.px(2), y + 0.5F * (line - mark) + pen.px(1), mark, finding.verdict);
    pen.text(c.verdict + pen.px(24), y, Face::strong, word_colour(finding.verdict), name_of(finding.verdict),
             c.sentence - c.verdict - pen.px(30));

    const UnitSystem units = desk.app.units;
    const auto number = [&](float x, const std::optional<double>& value, ImU32 colour) {
        pen.text(x + c.number_width, y, Face::text, colour, number_words(value, finding.unit, units), c.number_width,
                 Align::right);
    };
    number(c.value, finding.value, colour::ink);
    number(c.limit, finding.limit, colour::graphite);
    number(c.margin, finding.margin, finding.margin && *finding.margin < 0 ? colour::foul_word : colour::ink);
    pen.text(c.travel, y, Face::text, colour::ink, travel_words(finding.travel, units), c.travel_width);

    y += pen.wrapped(c.sentence, y, c.sentence_width, Face::text, colour::ink, told.title);
    const float room = c.sentence_width - pen.px(18);
    if (!told.why.empty()) {
        y += pen.px(2);
        y += pen.wrapped(c.sentence + pen.px(18), y, room, Face::small, colour::graphite, told.why);
    }
    if (!told.remedy.empty()) {
        y += pen.px(2);
        // A carpenter's caret: here something is to be done.
        const float x = c.sentence + pen.px(3);
        const float middle = y + 0.5F * pen.height_of(Face::small);
        pen.line(x, middle - pen.px(4), x + pen.px(7), middle, colour::accent, 1.8F);
        pen.line(x + pen.px(7), middle, x, middle + pen.px(4), colour::accent, 1.8F);
        pen.wrapped(c.sentence + pen.px(18), y, room, Face::small, colour::ink, told.remedy);
    }
    pen.line(row.x, row.bottom(), row.right(), row.bottom(), colour::faint_line);
}

void rows(const Desk& desk, const Rect& rect) {
    const Pen pen = desk.pen(); // of the scrolling child
    const Columns c = columns_of(pen, rect);
    const auto& findings = desk.app.results->findings;
    std::optional<std::size_t>& scrolled_to = desk.memory.ledger_scrolled_to;
    float y = ImGui::GetCursorScreenPos().y;
    const float start = y;
    for (std::size_t i = 0; i < findings.size(); ++i) {
        const bool chosen = desk.app.finding == i;
        const Sentences told = sentences_of(findings[i], chosen, desk.app.units);
        const Rect row{rect.x, y, rect.width, row_height(pen, c, told)};
        finding_row(desk, pen, c, row, i, told);
        if (chosen && scrolled_to != i && (row.y < rect.y || row.bottom() > rect.bottom())) {
            ImGui::SetScrollFromPosY(row.middle_y() - ImGui::GetWindowPos().y, 0.5F);
        }
        y += row.height + 1;
    }
    scrolled_to = desk.app.finding;
    ImGui::SetCursorScreenPos({rect.x, start});
    ImGui::Dummy({1, y - start});
}

std::string empty_words(const App& app) {
    switch (app.stage) {
    case Stage::empty:
        return "The ledger: what was found, worst first, each with a number, a limit and what to do.";
    case Stage::reading:
        return "Reading the documents and meshes …";
    case Stage::checking:
        return "Checking the whole stroke. What is found is written here; the press can be looked at meanwhile.";
    case Stage::stopped:
        return "The check was stopped, so nothing is known. Press R to check.";
    case Stage::failed:
        return "The check broke off: " + (app.faults.empty() ? std::string("no reason told") : app.faults.front()) +
               ". Press R to try again.";
    case Stage::faulty:
        return "Nothing could be checked.";
    case Stage::checked:
        return "No check had anything to say.";
    }
    return "";
}

} // namespace

void ledger_panel(const Desk& desk, const Rect& rect) {
    const Pen pen = desk.pen();
    desk.places.note("ledger", rect);
    pen.fill(rect, colour::board);
    pen.line(rect.x, rect.y, rect.right(), rect.y, colour::ink, 1.5F);
    const Rect head{rect.x, rect.y, rect.width, pen.px(28)};
    if (!desk.app.results || desk.app.results->findings.empty()) {
        pen.wrapped(rect.x + pen.px(16), rect.y + pen.px(16), rect.width - pen.px(32), Face::text, colour::graphite,
                    empty_words(desk.app));
        return;
    }
    head_row(pen, head, columns_of(pen, rect));
    report_key(desk, head, columns_of(pen, rect));
    const Rect body{rect.x, head.bottom() + 1, rect.width, rect.bottom() - head.bottom() - 1};
    ImGui::SetCursorScreenPos({body.x, body.y});
    ImGui::BeginChild("ledger rows", {body.width, body.height}, false, ImGuiWindowFlags_NoBackground);
    rows(desk, body);
    ImGui::EndChild();
}

} // namespace evenclose
