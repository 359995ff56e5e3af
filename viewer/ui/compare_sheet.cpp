// The sheet on which two molds in the same press stand side by side, check by check.
#include "checks/phrase.hpp"
#include "viewer/app/comparison.hpp"
#include "viewer/ui/panel.hpp"
#include "viewer/ui/words.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace evenclose {
namespace {

void cell(const Desk& desk, const Pen& pen, const Finding* finding, float x, float y, float width) {
    if (finding == nullptr) {
        pen.text(x, y, Face::small, colour::graphite, "nothing to say", width);
        return;
    }
    pen.verdict_mark(x, y + pen.px(3), pen.px(11), finding->verdict);
    pen.text(x + pen.px(20), y, Face::small, word_colour(finding->verdict), name_of(finding->verdict), pen.px(80));
    pen.text(x + width - pen.px(10), y, Face::small, colour::ink,
             number_words(finding->value, finding->unit, desk.app.units), width - pen.px(110), Align::right);
}

} // namespace

void compare_sheet(const Desk& desk, const Rect& window) {
    const Pen pen = desk.pen();
    const App& app = desk.app;
    const Rect paper = begin_sheet(desk, window, "sheet.compare", "Two molds in this press", 820, 620);
    const float x = paper.x + pen.px(24);
    const float right = paper.right() - pen.px(24);
    float y = paper.y + pen.px(60);
    if (app.molds.comparing) {
        const MoldComparing& comparing = *app.molds.comparing;
        if (!comparing.faults.empty()) {
            y += pen.wrapped(x, y, right - x, Face::text, colour::foul_word,
                             comparing.name + " cannot be put into this press.") +
                 pen.px(8);
            for (const std::string& fault : comparing.faults) {
                y += pen.wrapped(x, y, right - x, Face::small, colour::ink, fault) + pen.px(4);
            }
            return;
        }
        y += pen.wrapped(x, y, right - x, Face::text, colour::graphite,
                         fmt::format("{} is checked in this press, {:.0f} % so far. Closing this sheet breaks it off; "
                                     "the press and its mold stay as they are.",
                                     comparing.name, 100.0 * desk.compare_progress)) +
             pen.px(14);
        const Rect bar{x, y, right - x, pen.px(6)};
        pen.fill(bar, colour::pencil, 1);
        pen.fill(
            {bar.x, bar.y, bar.width * static_cast<float>(std::clamp(desk.compare_progress, 0.0, 1.0)), bar.height},
            colour::accent, 1);
        desk.places.note("compare.progress", bar);
        return;
    }
    if (!app.compared || !app.compared->results || !app.results) {
        pen.wrapped(
            x, y, right - x, Face::text, colour::graphite,
            app.compared
                ? "The check of this mold still runs; the two are compared when it is done."
                : "Choose another mold first: Ctrl M shows those of a folder, Shift Enter compares one; or drop one on "
                  "the window.");
        return;
    }
    const float column = (right - x - pen.px(110)) / 2;
    const std::string now = app.setup && app.compared->opening < app.setup->openings.size() &&
                                    app.setup->openings[app.compared->opening].mold
                                ? app.setup->openings[app.compared->opening].mold->name
                                : "now";
    pen.text(x + pen.px(110), y, Face::strong, colour::ink, app.compared->name, column - pen.px(14));
    pen.text(x + pen.px(110) + column, y, Face::strong, colour::accent, now + ", in the press", column - pen.px(14));
    y += pen.px(26);
    pen.line(x, y, right, y, colour::ink, 1.2F);
    const Rect key{right - pen.px(160), paper.bottom() - pen.px(48), pen.px(160), pen.px(34)};
    ImGui::SetCursorScreenPos({x, y + 1});
    ImGui::BeginChild("compared", {right - x, key.y - pen.px(8) - y}, false, ImGuiWindowFlags_NoBackground);
    {
        const Pen inside = desk.pen();
        const float start = ImGui::GetCursorScreenPos().y;
        float at = start + inside.px(4);
        for (const ComparedRow& row : compared_rows(*app.compared->results, *app.results)) {
            const float high = inside.px(24);
            if (row.differs) {
                inside.fill({x, at, right - x - inside.px(12), high - inside.px(2)}, colour::accent_pale, 2);
            }
            inside.text(x + inside.px(6), at + inside.px(3), Face::small, colour::ink, row.check, inside.px(100));
            cell(desk, inside, row.before, x + inside.px(110), at + inside.px(3), column - inside.px(14));
            cell(desk, inside, row.now, x + inside.px(110) + column, at + inside.px(3), column - inside.px(14));
            desk.places.note("compare." + row.check, {x, at, right - x, high});
            at += high;
        }
        ImGui::SetCursorScreenPos({x, start});
        ImGui::Dummy({1, at - start});
    }
    ImGui::EndChild();
    if (pen.button("compare.toggle", key, "Swap them  ( X )", true, "The other mold into the press")) {
        desk.want(EditIntent{ToggleMold{}});
    }
}

} // namespace evenclose
