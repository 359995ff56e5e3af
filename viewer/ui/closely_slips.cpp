#include "viewer/ui/closely_slips.hpp"

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
        : desk_(desk), pen_(desk.pen()), paper_{picture.x + pen_.px(8), y, std::min(width, picture.width - pen_.px(16)),
                                                pen_.px(kRow_pt)},
          x_(paper_.x) {
        pen_.fill(paper_, rgb(0xF6F1E4, 235), 2);
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
    [[nodiscard]] float left() const { return paper_.right() - x_; }
    [[nodiscard]] const Rect& paper() const { return paper_; }
    [[nodiscard]] float below() const { return paper_.bottom() + pen_.px(kGap_pt); }

private:
    const Desk& desk_;
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

float closely_slips(const Desk& desk, const Rect& picture, float y) {
    const App& app = desk.app;
    const Pen pen = desk.pen();
    {
        const float cut = pen.width_of(Face::text, "Section") + pen.px(22);
        Slip row(desk, picture, y, cut);
        if (row.button("look.section", cut, "Section", app.closely.section.has_value(),
                       "A plane that cuts the press open: across X, Y, Z, off  ( S )")) {
            desk.want(app.closely.section ? CloselyIntent{SetSection{}} : CloselyIntent{StepSection{}});
        }
        y = row.below();
    }
    if (app.closely.section) {
        y = section_slip(desk, picture, y);
    }
    if (!app.closely.sight.all_plain()) {
        y = sight_slip(desk, picture, y);
    }
    return y;
}

} // namespace evenclose
