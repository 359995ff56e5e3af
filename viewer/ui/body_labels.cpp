#include "viewer/ui/body_labels.hpp"

#include "viewer/render/drawable_mesh.hpp"
#include "viewer/render/view.hpp"
#include "viewer/ui/label_places.hpp"
#include "viewer/ui/picture_place.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>

namespace evenclose {
namespace {

// So many places of a body are tried for one that can be seen.
constexpr std::size_t kTried = 40;

} // namespace

std::string shared_name(const Body& body) {
    for (const std::string_view part : {" body", " screw", " post", " sleeve", " hose"}) {
        const bool of_jack =
            body.part == Part::jack_body || body.part == Part::jack_screw || body.part == Part::jack_hose;
        const bool of_guide = body.part == Part::guide_post || body.part == Part::guide_sleeve;
        if ((of_jack || of_guide) && body.name.ends_with(part) && body.name.size() > part.size()) {
            return body.name.substr(0, body.name.size() - part.size());
        }
    }
    if (body.part == Part::jack_link) { // "left jack link 3"
        const std::size_t at = body.name.rfind(" link");
        return at == std::string::npos ? body.name : body.name.substr(0, at);
    }
    return body.name;
}

void BodyLabels::find(const App& app, PictureView& view) {
    anchors_.clear();
    const Frame& frame = view.frame();
    std::map<std::string, std::vector<Vec3>> seen;
    for (const DrawnBody& drawn : frame.bodies) {
        if (drawn.body >= app.assembly->bodies.size() || drawn.mesh == nullptr) {
            continue;
        }
        const auto mesh = drawable_of(drawn.mesh);
        const std::vector<std::array<std::uint32_t, 3>>& triangles = mesh->full.triangles;
        const std::size_t stride = std::max<std::size_t>(1, triangles.size() / kTried);
        std::vector<Vec3>& places = seen[shared_name(app.assembly->bodies[drawn.body])];
        for (std::size_t i = 0; i < triangles.size(); i += stride) {
            Vec3 middle{0.0};
            for (const std::uint32_t corner : triangles[i]) {
                const auto& p = mesh->full.vertices[corner].from_middle_mm;
                middle += Vec3{p[0], p[1], p[2]} / 3.0;
            }
            const Vec3 place = drawn.pose.apply(mesh->middle_mm + middle);
            const auto at = pixel_of(frame.camera, view.width(), view.height(), place);
            if (!at || at->x < 4 || at->y < 4 || at->x > view.width() - 4 || at->y > view.height() - 4) {
                continue;
            }
            const Renderer::Pick pick = view.pick(static_cast<int>(at->x), static_cast<int>(at->y));
            if (pick.body == drawn.body &&
                glm::length(pick.at_mm - place) < 0.02 * glm::length(place - frame.camera.eye_mm)) {
                places.push_back(pick.at_mm);
            }
        }
    }
    for (const auto& [name, places] : seen) {
        if (places.empty()) {
            continue;
        }
        Vec3 middle{0.0};
        Box box;
        for (const Vec3& place : places) {
            middle += place / static_cast<double>(places.size());
            box.add(place);
        }
        const auto nearest = std::min_element(places.begin(), places.end(), [&](const Vec3& a, const Vec3& b) {
            return glm::length(a - middle) < glm::length(b - middle);
        });
        anchors_.push_back(
            {name, *nearest,
             static_cast<float>(static_cast<double>(places.size()) * (1.0 + glm::length(box.size_mm())))});
    }
}

void BodyLabels::draw(const Desk& desk, const Rect& picture, PictureView& view, const std::vector<Rect>& taken,
                      bool fresh) {
    const App& app = desk.app;
    if (fresh) {
        find(app, view);
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
    std::vector<const Anchor*> named;
    for (const Anchor& anchor : anchors_) {
        const auto at = on_screen(picture, app.camera, anchor.at_mm);
        if (at && picture.contains(static_cast<float>(at->x), static_cast<float>(at->y))) {
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
