#include "viewer/ui/scale_bar_slip.hpp"

#include "viewer/app/scale_bar.hpp"
#include "viewer/ui/free_place.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace evenclose {

namespace {

/// Where a paper of that size covers nothing in the picture's lower half; none without room.
std::optional<Rect> place_at_foot(const Rect& picture, float width, float height, float gap,
                                  const std::vector<Rect>& taken) {
    std::vector<Rect> tried{{picture.x + gap, picture.bottom() - gap - height, width, height}};
    for (const Rect& rect : taken) {
        tried.push_back({rect.right() + gap, picture.bottom() - gap - height, width, height});
    }
    for (const Rect& rect : taken) {
        tried.push_back({picture.x + gap, rect.y - gap - height, width, height});
    }
    for (const Rect& place : tried) {
        const bool inside = place.x >= picture.x && place.right() <= picture.right() && place.y >= picture.middle_y() &&
                            place.bottom() <= picture.bottom();
        if (inside &&
            std::none_of(taken.begin(), taken.end(), [&](const Rect& rect) { return overlap(place, rect); })) {
            return place;
        }
    }
    return std::nullopt;
}

} // namespace

void scale_bar_slip(const Desk& desk, const Rect& picture, const std::vector<Rect>& taken) {
    const Pen pen = desk.pen();
    const auto bar = scale_bar(desk.app.camera, static_cast<double>(picture.height), static_cast<double>(pen.px(150)),
                               desk.app.units);
    if (!bar) {
        return;
    }
    const auto length = static_cast<float>(bar->length_px);
    const float row = pen.height_of(Face::small);
    const float inner =
        std::max(length + pen.px(8) + pen.width_of(Face::small, bar->words), pen.width_of(Face::small, bar->holds));
    const auto place = place_at_foot(picture, inner + pen.px(20), 2 * row + pen.px(8), pen.px(8), taken);
    if (!place) {
        return;
    }
    const Rect& paper = *place;
    pen.fill(paper, colour::paper_over, 2);
    // A rod in alternating fields, as on a map and on a storey rod.
    const float left = std::round(paper.x + pen.px(10));
    const float top = std::round(paper.y + pen.px(3) + 0.5F * row - pen.px(3));
    const float high = std::round(pen.px(7));
    for (int part = 0; part < bar->parts; ++part) {
        const auto share = [&](int i) {
            return left + length * static_cast<float>(i) / static_cast<float>(bar->parts);
        };
        pen.fill({share(part), top, share(part + 1) - share(part), high}, part % 2 == 0 ? colour::ink : colour::card);
    }
    pen.outline({left, top, length, high}, colour::ink, 1);
    pen.text(left + length + pen.px(8), paper.y + pen.px(3), Face::small, colour::ink, bar->words);
    pen.text(left, paper.y + pen.px(4) + row, Face::small, colour::graphite, bar->holds);
    desk.places.note("picture.scale_bar", paper);
    desk.places.note("picture.scale_bar.rod", {left, top, length, high});
}

} // namespace evenclose
