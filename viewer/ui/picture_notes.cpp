// What is written over the picture: its row of views, slips of paper at what they speak of.
#include "viewer/render/force_arrows.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/ui/free_place.hpp"
#include "viewer/ui/picture_frame.hpp"
#include "viewer/ui/picture_panel.hpp"
#include "viewer/ui/picture_place.hpp"
#include "viewer/ui/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace evenclose {
namespace {

const char* view_label(const std::string& name) {
    constexpr std::array<std::pair<std::string_view, const char*>, 7> labels{{{"corner", "Corner"},
                                                                              {"front", "Front"},
                                                                              {"back", "Back"},
                                                                              {"left", "Left"},
                                                                              {"right", "Right"},
                                                                              {"top", "Top"},
                                                                              {"mold", "Mold"}}};
    const auto found = std::find_if(labels.begin(), labels.end(), [&](const auto& l) { return l.first == name; });
    return found == labels.end() ? name.c_str() : found->second;
}

/// The body that was clicked, and what can be done with it.
void picked_tag(const Desk& desk, const Rect& rect) {
    const Pen pen = desk.pen();
    const std::string& name = desk.app.closely.picked;
    constexpr std::string_view kKeys = "H hides it, J sees through it, I leaves it alone";
    const float width =
        std::min(std::max(pen.width_of(Face::strong, name), pen.width_of(Face::small, kKeys)) + pen.px(24),
                 rect.width - pen.px(24));
    const Rect place = free_place({rect.right() - width - pen.px(12), rect.bottom() - pen.px(62), width, pen.px(50)},
                                  rect, desk.places.on_picture(), pen.px(4));
    pen.fill(place, colour::card, 2);
    pen.outline(place, colour::ink, 1.2F, 2);
    pen.text(place.x + pen.px(12), place.y + pen.px(5), Face::strong, colour::ink, name, width - pen.px(24));
    pen.text(place.x + pen.px(12), place.y + pen.px(27), Face::small, colour::graphite, kKeys, width - pen.px(24));
    desk.places.note("picture.picked", place);
}

/// What goes on with the mold, on a slip of one line.
void line_in_the_middle(const Desk& desk, const Rect& rect, float y, const char* id, const std::string& words,
                        ImU32 edge) {
    const Pen pen = desk.pen();
    const float width = std::min(pen.width_of(Face::text, words) + pen.px(24), rect.width - pen.px(16));
    const Rect place =
        free_place({rect.middle_x() - 0.5F * width, y, width, pen.px(28)}, rect, desk.places.on_picture(), pen.px(4));
    pen.fill(place, colour::paper_over, 2);
    pen.outline(place, edge, 1, 2);
    pen.text(place.middle_x(), place.y + pen.px(5), Face::text, colour::ink, words, width - pen.px(12), Align::middle);
    desk.places.note(id, place);
}

} // namespace

void PicturePanel::move_note(const Desk& desk, const Rect& rect, float y) const {
    if (!mold_ || !desk.app.moving_mold) {
        return;
    }
    const Vec2 at{desk.app.moving_mold->x_mm, desk.app.moving_mold->y_mm};
    const std::string place =
        fmt::format("{} along, {} across", show_length(at.x, desk.app.units, 1), show_length(at.y, desk.app.units, 1));
    const std::string& to = mold_->snapped_to;
    const std::string words = to.empty() ? "the mold " + place + " from the platen's middle" : place + ": " + to;
    line_in_the_middle(desk, rect, y, "picture.move_mold", words, colour::accent);
    if (!to.empty()) {
        desk.places.note("picture.snapped: " + to, {rect.middle_x(), y, 1, 1});
    }
}

