#include "checks/report/cautions.hpp"
#include "checks/report/text_report.hpp"
#include "viewer/ui/commands.hpp"
#include "viewer/ui/panel.hpp"
#include "viewer/ui/words.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace evenclose {
namespace {

struct Told {
    std::string loud, quiet;
    std::optional<Verdict> verdict;
    ImU32 colour = colour::ink;
};

Told told_of(const App& app) {
    switch (app.stage) {
    case Stage::empty:
        return {"Nothing on the bench yet", "open a set-up to begin", std::nullopt, colour::graphite};
    case Stage::reading:
        return {"Reading …", "documents and meshes", std::nullopt, colour::graphite};
    case Stage::faulty:
        return {"Cannot be used",
                app.faults.size() == 1 ? "1 fault to mend" : fmt::format("{} faults to mend", app.faults.size()),
                std::nullopt, colour::foul_word};
    case Stage::checking:
        return {"Checking …", "no verdict yet", std::nullopt, colour::graphite};
    case Stage::stopped:
        return {"Not checked", "stopped; R starts again", Verdict::not_checked, colour::graphite};
    case Stage::failed:
        return {"Not checked", "it broke off; R tries again", Verdict::not_checked, colour::foul_word};
    case Stage::checked:
        break;
    }
    const Verdict verdict = *app.verdict();
    return {loud(verdict), app.not_whole.empty() ? tally(app.results->findings) : "of the files before they changed",
            verdict, word_colour(verdict)};
}

/// Name of the set-up, and of what it is made of.
void name_block(const Desk& desk, const Rect& rect) {
    const Pen pen = desk.pen();
    const App& app = desk.app;
    std::string name = "Evenclose";
    std::string under = "does the mold close evenly in this press?";
    if (app.setup) {
        name = app.setup->name.empty() ? file_name(app.file) : app.setup->name;
        under = app.setup->press ? app.setup->press->name : "";
        if (!app.setup->openings.empty() && app.setup->openings.front().mold) {
            under += " · " + app.setup->openings.front().mold->name;
            if (app.setup->openings.size() > 1) {
                under += fmt::format(" · {} openings", app.setup->openings.size());
            }
        }
    } else if (app.stage != Stage::empty) {
        name = file_name(app.file);
        under = "";
    }
    float x = rect.x;
    if (app.documents.unsaved()) {
        pen.list().AddCircleFilled({x + pen.px(5), rect.y + pen.px(22)}, pen.px(5), colour::accent);
        desk.places.note("header.unsaved", {x, rect.y + pen.px(17), pen.px(10), pen.px(10)});
        x += pen.px(17);
        under.clear();
    }
    pen.text(x, rect.y + pen.px(10), Face::title, colour::ink, name, rect.right() - x);
    if (app.documents.unsaved()) {
        const float wide = pen.width_of(Face::text, "Save") + pen.px(20);
        if (pen.answer("header.save", {rect.x, rect.y + pen.px(36), wide, pen.px(24)}, "Save", true)) {
            desk.want(EditIntent{Save{}});
        }
        const Rect as{rect.x + wide + pen.px(8), rect.y + pen.px(36), pen.width_of(Face::text, "Save as") + pen.px(20),
                      pen.px(24)};
        if (pen.answer("header.save_as", as, "Save as", false)) {
            desk.want(FileQuestionIntent{AskForFile{FileQuestion::save_as}});
        }
        pen.text(as.right() + pen.px(8), rect.y + pen.px(39), Face::small, colour::graphite, "not saved yet",
                 rect.right() - as.right() - pen.px(8));
    } else {
        pen.text(rect.x, rect.y + pen.px(37), Face::small, colour::graphite, under, rect.width);
    }
    desk.places.note("header.name", rect);
    if (!app.file.empty()) {
        pen.hint(rect, app.file);
    }
}

void verdict_block(const Desk& desk, const Rect& rect) {
    const Pen pen = desk.pen();
    const Told told = told_of(desk.app);
    float x = rect.x;
    if (told.verdict) {
        const float size = pen.px(30);
        pen.verdict_mark(x, rect.middle_y() - 0.5F * size, size, *told.verdict);
        x += size + pen.px(12);
    }
    pen.text(x, rect.y + pen.px(10), Face::title, told.colour, told.loud, rect.right() - x);
    pen.text(x, rect.y + pen.px(37), Face::small, colour::graphite, told.quiet, rect.right() - x);
    desk.places.note("header.verdict", rect);
    if (told.verdict) {
        pen.hint(rect,
                 "Go: nothing stands in the way. Marginal: it works, with less room or reserve than was asked for. "
                 "No-go: it cannot work as it stands. Not checked: a number is missing.");
    }
}

void caution_block(const Desk& desk, const Rect& rect) {
    const Pen pen = desk.pen();
    const Pressable press = pen.pressable("caution", rect);
    desk.places.note("header.caution", rect);
    if (press.hovered) {
        pen.fill(rect, colour::hover, 2);
        ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
        pen.tip("Where a press can hurt you: all cautions");
    }
    if (press.pressed) {
        desk.want(ShowSheet{Sheet::cautions});
    }
    // A slanted double stroke, as a setter-out crosses out what must not be touched.
    for (const float at : {0.0F, 6.0F}) {
        pen.line(rect.x + pen.px(8 + at), rect.y + pen.px(50), rect.x + pen.px(16 + at), rect.y + pen.px(16),
                 colour::foul, 2.5F);
    }
    const float x = rect.x + pen.px(34);
    const float room = rect.right() - x - pen.px(4);
    pen.text(x, rect.y + pen.px(9), Face::strong, colour::ink, cautions().front(), room);
    pen.wrapped(x, rect.y + pen.px(29), room, Face::small, colour::graphite,
                "A help to think, no approval: have an engineer look before people stand near it.");
}

/// How far the job is, with a way to stop it.
void progress_block(const Desk& desk, const Rect& rect) {
    const Pen pen = desk.pen();
    const bool reading = desk.app.stage == Stage::reading;
    const float stop = pen.px(52);
    const Rect bar{rect.x, rect.middle_y() + pen.px(2), rect.width - stop - pen.px(10), pen.px(6)};
    pen.text(bar.x, bar.y - pen.px(22), Face::small, colour::ink,
             reading ? std::string("reading") : fmt::format("checking, {:.0f} %", 100.0 * desk.progress), bar.width);
    pen.fill(bar, colour::pencil, 1);
    const auto share = static_cast<float>(std::clamp(desk.progress, 0.0, 1.0));
    pen.fill({bar.x, bar.y, bar.width * (reading ? 0.0F : share), bar.height}, colour::accent, 1);
    desk.places.note("header.progress", bar);
    if (pen.button("header.cancel", {rect.right() - stop, rect.middle_y() - pen.px(15), stop, pen.px(30)}, "Stop",
                   false, "Stop the check; the press stays to be looked at")) {
        desk.want(CancelCheck{});
    }
}

void tool_block(const Desk& desk, const Rect& rect) {
    const Pen pen = desk.pen();
    const float height = pen.px(30);
    const float y = rect.middle_y() - 0.5F * height;
    float x = rect.right();
    const auto put = [&](const char* id, float width_pt, const char* words, bool chosen, const std::string& tip) {
        x -= pen.px(width_pt);
        return pen.button(id, {x, y, pen.px(width_pt), height}, words, chosen, tip.c_str());
    };
    if (put("header.keys", 30, "?", false, tip_with_key("All keys", "keys"))) {
        desk.want(ShowSheet{Sheet::keys});
    }
    if (put("header.search", 66, "Search", false, tip_with_key("Search all that the window can do", "search"))) {
        desk.want(ShowSheet{Sheet::search});
    }
    if (put("header.open", 58, "Open", false, tip_with_key("Open another set-up", "open"))) {
        desk.want(FileQuestionIntent{AskForFile{FileQuestion::open}});
    }
    x -= pen.px(6);
    const UnitSystem units = desk.app.units;
    if (put("header.inch", 42, "inch", units == UnitSystem::inch, tip_with_key("Lengths in inches", "units"))) {
        desk.want(SetUnits{UnitSystem::inch});
    }
    if (put("header.mm", 40, "mm", units == UnitSystem::metric, tip_with_key("Lengths in millimetres", "units"))) {
        desk.want(SetUnits{UnitSystem::metric});
    }
}

} // namespace

