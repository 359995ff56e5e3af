// The plan for the next press: what goes in as it stands and what stops one more; the ways to press more as marks on a
// diagram to click, the chosen one with its numbers, and a key that opens it as a set-up.
#include "checks/phrase.hpp"
#include "viewer/app/plan_scatter.hpp"
#include "viewer/ui/panel.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

constexpr float kMark_pt = 26;

std::string as_it_stands(const Plan& plan, UnitSystem units) {
    const int most = plan.fit.most;
    std::string words = most == 0   ? "Not even one opening goes as the press stands."
                        : most == 1 ? "One opening goes as the press stands."
                                    : fmt::format("{} openings go as the press stands.", most);
    if (plan.fit.stop) {
        words += fmt::format(" What stops {} ({}): {}.", most == 0 ? "it" : "one more", plan.fit.stop->check,
                             shown(plan.fit.stop->title, units));
    }
    return words;
}

std::string how_sure(const Plan& plan) {
    return fmt::format(
        "None of these is better in every way than another: all {} ways were looked at, each held against "
        "each, and what is on offer was checked.",
        plan.looked_at);
}

std::string refusals(const Plan& plan, UnitSystem units) {
    std::string words;
    for (const RefusedChoice& refused : plan.refused) {
        words += fmt::format("{}Not {} opening{}: {}.", words.empty() ? "" : " ", refused.openings,
                             refused.openings == 1 ? "" : "s",
                             refused.stop ? shown(refused.stop->title, units) : refused.why);
    }
    return words;
}

void axes(const Pen& pen, const Rect& area, const PlanScatter& scatter) {
    pen.fill(area, colour::board);
    for (const auto& [share, words] : scatter.y.ticks) {
        const float y = area.bottom() - static_cast<float>(share) * area.height;
        pen.line(area.x, y, area.right(), y, colour::pencil);
        pen.text(area.x - pen.px(8), y - 0.5F * pen.height_of(Face::small), Face::small, colour::graphite, words, 1e9F,
                 Align::right);
    }
    for (const auto& [share, words] : scatter.x.ticks) {
        const float x = area.x + static_cast<float>(share) * area.width;
        pen.line(x, area.bottom(), x, area.bottom() + pen.px(5), colour::graphite);
        pen.text(x, area.bottom() + pen.px(7), Face::small, colour::graphite, words, 1e9F, Align::middle);
    }
    pen.line(area.x, area.bottom(), area.right(), area.bottom(), colour::ink, 1.5F);
    pen.line(area.x, area.y, area.x, area.bottom(), colour::ink, 1.5F);
    pen.text(area.right(), area.bottom() + pen.px(26), Face::small, colour::ink, scatter.x.words, 1e9F, Align::right);
}

void marks(const Desk& desk, const Pen& pen, const Rect& area, const Plan& plan, const PlanScatter& scatter) {
    const float size = pen.px(kMark_pt);
    for (const ScatterMark& mark : scatter.marks) {
        const OfferedChoice& way = plan.offered[mark.way];
        const float true_x = area.x + static_cast<float>(mark.x) * area.width;
        const float x = true_x + static_cast<float>(mark.beside) * size;
        const float y = area.bottom() - static_cast<float>(mark.y) * area.height;
        const Rect place{x - 0.5F * size, y - 0.5F * size, size, size};
        const std::string id = fmt::format("plan.way.{}", mark.way);
        const Pressable press = pen.pressable(id.c_str(), place);
        desk.places.note(id, place);
        const bool chosen = desk.app.planning.chosen == mark.way;
        if (mark.beside > 0) {
            pen.line(true_x, y, x, y, colour::ink, 1);
        }
        pen.list().AddCircleFilled({x, y}, 0.5F * size - pen.px(1), chosen ? colour::accent : colour::card);
        pen.list().AddCircle({x, y}, 0.5F * size - pen.px(1), chosen || press.hovered ? colour::accent : colour::ink, 0,
                             pen.px(press.hovered ? 2.5F : 1.5F));
        pen.text(x, y - 0.5F * pen.height_of(Face::strong), Face::strong, chosen ? colour::card : colour::ink,
                 mark.openings, size, Align::middle);
        if (press.hovered) {
            ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
            pen.tip(title_of(way));
        }
        if (press.pressed) {
            desk.want(PlanIntent{ChooseWay{mark.way}});
        }
    }
}

