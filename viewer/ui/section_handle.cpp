#include "viewer/ui/section_handle.hpp"

#include "viewer/ui/picture_place.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace evenclose {
namespace {

// The axis, seen so much shortened or more, is no guide for a hand.
constexpr double kEndOn = 0.2;

double step_mm(UnitSystem units) { return units == UnitSystem::metric ? 1.0 : kMmPerInch / 16.0; }

struct Knob {
    Vec3 place_mm{0.0};
    Vec2 at{0.0};
};

/// Where the knob stands; none when the whole outline is behind the eye.
std::optional<Knob> knob_of(const App& app, const Rect& picture, const Rect& room) {
    const std::array<Vec3, 4> corners = section_outline(*app.closely.section, app.closely.reach_mm);
    std::optional<Knob> best;
    bool best_inside = false;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const Vec3 middle = 0.5 * (corners[i] + corners[(i + 1) % corners.size()]);
        const auto at = on_screen(picture, app.camera, middle);
        if (!at) {
            continue;
        }
        const bool inside = room.contains(static_cast<float>(at->x), static_cast<float>(at->y));
        if (!best || (inside && !best_inside) || (inside == best_inside && at->y < best->at.y - 0.5)) {
            best = Knob{middle, *at};
            best_inside = inside;
        }
    }
    if (best && !best_inside) { // the outline is far outside: at the rim, it drags all the same
        best->at.x = std::clamp(best->at.x, static_cast<double>(room.x), static_cast<double>(room.right()));
        best->at.y = std::clamp(best->at.y, static_cast<double>(room.y), static_cast<double>(room.bottom()));
        best->place_mm = app.camera.target_mm;
    }
    return best;
}

/// The axis as a unit vector on the screen, if it can be seen.
std::optional<Vec2> seen_axis(const App& app, const Rect& picture, const Vec3& place_mm) {
    const double shift = 1e-3 * glm::length(app.camera.eye_mm - app.camera.target_mm);
    const auto from = on_screen(picture, app.camera, place_mm);
    const auto to = on_screen(picture, app.camera, place_mm + shift * along(app.closely.section->axis));
    if (!from || !to || glm::length(*to - *from) < 1e-6) {
        return std::nullopt;
    }
    return glm::normalize(*to - *from);
}

} // namespace

double plane_dragged_by(const SectionCut& cut, const Camera& camera, const Vec3& place_mm, double height_px,
                        Vec2 by_px) {
    const CameraAxes axes = axes_of(camera);
    const double reach = camera.parallel ? glm::length(camera.target_mm - camera.eye_mm)
                                         : glm::dot(place_mm - camera.eye_mm, axes.forward);
    const double px_a_mm = 0.5 * height_px / (reach * std::tan(0.5 * camera.vertical_angle_rad));
    const Vec3 axis = along(cut.axis);
    // The axis as it is seen at that place: a little to and fro, since perspective turns it.
    const double shift = 1e-4 * glm::length(camera.target_mm - camera.eye_mm);
    const PicturePlace before = place_of(camera, place_mm - shift * axis);
    const PicturePlace after = place_of(camera, place_mm + shift * axis);
    const Vec2 px_along = 0.5 * height_px * Vec2{after.across - before.across, before.up - after.up} / (2 * shift);
    if (glm::length(px_along) > kEndOn * px_a_mm) {
        return glm::dot(px_along, by_px) / glm::dot(px_along, px_along);
    }
    const double towards_eye = glm::dot(axis, axes.forward) < 0 ? 1.0 : -1.0;
    return towards_eye * -by_px.y / px_a_mm;
}

void SectionHandle::take(const Desk& desk, const Rect& picture) {
    const App& app = desk.app;
    at_.reset();
    hovered_ = false;
    if (!app.closely.section || app.closely.reach_mm.empty()) {
        held_.reset();
        return;
    }
    const Pen pen = desk.pen();
    // Below the slips of paper: over one of them it would take that one's presses.
    const float rim = pen.px(24);
    const float slips = pen.px(144);
    const Rect room{picture.x + rim, picture.y + slips, picture.width - 2 * rim, picture.height - slips - rim};
    const auto knob = knob_of(app, picture, room);
    if (!knob) {
        return;
    }
    at_ = knob->at;
    const float reach = pen.px(13);
    const auto x = static_cast<float>(knob->at.x);
    const auto y = static_cast<float>(knob->at.y);
    const Rect place{x - reach, y - reach, 2 * reach, 2 * reach};
    desk.places.note("section.handle", place);
    const Pressable press = pen.pressable("section.handle", place);
    const ImGuiIO& io = ImGui::GetIO();
    hovered_ = press.hovered || press.held;
    place_mm_ = knob->place_mm;
    reach_ = reach;
    if (!io.MouseDown[ImGuiMouseButton_Left]) {
        held_.reset();
    } else if (press.held && !held_) {
        const Cursor at = desk.pressed_at.value_or(Cursor{io.MousePos.x, io.MousePos.y});
        held_ = Held{*app.closely.section, at.x, at.y, knob->place_mm};
    }
    if (held_) {
        const double by = plane_dragged_by(held_->from, app.camera, held_->place_mm, picture.height,
                                           {io.MousePos.x - held_->x, io.MousePos.y - held_->y});
        SectionCut to = *app.closely.section;
        const double step = step_mm(app.units);
        to.at_mm = std::round((held_->from.at_mm + by) / step) * step;
        if (std::isfinite(to.at_mm) && to != *app.closely.section &&
            (io.MousePos.x != held_->x || io.MousePos.y != held_->y)) {
            desk.want(CloselyIntent{SetSection{to}});
        }
    }
    if (hovered_) {
        ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
        if (!held_) {
            pen.tip(
                fmt::format("Drag the plane along {}; Left and Right move it too", name_of(app.closely.section->axis)));
        }
    }
}

bool SectionHandle::grab(const App& app, float x, float y) {
    if (!at_ || !app.closely.section || std::abs(x - at_->x) > reach_ || std::abs(y - at_->y) > reach_) {
        return false;
    }
    held_ = Held{*app.closely.section, x, y, place_mm_};
    return true;
}

void SectionHandle::draw(const Desk& desk, const Rect& picture) const {
    if (!at_) {
        return;
    }
    const Pen pen = desk.pen();
    const ImVec2 middle{static_cast<float>(at_->x), static_cast<float>(at_->y)};
    const float round = pen.px(hovered_ ? 10.0F : 9.0F);
    pen.list().AddCircleFilled(middle, round + pen.px(1.5F), colour::card);
    pen.list().AddCircleFilled(middle, round, colour::accent);
    pen.list().AddCircle(middle, round + pen.px(1.5F), colour::ink, 0, pen.px(1));
    // Two arrow heads that lie along the axis as it is seen; across it, two bars.
    const App& app = desk.app;
    const auto axis = seen_axis(app, picture, app.camera.target_mm).value_or(Vec2{0.0, -1.0});
    const auto ux = static_cast<float>(axis.x);
    const auto uy = static_cast<float>(axis.y);
    const float tip = pen.px(6.5F);
    const float foot = pen.px(1.8F);
    const float half = pen.px(3.4F);
    for (const float way : {1.0F, -1.0F}) {
        pen.list().AddTriangleFilled({middle.x + way * ux * tip, middle.y + way * uy * tip},
                                     {middle.x + way * ux * foot - uy * half, middle.y + way * uy * foot + ux * half},
                                     {middle.x + way * ux * foot + uy * half, middle.y + way * uy * foot - ux * half},
                                     colour::card);
    }
}

} // namespace evenclose