void PicturePanel::tools(const Desk& desk, const Rect& rect) const {
    const Pen pen = desk.pen();
    const App& app = desk.app;
    const float high = pen.px(30);
    pen.fill(rect, colour::paper);
    const Rect strip{rect.x + pen.px(8), rect.middle_y() - 0.5F * high, rect.width - pen.px(16), high};
    float x = strip.x;
    const auto& names = view_names();
    for (std::size_t i = 0; i < names.size(); ++i) {
        const Rect place{x, strip.y, pen.px(57), high};
        const std::string tip = fmt::format("Key {}", i + 1);
        if (pen.button(("view." + names[i]).c_str(), place, view_label(names[i]), app.view == names[i], tip.c_str())) {
            desk.want(SetView{names[i]});
        }
        x += place.width;
    }
    constexpr std::array<std::pair<double, const char*>, 4> magnified{
        {{1.0, "×1"}, {10.0, "×10"}, {50.0, "×50"}, {100.0, "×100"}}};
    const float step = pen.px(42);
    x = strip.right() - 4 * step;
    const float label = pen.width_of(Face::text, "Tilt") + pen.px(16);
    pen.text(x - label + pen.px(8), strip.middle_y() - 0.5F * pen.height_of(Face::text), Face::text, colour::graphite,
             "Tilt");
    for (const auto& [times, words] : magnified) {
        if (pen.button(fmt::format("tilt.{}", times).c_str(), {x, strip.y, step, high}, words,
                       app.tilt_magnified == times, "Tilt of the platen drawn this many times as great  ( T )")) {
            desk.want(SetTiltMagnified{times});
        }
        x += step;
    }
}

void PicturePanel::tilt_note(const Desk& desk, const Rect& rect) const {
    const Pen pen = desk.pen();
    const App& app = desk.app;
    if (app.tilt_magnified <= 1.0 || app.loading_in) {
        return;
    }
    const ShownSlope slope = shown_slope(app);
    const double tilt = std::hypot(slope.slope.x, slope.slope.y);
    // A gradient needs no unit, and a shop knows its falls as "1 in 200".
    const std::string words =
        tilt > 1e-9
            ? fmt::format("tilt drawn ×{:.0f}; in truth 1 in {:.0f}, {}", app.tilt_magnified, 1.0 / tilt,
                          slope.of == ShownSlope::Of::finding ? "as at this finding" : "the most the jacks allow here")
            : fmt::format("tilt drawn ×{:.0f}; here the platen is level", app.tilt_magnified);
    const float width = pen.width_of(Face::small, words) + pen.px(16);
    const Rect place = free_place({rect.right() - width - pen.px(8), rect.y + pen.px(8), width, pen.px(24)}, rect,
                                  desk.places.on_picture(), pen.px(4));
    pen.fill(place, colour::paper_over, 2);
    pen.text(place.x + pen.px(8), place.y + pen.px(4), Face::small, colour::ink, words);
    desk.places.note("picture.tilt", place);
}

void PicturePanel::bent_note(const Desk& desk, const Rect& rect) const {
    const BentShapes* bent = shown_bent(desk.app);
    if (bent == nullptr) {
        return;
    }
    const Pen pen = desk.pen();
    const std::string words =
        fmt::format("bent by {}, drawn ×{:.0f}; of its strength each part uses",
                    show_force(desk.app.results->frame->force_N, desk.app.units), bent->magnified);
    constexpr std::array<std::pair<double, const char*>, 4> kSteps{
        {{0.0, "0"}, {0.5, "50 %"}, {0.9, "90 %"}, {1.0, "all"}}};
    const float text = pen.width_of(Face::small, words);
    const float step = pen.px(58);
    const float width = std::min(text + pen.px(24) + 4 * step, rect.width - pen.px(16));
    const Rect place = free_place({rect.x + pen.px(8), rect.bottom() - pen.px(62), width, pen.px(24)}, rect,
                                  desk.places.on_picture(), pen.px(4));
    pen.fill(place, colour::paper_over, 2);
    float x = place.right() - 4 * step;
    pen.text(place.x + pen.px(8), place.y + pen.px(4), Face::small, colour::ink, words, x - place.x - pen.px(16));
    for (const auto& [use, label] : kSteps) {
        const Colour c = use_colour(use);
        pen.fill({x, place.y + pen.px(6), pen.px(12), pen.px(12)},
                 IM_COL32(static_cast<int>(255 * c.red), static_cast<int>(255 * c.green),
                          static_cast<int>(255 * c.blue), 255));
        pen.text(x + pen.px(16), place.y + pen.px(4), Face::small, colour::ink, label);
        x += step;
    }
    desk.places.note("picture.bent", place);
}

