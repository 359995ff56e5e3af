#include "viewer/ui/measure_layer.hpp"

#include "viewer/ui/picture_place.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

namespace evenclose {
namespace {

// So near a corner or an edge it is meant.
constexpr float kNear_pt = 9;

ImVec2 point(const Vec2& at) { return {static_cast<float>(at.x), static_cast<float>(at.y)}; }

void line(const Pen& pen, const Vec2& from, const Vec2& to, bool dashed) {
    const ImVec2 a = point(from);
    const ImVec2 b = point(to);
    pen.line(a.x, a.y, b.x, b.y, colour::halo, 4.5F);
    if (dashed) {
        pen.dashed(a.x, a.y, b.x, b.y, colour::accent, 1.6F, 4);
    } else {
        pen.line(a.x, a.y, b.x, b.y, colour::accent, 1.8F);
    }
}

/// A short stroke aslant across a dimension line's end, as a draughtsman sets it.
void end_stroke(const Pen& pen, const Vec2& at, const Vec2& along) {
    const Vec2 across{-along.y, along.x};
    const Vec2 way = static_cast<double>(pen.px(7)) * glm::normalize(along + across);
    const ImVec2 a = point(at - way);
    const ImVec2 b = point(at + way);
    pen.line(a.x, a.y, b.x, b.y, colour::halo, 5);
    pen.line(a.x, a.y, b.x, b.y, colour::accent, 2.4F);
}

void dot(const Pen& pen, const Vec2& at) {
    pen.list().AddCircleFilled(point(at), pen.px(4.5F), colour::halo);
    pen.list().AddCircleFilled(point(at), pen.px(3), colour::accent);
}

double mm_a_pixel(const Camera& camera, const Rect& picture, const Vec3& at_mm) {
    const CameraAxes axes = axes_of(camera);
    const double reach =
        camera.parallel ? glm::length(camera.target_mm - camera.eye_mm) : glm::dot(at_mm - camera.eye_mm, axes.forward);
    return 2.0 * reach * std::tan(0.5 * camera.vertical_angle_rad) / picture.height;
}

/// A square leaf that lies on the face, so that it is seen which way it looks.
void leaf(const Pen& pen, const App& app, const Rect& picture, const PlaceNow& place, ImU32 fill) {
    if (glm::length(place.normal) < 0.5) {
        return;
    }
    const Vec3 u =
        glm::normalize(glm::cross(std::abs(place.normal.z) < 0.9 ? Vec3{0, 0, 1} : Vec3{1, 0, 0}, place.normal));
    const Vec3 v = glm::cross(place.normal, u);
    const double half = static_cast<double>(pen.px(15)) * mm_a_pixel(app.camera, picture, place.at_mm);
    std::array<ImVec2, 4> corners{};
    for (std::size_t i = 0; i < 4; ++i) {
        const auto at =
            on_screen(picture, app.camera,
                      place.at_mm + half * ((i == 1 || i == 2 ? 1.0 : -1.0) * u + (i >= 2 ? 1.0 : -1.0) * v));
        if (!at) {
            return;
        }
        corners[i] = point(*at);
    }
    pen.list().AddConvexPolyFilled(corners.data(), 4, fill);
    pen.list().AddPolyline(corners.data(), 4, colour::accent, ImDrawFlags_Closed, pen.px(1.5F));
}

/// The number on its slip, within the picture.
void number(const Desk& desk, const Rect& picture, const Vec2& at, const std::string& words) {
    const Pen pen = desk.pen();
    const float width = pen.width_of(Face::strong, words) + pen.px(16);
    const float high = pen.height_of(Face::strong) + pen.px(6);
    Rect slip{static_cast<float>(at.x) - 0.5F * width, static_cast<float>(at.y) - 0.5F * high, width, high};
    slip.x = std::round(std::clamp(slip.x, picture.x + pen.px(4),
                                   std::max(picture.x + pen.px(4), picture.right() - width - pen.px(4))));
    slip.y = std::round(std::clamp(slip.y, picture.y + pen.px(4),
                                   std::max(picture.y + pen.px(4), picture.bottom() - high - pen.px(4))));
    pen.fill(slip, colour::card, 2);
    pen.outline(slip, colour::accent, 1.2F, 2);
    pen.text(slip.middle_x(), slip.y + pen.px(3), Face::strong, colour::ink, words, width, Align::middle);
    desk.places.note("measure.number", slip);
}

/// What a click would take: a box round a corner, a stroke beside an edge, a ring on a surface.
void mark(const Pen& pen, const Vec2& at, Snapped::To to) {
    const ImVec2 p = point(at);
    const float r = pen.px(6);
    for (const auto& [ink, width] : {std::pair{colour::halo, 4.0F}, std::pair{colour::accent, 1.8F}}) {
        if (to == Snapped::To::corner) {
            pen.list().AddRect({p.x - r, p.y - r}, {p.x + r, p.y + r}, ink, 0, 0, pen.px(width));
        } else if (to == Snapped::To::edge) {
            pen.list().AddTriangle({p.x, p.y - r}, {p.x + r, p.y + 0.7F * r}, {p.x - r, p.y + 0.7F * r}, ink,
                                   pen.px(width));
        } else {
            pen.list().AddCircle(p, 0.8F * r, ink, 0, pen.px(width));
        }
    }
}

/// As it would be with the place under the cursor taken.
App with_place(const App& app, const MeasuredPlace& place) {
    App next;
    next.assembly = app.assembly;
    next.travel = app.travel;
    next.shown = app.shown;
    next.tilt_magnified = app.tilt_magnified;
    next.units = app.units;
    next.closely.measuring = app.closely.measuring;
    next.closely.measuring.places.push_back(place);
    return next;
}

} // namespace

void MeasureLayer::hover(const Desk& desk, const Rect& picture, PictureView& view, bool hovered) {
    under_.reset();
    const Measuring::What what = desk.app.closely.measuring.what;
    if (what == Measuring::What::off || !hovered || desk.app.moving()) {
        return;
    }
    const ImVec2 mouse = ImGui::GetMousePos();
    under_ = snap_pick(view.frame(), view.width(), view.height(), static_cast<double>(mouse.x - picture.x),
                       static_cast<double>(mouse.y - picture.y),
                       what == Measuring::What::points ? static_cast<double>(desk.pen().px(kNear_pt)) : 0.0);
}

void MeasureLayer::click(const Desk& desk, const Rect& picture, PictureView& view, float x, float y) const {
    const Measuring::What what = desk.app.closely.measuring.what;
    const auto hit = snap_pick(view.frame(), view.width(), view.height(), static_cast<double>(x - picture.x),
                               static_cast<double>(y - picture.y),
                               what == Measuring::What::points ? static_cast<double>(desk.pen().px(kNear_pt)) : 0.0);
    if (hit) {
        desk.want(CloselyIntent{MeasureAt{place_on(desk.app, hit->body, hit->at_mm, hit->normal)}});
    }
}

void MeasureLayer::draw(const Desk& desk, const Rect& picture) const {
    const App& app = desk.app;
    const Measuring& measuring = app.closely.measuring;
    if (measuring.what == Measuring::What::off) {
        return;
    }
    const Pen pen = desk.pen();
    pen.list().PushClipRect({picture.x, picture.y}, {picture.right(), picture.bottom()}, true);
    std::vector<MeasuredPlace> places = measuring.places;
    const bool preview = places.size() == 1 && under_;
    if (preview) {
        places.push_back(place_on(app, under_->body, under_->at_mm, under_->normal));
    }
    const auto words = preview ? measure_words(with_place(app, places.back())) : measure_words(app);
    std::vector<PlaceNow> now;
    std::vector<std::optional<Vec2>> at;
    for (const MeasuredPlace& place : places) {
        now.push_back(place_now(app, place, true));
        at.push_back(on_screen(picture, app.camera, now.back().at_mm));
        if (measuring.what == Measuring::What::faces) {
            leaf(pen, app, picture, now.back(),
                 preview && now.size() == 2 ? colour::accent_breath : colour::accent_wash);
        }
    }
    if (places.size() == 2 && at[0] && at[1] && words) {
        std::optional<Vec2> from = at[0];
        bool lined = true;
        if (measuring.what == Measuring::What::faces) {
            const FacesMeasured faces = measure_faces({now[0].at_mm, now[0].normal}, {now[1].at_mm, now[1].normal});
            lined = faces.distance_mm.has_value();
            from = lined ? on_screen(picture, app.camera, faces.foot_mm) : from;
            if (lined && from) { // the first face drawn out to where the dimension line meets it
                line(pen, *at[0], *from, true);
            }
        }
        if (from) {
            line(pen, *from, *at[1], preview || !lined);
            const Vec2 way = *at[1] - *from;
            if (lined && glm::length(way) > 1) {
                end_stroke(pen, *from, glm::normalize(way));
                end_stroke(pen, *at[1], glm::normalize(way));
            }
            // Beside a line too short to be written over.
            Vec2 middle = 0.5 * (*from + *at[1]);
            if (glm::length(way) < static_cast<double>(pen.width_of(Face::strong, words->value) + pen.px(40))) {
                middle.y -= static_cast<double>(pen.px(24)) + 0.5 * std::abs(way.y);
            }
            number(desk, picture, middle, words->value);
        }
    }
    for (const auto& place : at) {
        if (place) {
            dot(pen, *place);
        }
    }
    if (under_) {
        if (const auto seen = on_screen(picture, app.camera, under_->at_mm)) {
            mark(pen, *seen, under_->to);
        }
    }
    pen.list().PopClipRect();
}

} // namespace evenclose