void against_row(const Desk& desk, const Pen& pen, const Plan& plan, float x, float y) {
    pen.text(x, y + pen.px(6), Face::small, colour::graphite, "decks against");
    x += pen.width_of(Face::small, "decks against") + pen.px(10);
    for (const PlanAgainst what : known_against(plan)) {
        const std::string words = words_of(what);
        const float width = pen.width_of(Face::text, words) + pen.px(16);
        if (pen.button(fmt::format("plan.against.{}", words).c_str(), {x, y, width, pen.px(28)}, words,
                       desk.app.planning.against == what)) {
            desk.want(PlanIntent{SetPlanAgainst{what}});
        }
        x += width + pen.px(4);
    }
}

/// The chosen way, on a card of its own.
void way_card(const Desk& desk, const Pen& pen, const Rect& card, const OfferedChoice& way) {
    pen.fill(card, colour::paper, 2);
    pen.outline(card, colour::pencil, 1, 2);
    desk.places.note("plan.card", card);
    const float x = card.x + pen.px(14);
    const float right = card.right() - pen.px(14);
    float y = card.y + pen.px(12);
    y += pen.wrapped(x, y, right - x, Face::strong, colour::ink, title_of(way)) + pen.px(6);
    pen.verdict_mark(x, y + pen.px(2), pen.px(15), way.verdict);
    pen.text(x + pen.px(24), y, Face::text, word_colour(way.verdict), name_of(way.verdict), right - x - pen.px(24));
    y += pen.px(28);
    for (const WayLine& line : way_lines(way, desk.app.units)) {
        const float what = pen.text(x, y, Face::small, colour::graphite, line.what, right - x);
        pen.text(right, y, Face::small, colour::ink, line.how_much, right - x - what - pen.px(6), Align::right);
        y += pen.px(20);
    }
    const bool unsaved = desk.app.documents.unsaved();
    const std::string where = unsaved
                                  ? "Save your work first: the ways are made from the files as they stand on the disk."
                                  : "Writes all ways, and the raised presses, into a new folder \"plans\" beside your "
                                    "set-up. Yours stays as it is.";
    const float high = pen.wrapped_height(right - x, Face::small, where);
    pen.wrapped(x, card.bottom() - pen.px(12) - high, right - x, Face::small,
                unsaved ? colour::tight_word : colour::graphite, where);
    if (!unsaved) {
        const Rect key{x, card.bottom() - pen.px(20) - high - pen.px(36), right - x, pen.px(36)};
        if (pen.answer("plan.open", key, "Open this as a set-up", true)) {
            desk.want(PlanIntent{OpenWay{}});
        }
    }
}

