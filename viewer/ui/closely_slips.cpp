#include "viewer/ui/closely_slips.hpp"

#include "viewer/ui/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace evenclose {
namespace {

constexpr float kRow_pt = 28, kGap_pt = 4;

/// A few names, the others counted.
std::string some_of(const std::set<std::string>& names) {
    constexpr std::size_t kNamed = 2;
    std::string words;
    std::size_t told = 0;
    for (const std::string& name : names) {
        if (told == kNamed && names.size() > kNamed + 1) {
            return fmt::format("{} and {} more", words, names.size() - told);
        }
        words += (told > 0 ? ", " : "") + name;
        ++told;
    }
    return words;
}

/// A slip that is filled from the left.
class Slip {
public:
    Slip(const Desk& desk, const Rect& picture, float y, float width)
        : Slip(desk, picture, y, width, picture.x + desk.pen().px(8)) {}
    Slip(const Desk& desk, const Rect& picture, float y, float width, float x)
        : pen_(desk.pen()), paper_{x, y, std::min(width, picture.right() - pen_.px(8) - x), pen_.px(kRow_pt)},
          x_(paper_.x) {
        pen_.fill(paper_, colour::paper_over, 2);
        pen_.outline(paper_, colour::pencil, 1, 2);
    }
    bool button(const char* id, float width, const char* words, bool chosen, const char* tip) {
        const Rect place{x_, paper_.y, width, paper_.height};
        x_ += width;
        return pen_.button(id, place, words, chosen, tip);
    }
    void words(const std::string& words, float width) {
        pen_.text(x_ + pen_.px(8), paper_.middle_y() - 0.5F * pen_.height_of(Face::text), Face::text, colour::ink,
                  words, width - pen_.px(8));
        x_ += width;
    }
    [[nodiscard]] const Rect& paper() const { return paper_; }
    [[nodiscard]] float below() const { return paper_.bottom() + pen_.px(kGap_pt); }

private:
    Pen pen_;
    Rect paper_;
    float x_;
};

float section_slip(const Desk& desk, const Rect& picture, float y) {
    const App& app = desk.app;
    const Pen pen = desk.pen();
    const SectionCut& cut = *app.closely.section;
    std::string where = fmt::format("at {}", show_length(cut.at_mm, app.units));
    if (app.closely.unfilled > 0) {
        where += app.closely.unfilled == 1 ? "; one open mesh stays hollow"
                                           : fmt::format("; {} open meshes stay hollow", app.closely.unfilled);
    } else if (!seen_from(cut, app.camera)) {
        where += "; its faces are turned away";
    }
    // As wide as the longest number, so that the buttons stand still while the plane is dragged.
    const float words =
        std::max(pen.width_of(Face::text, where), pen.width_of(Face::text, "at ~88 88/88 in")) + pen.px(20);
    Slip slip(desk, picture, y, 3 * pen.px(30) + words + pen.px(50) + pen.px(44));
    constexpr std::array<std::pair<Axis, const char*>, 3> axes{
        {{Axis::x, "section.x"}, {Axis::y, "section.y"}, {Axis::z, "section.z"}}};
    for (const auto& [axis, id] : axes) {
        if (slip.button(id, pen.px(30), name_of(axis), cut.axis == axis, "The plane stands across this axis  ( S )") &&
            axis != cut.axis) {
            SectionCut other{axis, of(app.closely.reach_mm.centre_mm(), axis), false};
            other.flipped = !seen_from(other, app.camera);
            desk.want(CloselyIntent{SetSection{other}});
        }
    }
    slip.words(where, words);
    if (slip.button("section.flip", pen.px(50), "Flip", false, "Take away the other side  ( F )")) {
        desk.want(CloselyIntent{FlipSection{}});
    }
    if (slip.button("section.off", pen.px(44), "Off", false, "The press whole again  ( S )")) {
        desk.want(CloselyIntent{SetSection{}});
    }
    desk.places.note("picture.section", slip.paper());
    return slip.below();
}

float sight_slip(const Desk& desk, const Rect& picture, float y) {
    const Pen pen = desk.pen();
    const std::string words = sight_words(desk.app.closely.sight);
    const float all = pen.width_of(Face::text, "Show all") + pen.px(24);
    const float room = std::min(pen.width_of(Face::text, words) + pen.px(24), picture.width - pen.px(20) - all);
    Slip slip(desk, picture, y, room + all);
    slip.words(words, room);
    if (slip.button("sight.all", all, "Show all", false, "Every body as it is  ( V )")) {
        desk.want(CloselyIntent{SeeAllBodies{}});
    }
    desk.places.note("picture.sight", slip.paper());
    return slip.below();
}

float measure_slip(const Desk& desk, const Rect& picture, float y) {
    const App& app = desk.app;
    const Pen pen = desk.pen();
    const Measuring& measuring = app.closely.measuring;
    const bool points = measuring.what == Measuring::What::points;
    const auto told = measure_words(app);
    std::string words = told     ? told->value + "   " + told->note
                        : points ? (measuring.places.empty() ? "Click the first place: a corner, an edge, a surface"
                                                             : "Click the second place")
                                 : (measuring.places.empty() ? "Click the first face" : "Click the second face");
    if (told && app.tilt_magnified > 1.0) {
        words += "; at the true tilt";
    }
    const auto wide_of = [&](const char* word) { return pen.width_of(Face::text, word) + pen.px(18); };
    const float buttons = wide_of("Points") + wide_of("Faces") + (told ? wide_of("Copy") : 0.0F) + wide_of("Off");
    const float room = std::min(pen.width_of(Face::text, words) + pen.px(20), picture.width - pen.px(16) - buttons);
    Slip slip(desk, picture, y, buttons + room);
    if (slip.button("measure.points", wide_of("Points"), "Points", points, "From point to point  ( A )") && !points) {
        desk.want(CloselyIntent{Measure{Measuring::What::points}});
    }
    if (slip.button("measure.faces", wide_of("Faces"), "Faces", !points, "From face to face  ( A )") && points) {
        desk.want(CloselyIntent{Measure{Measuring::What::faces}});
    }
    slip.words(words, room);
    if (told &&
        slip.button("measure.copy", wide_of("Copy"), "Copy", false, "The number to the clipboard  ( Ctrl C )")) {
        desk.want(CloselyIntent{CopyMeasure{}});
    }
    if (slip.button("measure.off", wide_of("Off"), "Off", false, "Esc")) {
        desk.want(CloselyIntent{Measure{}});
    }
    desk.places.note("picture.measure", slip.paper());
    return slip.below();
}

float film_slip(const Desk& desk, const Rect& picture, float y) {
    const Pen pen = desk.pen();
    const std::string words = fmt::format("Drawing {}, {:.0f} %", file_name(desk.app.closely.film->file),
                                          100.0 * std::clamp(desk.film_progress, 0.0, 1.0));
    const float stop = pen.width_of(Face::text, "Stop") + pen.px(24);
    const float room = std::min(pen.width_of(Face::text, words) + pen.px(30), picture.width - pen.px(20) - stop);
    Slip slip(desk, picture, y, room + stop);
    slip.words(words, room);
    if (slip.button("film.stop", stop, "Stop", false, "Nothing is written then")) {
        desk.want(CloselyIntent{StopFilm{}});
    }
    const Rect& paper = slip.paper();
    pen.fill({paper.x, paper.bottom() - pen.px(3),
              paper.width * static_cast<float>(std::clamp(desk.film_progress, 0.0, 1.0)), pen.px(3)},
             colour::accent);
    desk.places.note("picture.film", paper);
    return slip.below();
}

} // namespace

