// Maps of the mold in the picture, and its cut: measured once, chosen, read off their scale.
#include "viewer/ui/free_place.hpp"
#include "viewer/ui/picture_panel.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace evenclose {

/// What the picture can show of the mold, once it was measured. Gives where it stands.
Rect PicturePanel::seeing_chips(const Desk& desk, const Rect& rect) const {
    const App& app = desk.app;
    if (app.loading_in || (!app.can_see(Seeing::gap) && !app.can_see(Seeing::curvature))) {
        return {};
    }
    struct Chip {
        Seeing what;
        const char *id, *words, *tip;
    };
    constexpr std::array<Chip, 5> chips{
        {{Seeing::press, "see.press", "Press", "The press as it stands  ( M )"},
         {Seeing::gap, "see.gap", "Gap", "Gap less stack when closed, in colours on the lower half  ( M )"},
         {Seeing::curvature, "see.curvature", "Bend", "How tightly the plies are bent, on the lower half  ( M )"},
         {Seeing::cut, "see.cut", "Cut", "The closed mold cut open along the deck, with its plies  ( M )"},
         {Seeing::pressure, "see.pressure", "Force",
          "Pressure on the deck under bent platens, and the forces that make it  ( M )"}}};
    const Pen pen = desk.pen();
    Rect place{rect.x + pen.px(8), rect.y + pen.px(8), pen.px(54), pen.px(28)};
    const auto seen =
        std::count_if(chips.begin(), chips.end(), [&](const Chip& chip) { return app.can_see(chip.what); });
    const float wide = static_cast<float>(seen) * place.width;
    pen.fill({place.x, place.y, wide, place.height}, colour::paper_over, 2);
    pen.outline({place.x, place.y, wide, place.height}, colour::pencil, 1, 2);
    for (const Chip& chip : chips) {
        if (!app.can_see(chip.what)) {
            continue;
        }
        if (pen.button(chip.id, place, chip.words, app.seeing == chip.what, chip.tip)) {
            desk.want(SetSeeing{chip.what});
        }
        place.x += place.width;
    }
    return {place.x - wide, place.y, wide, place.height};
}

/// The scale of the map that is shown: its ends, the tolerance as lines across, what the two sides mean.
void PicturePanel::scale(const Desk& desk, const Rect& rect) const {
    if (!measured_ || !measured_->map || desk.app.seeing == Seeing::press) {
        return;
    }
    const ColourScale& scale = measured_->map->scale;
    const Pen pen = desk.pen();
    const float row = pen.height_of(Face::small);
    const float bar = std::min(pen.px(180), 0.4F * rect.height);
    float words = std::max({pen.width_of(Face::strong, scale.title), pen.width_of(Face::small, scale.high),
                            pen.width_of(Face::small, scale.low)});
    for (const ScaleTick& tick : scale.ticks) {
        words = std::max(words, pen.px(32) + pen.width_of(Face::small, tick.words));
    }
    words = std::max(words, pen.px(28) + pen.width_of(Face::small, scale.lines));
    const float high = bar + pen.height_of(Face::strong) + (scale.lines.empty() ? 3.0F : 4.0F) * row + pen.px(30);
    const Rect corner{rect.x + pen.px(8), rect.bottom() - high - pen.px(desk.app.tilt_magnified > 1.0 ? 40.0F : 8.0F),
                      words + pen.px(24), high};
    const Rect card = free_place(corner, rect, desk.places.on_picture(), pen.px(4));
    pen.fill(card, colour::card_over, 2);
    pen.outline(card, colour::pencil, 1, 2);
    float y = card.y + pen.px(8);
    const float x = card.x + pen.px(12);
    pen.text(x, y, Face::strong, colour::ink, scale.title);
    y += pen.height_of(Face::strong) + pen.px(4);
    pen.text(x, y, Face::small, colour::graphite, scale.high);
    y += row + pen.px(4) + 0.5F * row;
    const auto packed = [](const Colour& c) {
        const auto byte = [](float share) { return static_cast<unsigned>(std::lround(255.0F * share)); };
        return rgb(byte(c.red) << 16U | byte(c.green) << 8U | byte(c.blue));
    };
    const int rows = std::max(2, static_cast<int>(bar));
    for (int i = 0; i < rows; ++i) {
        const double value = scale.most * (1.0 - 2.0 * i / (rows - 1));
        pen.fill({x, y + static_cast<float>(i), pen.px(16), 1.5F}, packed(scale.at(value)));
    }
    const Rect edge{x, y, pen.px(16), static_cast<float>(rows)};
    pen.outline(edge, colour::ink, 1);
    for (const ScaleTick& tick : scale.ticks) {
        const float at = y + static_cast<float>(rows) * static_cast<float>(0.5 - 0.5 * tick.value / scale.most);
        pen.line(tick.tolerance ? edge.x : edge.right(), at, edge.right() + pen.px(tick.tolerance ? 10 : 5), at,
                 colour::ink, tick.tolerance ? 2.0F : 1.0F);
        pen.text(edge.right() + pen.px(14), at - 0.5F * row, Face::small, colour::ink, tick.words);
    }
    const float foot = y + static_cast<float>(rows) + 0.5F * row + pen.px(5);
    pen.text(x, foot, Face::small, colour::graphite, scale.low);
    if (!scale.lines.empty()) {
        pen.line(x, foot + 1.5F * row, x + pen.px(20), foot + 1.5F * row, colour::ink, 2);
        pen.text(x + pen.px(26), foot + row, Face::small, colour::ink, scale.lines);
    }
    desk.places.note("picture.scale", card);
}

} // namespace evenclose