void header_panel(const Desk& desk, const Rect& rect) {
    const Pen pen = desk.pen();
    desk.places.note("header", rect);
    pen.fill(rect, colour::board);
    pen.line(rect.x, rect.bottom() - pen.px(1), rect.right(), rect.bottom() - pen.px(1), colour::ink, 1.5F);

    const float gap = pen.px(18);
    const float tools = pen.px(244);
    const float progress = desk.app.busy() ? pen.px(176) : 0;
    const float room = rect.width - tools - progress - 5 * gap;
    const float name = 0.30F * room;
    const float verdict = 0.29F * room;
    float x = rect.x + gap;
    const auto take = [&](float width) {
        const Rect taken{x, rect.y, width, rect.height};
        x += width + gap;
        return taken;
    };
    name_block(desk, take(name));
    pen.line(x - 0.5F * gap, rect.y + pen.px(12), x - 0.5F * gap, rect.bottom() - pen.px(14), colour::pencil);
    verdict_block(desk, take(verdict));
    pen.line(x - 0.5F * gap, rect.y + pen.px(12), x - 0.5F * gap, rect.bottom() - pen.px(14), colour::pencil);
    caution_block(desk, take(room - name - verdict));
    if (desk.app.busy()) {
        progress_block(desk, take(progress));
    }
    tool_block(desk, {rect.right() - tools - pen.px(10), rect.y, tools, rect.height});
}

} // namespace evenclose