std::string sight_words(const BodySight& sight) {
    std::string words;
    if (!sight.hidden.empty()) {
        words = fmt::format("Hidden: {}", some_of(sight.hidden));
    }
    if (!sight.ghosts.empty()) {
        words += (words.empty() ? "Seen through: " : "; seen through: ") + some_of(sight.ghosts);
    }
    return words.empty() ? words : words + ". Checked all the same.";
}

float closely_slips(const Desk& desk, const Rect& picture, const Rect& chips) {
    const App& app = desk.app;
    const Pen pen = desk.pen();
    struct Tool {
        const char *id, *words, *tip;
        bool on;
        Intent intent;
    };
    const Closely& closely = app.closely;
    const std::array<Tool, 4> tools{
        {{"look.section", "Section", "A plane that cuts the press open: across X, Y, Z, off  ( S )",
          closely.section.has_value(), closely.section ? CloselyIntent{SetSection{}} : CloselyIntent{StepSection{}}},
         {"look.measure", "Measure", "From point to point, from face to face, off  ( A )",
          closely.measuring.what != Measuring::What::off, CloselyIntent{StepMeasure{}}},
         {"look.names", "Names", "The bodies' names beside the press  ( K )", closely.labels,
          CloselyIntent{ShowLabels{!closely.labels}}},
         {"look.film", "Film", "A turn round the press, or its stroke, as a moving file  ( Ctrl T )",
          closely.film.has_value(), ShowSheet{Sheet::film}}}};
    float wide = 0;
    for (const Tool& tool : tools) {
        wide += pen.width_of(Face::text, tool.words) + pen.px(18);
    }
    // Beside the chips where there is room, what is said of a magnified tilt in the other corner left alone.
    const float corner = app.tilt_magnified > 1.0 ? pen.px(390) : pen.px(8);
    const float beside = chips.right() + pen.px(8);
    const bool same_row = chips.width > 0 && beside + wide <= picture.right() - corner;
    const float first = chips.width > 0 ? chips.y : picture.y + pen.px(8);
    float y = first + (chips.width > 0 && !same_row ? chips.height + pen.px(kGap_pt) : 0.0F);
    {
        Slip row(desk, picture, y, wide, same_row ? beside : picture.x + pen.px(8));
        for (const Tool& tool : tools) {
            if (row.button(tool.id, pen.width_of(Face::text, tool.words) + pen.px(18), tool.words, tool.on, tool.tip)) {
                desk.want(tool.intent);
            }
        }
        y = row.below();
    }
    if (closely.section) {
        y = section_slip(desk, picture, y);
    }
    if (closely.measuring.what != Measuring::What::off) {
        y = measure_slip(desk, picture, y);
    }
    if (!closely.sight.all_plain()) {
        y = sight_slip(desk, picture, y);
    }
    if (closely.film) {
        y = film_slip(desk, picture, y);
    }
    return y;
}

} // namespace evenclose