/// What each arrow brings, on a slip of paper at its tail (the head's: at its point).
void PicturePanel::force_tags(const Desk& desk, const Rect& rect) const {
    const App& app = desk.app;
    if (!shows_forces(app)) {
        return;
    }
    const Pen pen = desk.pen();
    for (const ForceArrow& arrow : force_arrows(*app.results->frame, *app.setup, *app.assembly, app.travel)) {
        const bool head = arrow.name == "head";
        const Vec3& beside = head ? arrow.to_mm : arrow.from_mm;
        if (!in_front(app.camera, beside)) {
            continue;
        }
        const PicturePlace at = place_of(app.camera, beside);
        const std::string words = arrow.name + "  " + show_force(arrow.force_N, app.units);
        const float width = pen.width_of(Face::small, words) + pen.px(12);
        const float high = pen.height_of(Face::small) + pen.px(4);
        const float x = rect.middle_x() + static_cast<float>(at.across) * 0.5F * rect.height;
        const float y = rect.middle_y() - static_cast<float>(at.up) * 0.5F * rect.height;
        Rect paper{x - 0.5F * width, head ? y - high - pen.px(4) : y + pen.px(4), width, high};
        if (!rect.contains(paper.x, paper.y) || !rect.contains(paper.right(), paper.bottom())) {
            continue;
        }
        paper = free_place(paper, rect, desk.places.on_picture(), pen.px(4));
        pen.fill(paper, colour::card_over, 2);
        pen.outline(paper, colour::ink, 1, 2);
        pen.text(paper.x + pen.px(6), paper.y + pen.px(2), Face::small, colour::ink, words);
        desk.places.note("picture.force." + arrow.name, paper);
    }
}

void PicturePanel::load_note(const Desk& desk, const Rect& rect, float y) const {
    if (!desk.app.loading_in) {
        return;
    }
    const LoadingIn& loading = *desk.app.loading_in;
    const double left = loading.path->distance_mm - loading.gone_mm;
    const std::string words =
        left > 0 ? fmt::format("{} slides in from the {}: {} to go", loading.path->steps[loading.step].name,
                               name_of(loading.path->from), show_length(left, desk.app.units, 0))
                 : fmt::format("{} is in its place", loading.path->steps[loading.step].name);
    line_in_the_middle(desk, rect, y, "picture.load_in", words, colour::pencil);
}

/// Names the chosen bodies at their spot, with a leader as on a drawing.
void PicturePanel::tag(const Desk& desk, const Rect& rect) const {
    const App& app = desk.app;
    if (!app.shown && !app.closely.picked.empty()) {
        picked_tag(desk, rect);
        return;
    }
    if (!app.shown || app.shown->bodies.empty()) {
        return;
    }
    const Pen pen = desk.pen();
    std::string words = app.shown->bodies.front();
    if (app.shown->bodies.size() > 1) {
        words += "  |  " + app.shown->bodies[1];
    }
    const float width = std::min(pen.width_of(Face::strong, words) + pen.px(44), rect.width - pen.px(24));
    Rect place{rect.right() - width - pen.px(12), rect.bottom() - pen.px(44), width, pen.px(32)};
    if (app.tilt_magnified > 1.0) {
        place.y -= pen.px(30);
    }
    place = free_place(place, rect, desk.places.on_picture(), pen.px(4));
    if (app.shown->at_mm && stands_at(app, *app.shown) && in_front(app.camera, *app.shown->at_mm)) {
        const PicturePlace at = place_of(app.camera, *app.shown->at_mm);
        const float x = rect.middle_x() + static_cast<float>(at.across) * 0.5F * rect.height;
        const float y = rect.middle_y() - static_cast<float>(at.up) * 0.5F * rect.height;
        if (rect.contains(x, y)) {
            pen.line(x, y, place.middle_x(), place.y, colour::ink, 1.2F);
        }
    }
    pen.fill(place, colour::card, 2);
    pen.outline(place, colour::ink, 1.2F, 2);
    pen.verdict_mark(place.x + pen.px(11), place.middle_y() - pen.px(6), pen.px(12), app.shown->verdict);
    pen.text(place.x + pen.px(32), place.middle_y() - 0.5F * pen.height_of(Face::strong), Face::strong, colour::ink,
             words, width - pen.px(40));
    desk.places.note("picture.tag", place);
}

} // namespace evenclose
