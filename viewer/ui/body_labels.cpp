#include "viewer/ui/body_labels.hpp"

#include "viewer/ui/label_places.hpp"
#include "viewer/ui/picture_place.hpp"

#include <algorithm>
#include <utility>

namespace evenclose {
namespace {

bool covered(const std::vector<Rect>& taken, float x, float y) {
    return std::any_of(taken.begin(), taken.end(), [&](const Rect& rect) { return rect.contains(x, y); });
}

} // namespace

void BodyLabels::draw(const Desk& desk, const Rect& picture, PictureView& view, const std::vector<Rect>& taken,
                      bool fresh) {
    const App& app = desk.app;
    if (fresh) {
        anchors_ = name_anchors(view.frame(), *app.assembly, view.width(), view.height(), [&](double x, double y) {
            return covered(taken, picture.x + static_cast<float>(x), picture.y + static_cast<float>(y));
        });
    }
    const Pen pen = desk.pen();
    LabelRoom room;
    room.picture = picture;
    room.height = pen.height_of(Face::small) + pen.px(5);
    room.gap = pen.px(4);
    room.margin = pen.px(8);
    room.most_width = std::min(pen.px(230), 0.36F * picture.width);
    room.taken = taken;
    std::vector<WantedLabel> wanted;
    std::vector<const NameAnchor*> named;
    for (const NameAnchor& anchor : anchors_) {
        const auto at = on_screen(picture, app.camera, anchor.at_mm);
        if (at && picture.contains(static_cast<float>(at->x), static_cast<float>(at->y)) &&
            !covered(taken, static_cast<float>(at->x), static_cast<float>(at->y))) {
            wanted.push_back({static_cast<float>(at->x), static_cast<float>(at->y),
                              pen.width_of(Face::small, anchor.name) + pen.px(12), anchor.seen});
            named.push_back(&anchor);
        }
    }
    const std::vector<PlacedLabel> placed = place_labels(wanted, room);
    for (const PlacedLabel& label : placed) { // all leaders below all labels
        const WantedLabel& of = wanted[label.label];
        const float start = label.left ? label.rect.right() : label.rect.x;
        const float knee = start + (label.left ? pen.px(10) : -pen.px(10));
        const float y = label.rect.middle_y();
        for (const auto& [ink, width] : {std::pair{colour::halo, 2.6F}, std::pair{colour::graphite, 1.0F}}) {
            pen.line(start, y, knee, y, ink, width);
            pen.line(knee, y, of.x, of.y, ink, width);
        }
        pen.list().AddCircleFilled({of.x, of.y}, pen.px(3.2F), colour::card);
        pen.list().AddCircleFilled({of.x, of.y}, pen.px(2.2F), colour::ink);
    }
    std::size_t number = 0;
    for (const PlacedLabel& label : placed) {
        pen.fill(label.rect, colour::card_over, 2);
        pen.outline(label.rect, colour::pencil, 1, 2);
        pen.text(label.rect.x + pen.px(6), label.rect.y + pen.px(2), Face::small, colour::ink, named[label.label]->name,
                 label.rect.width - pen.px(11));
        desk.places.note("label." + std::to_string(number++), label.rect);
    }
    if (placed.size() < anchors_.size()) {
        desk.places.note("labels.left_out", {picture.x, picture.bottom() - 1, 1, 1});
    }
}

} // namespace evenclose