/// Says why there is no diagram yet, with a way to begin, or to stop.
void without_plan(const Desk& desk, const Rect& window) {
    const Pen pen = desk.pen();
    const Planning& planning = desk.app.planning;
    const Rect paper = begin_sheet(desk, window, "sheet.plan", "Ways to press more", 640, 200);
    const float x = paper.x + pen.px(24);
    const float room = paper.width - pen.px(48);
    const float y = paper.y + pen.px(64);
    if (planning.stage == Planning::Stage::running) {
        pen.wrapped(
            x, y, room, Face::text, colour::ink,
            fmt::format("Every number of openings, molds and people is tried, {:.0f} % so far. You can close this "
                        "sheet meanwhile.",
                        100 * desk.plan_progress));
        const Rect bar{x, y + pen.px(56), room - pen.px(90), pen.px(6)};
        pen.fill(bar, colour::pencil, 1);
        pen.fill({bar.x, bar.y, bar.width * static_cast<float>(std::clamp(desk.plan_progress, 0.0, 1.0)), bar.height},
                 colour::accent, 1);
        if (pen.button("plan.stop", {paper.right() - pen.px(98), bar.middle_y() - pen.px(15), pen.px(74), pen.px(30)},
                       "Stop")) {
            desk.want(PlanIntent{StopPlan{}});
        }
        return;
    }
    std::string words = "Open a set-up with a mold first.";
    if (planning.stage == Planning::Stage::failed) {
        words = "It broke off: " + planning.fault + ".";
    } else if (desk.app.setup && !desk.app.setup->openings.empty()) {
        words = "How many openings go in, what stops one more, and which ways there are to press more.";
    }
    pen.wrapped(x, y, room, Face::text, colour::ink, words);
    if (desk.app.setup && !desk.app.setup->openings.empty() &&
        pen.button("plan.make", {x, paper.bottom() - pen.px(54), pen.px(120), pen.px(34)}, "Work it out", true)) {
        desk.want(PlanIntent{MakePlan{}});
    }
}

} // namespace

void plan_sheet(const Desk& desk, const Rect& window) {
    const App& app = desk.app;
    if (app.planning.stage != Planning::Stage::made || !app.planning.plan) {
        without_plan(desk, window);
        return;
    }
    const Pen pen = desk.pen();
    const Plan& plan = *app.planning.plan;
    const float wide = std::min(pen.px(1040), window.width - pen.px(24));
    const float room = wide - pen.px(48);
    const std::string now = as_it_stands(plan, app.units);
    const std::string sure = plan.offered.empty() ? "There is no way to press more in this press." : how_sure(plan);
    const std::string refused = refusals(plan, app.units);
    const std::string missing =
        plan.missing.empty() ? "" : "Decks a week are not told. Missing: " + listed(plan.missing) + ".";
    const auto high = [&](const std::string& words, Face face) {
        return words.empty() ? 0.0F : pen.wrapped_height(room, face, words) + pen.px(4);
    };
    const float foot = high(sure, Face::small) + high(refused, Face::small) + high(missing, Face::small);
    const float chart = plan.offered.empty() ? 0.0F : pen.px(392);
    const float head = high(now, Face::text);
    const Rect paper =
        begin_sheet(desk, window, "sheet.plan", "Ways to press more", 1040, (head + chart + foot) / pen.scale() + 92);
    const float x = paper.x + pen.px(24);
    float y = paper.y + pen.px(56);
    y += pen.wrapped(x, y, room, Face::text, colour::ink, now) + pen.px(10);
    if (!plan.offered.empty()) {
        const float card = pen.px(330);
        const float names = pen.px(58);
        against_row(desk, pen, plan, x, y);
        const Rect area{x + names, y + pen.px(64), room - card - names - pen.px(26), chart - pen.px(122)};
        const PlanScatter scatter = plan_scatter(plan, app.planning.against, app.units, pen.px(kMark_pt) / area.width,
                                                 pen.px(kMark_pt) / area.height);
        pen.text(x, y + pen.px(38), Face::small, colour::ink, scatter.y.words);
        axes(pen, area, scatter);
        marks(desk, pen, area, plan, scatter);
        pen.text(area.x, area.bottom() + pen.px(26), Face::small, colour::graphite, "in each mark: openings");
        if (app.planning.chosen) {
            way_card(desk, pen, {paper.right() - pen.px(24) - card, y, card, chart - pen.px(14)},
                     plan.offered[*app.planning.chosen]);
        }
        y += chart;
    }
    for (const std::string* words : {&sure, &refused, &missing}) {
        if (!words->empty()) {
            y += pen.wrapped(x, y, room, Face::small, colour::graphite, *words) + pen.px(4);
        }
    }
}

} // namespace evenclose
