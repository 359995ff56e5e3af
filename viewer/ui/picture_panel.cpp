#include "viewer/ui/picture_panel.hpp"

#include "viewer/app/camera_control.hpp"
#include "viewer/app/mold_move.hpp"
#include "viewer/render/force_arrows.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/ui/body_menu.hpp"
#include "viewer/ui/closely_slips.hpp"
#include "viewer/ui/head_tags.hpp"
#include "viewer/ui/picture_place.hpp"
#include "viewer/ui/scale_bar_slip.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace evenclose {
namespace {

// A drag over the picture's whole height turns half round.
constexpr double kTurnPerHeight_rad = std::numbers::pi;
// One notch of the wheel: 12 % nearer (common practice, no source).
constexpr double kNotch = 0.88;
// A hand that clicks shakes no more than this.
constexpr float kStill_px = 4;
// A cursor that rests this long wants to know what it points at.
constexpr double kRest_s = 0.3;

} // namespace

std::optional<double> PicturePanel::due_s() const {
    if (asked_) {
        return std::nullopt;
    }
    return std::max(kRest_s - (ImGui::GetTime() - rests_since_s_), 0.0) + 0.01;
}

void PicturePanel::image(const Desk& desk, const Rect& rect) {
    const App& app = desk.app;
    const bool moving = moving_ =
        app.moving() || drag_.has_value() || mold_.has_value() || section_handle_.held() || busy_hand_;
    if (app.units != (measured_ ? measured_->units : app.units)) {
        drawn_.reset(); // the scale's words
    }
    const PictureKey key = key_of(app, static_cast<int>(rect.width), static_cast<int>(rect.height), desk.scale, moving);
    if (!drawn_ || !same_picture(*drawn_, key)) {
        measured_ = measured_picture(app, std::move(measured_));
        const Frame frame = picture_frame(app, measured_, desk.scale, moving);
        view_.draw(frame, key.width, key.height);
        drawn_ = key;
        under_.clear(); // another body may lie under the cursor now
        asked_ = false;
        rests_since_s_ = ImGui::GetTime();
    }
    // NOLINTNEXTLINE(performance-no-int-to-ptr): OpenGL names textures by number, Dear ImGui by pointer
    auto* const texture = reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(view_.texture()));
    desk.pen().list().AddImage(texture, {rect.x, rect.y},
                               {rect.x + static_cast<float>(key.width), rect.y + static_cast<float>(key.height)},
                               {0, 1}, {1, 0});
}

Vec3 PicturePanel::point_under(const App& app, const Rect& rect, float x, float y) {
    const Renderer::Pick pick = view_.pick(static_cast<int>(x - rect.x), static_cast<int>(y - rect.y));
    if (pick.body != Renderer::no_body && in_front(app.camera, pick.at_mm)) {
        return pick.at_mm;
    }
    return point_at(app.camera, place_in(rect, x, y), app.camera.target_mm);
}

void PicturePanel::hands(const Desk& desk, const Rect& rect) {
    const ImGuiIO& io = ImGui::GetIO();
    ImGui::SetCursorScreenPos({rect.x, rect.y});
    ImGui::InvisibleButton("picture", {rect.width, rect.height},
                           ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight |
                               ImGuiButtonFlags_MouseButtonMiddle);
    const bool hovered = ImGui::IsItemHovered();
    const App& app = desk.app;
    if (mold_) {
        asked_ = true; // nobody asks what lies under a hand that is full
        under_.clear();
        move_mold(desk, rect);
        return;
    }
    if (ImGui::IsItemActivated()) {
        const bool shifts = !io.MouseDown[ImGuiMouseButton_Left] || io.KeyShift;
        const Cursor at = desk.pressed_at.value_or(Cursor{io.MousePos.x, io.MousePos.y});
        if (io.KeyCtrl && io.MouseDown[ImGuiMouseButton_Left] && take_mold(app, rect, at.x, at.y)) {
            return;
        }
        if (!shifts && section_handle_.grab(app, at.x, at.y)) {
            return;
        }
        Vec3 pivot = point_under(app, rect, at.x, at.y);
        // Turning about empty space far from the press would throw it out of sight.
        const Renderer::Pick pick = view_.pick(static_cast<int>(at.x - rect.x), static_cast<int>(at.y - rect.y));
        const std::uint32_t body = pick.body;
        if (!shifts && body == Renderer::no_body) {
            pivot = app.camera.target_mm;
        }
        drag_ = Drag{app.camera,
                     pivot,
                     at.x,
                     at.y,
                     shifts,
                     body,
                     pick.at_mm,
                     io.MouseDown[ImGuiMouseButton_Right],
                     io.MouseClickedCount[ImGuiMouseButton_Left],
                     at.x,
                     at.y};
    }
    if (drag_ && (io.MousePos.x != drag_->seen_x || io.MousePos.y != drag_->seen_y)) {
        drag_->seen_x = io.MousePos.x;
        drag_->seen_y = io.MousePos.y;
        const double across = (io.MousePos.x - drag_->x) / rect.height;
        const double down = (io.MousePos.y - drag_->y) / rect.height;
        desk.want(MoveCamera{drag_->shifts ? panned(drag_->start, drag_->pivot_mm, place_in(rect, drag_->x, drag_->y),
                                                    place_in(rect, io.MousePos.x, io.MousePos.y))
                                           : orbited(drag_->start, drag_->pivot_mm, -across * kTurnPerHeight_rad,
                                                     down * kTurnPerHeight_rad)});
    }
    if (!ImGui::IsItemActive()) {
        released(desk, rect);
        drag_.reset();
    }
    if (hovered && io.MouseWheel != 0 && !drag_) {
        const Vec3 about = point_under(app, rect, io.MousePos.x, io.MousePos.y);
        desk.want(MoveCamera{zoomed(app.camera, about, std::pow(kNotch, static_cast<double>(io.MouseWheel)))});
    }
    measure_.hover(desk, rect, view_, hovered && !drag_);
    if (app.closely.measuring.what != Measuring::What::off) {
        asked_ = true; // what lies under the cursor is told by the measure
        under_.clear();
        return;
    }
    if (hovered && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left)) {
        const Vec3 point = point_under(app, rect, io.MousePos.x, io.MousePos.y);
        Camera near = panned(app.camera, point, place_of(app.camera, point), {0, 0});
        near = zoomed(near, point, 0.4);
        // Turning afterwards should go round what is looked at.
        near.target_mm = point_at(near, {0, 0}, point);
        if (app.part || !app.closely.picked.empty()) {
            desk.want(ClearChoice{}); // the first of the two clicks chose it
        }
        desk.want(FlyTo{near});
    }
    name_under_cursor(desk, rect, hovered && !drag_);
}

/// A press that went nowhere is a click.
void PicturePanel::released(const Desk& desk, const Rect& rect) {
    const ImGuiIO& io = ImGui::GetIO();
    const App& app = desk.app;
    if (!drag_ || std::hypot(io.MousePos.x - drag_->x, io.MousePos.y - drag_->y) >= kStill_px) {
        return;
    }
    const bool on_body = drag_->body < app.assembly->bodies.size();
    const std::string name = on_body ? app.assembly->bodies[drag_->body].name : std::string();
    if (drag_->right) {
        if (on_body || !app.closely.sight.all_plain()) {
            desk.want(CloselyIntent{OpenBodyMenu{{name, drag_->x, drag_->y, drag_->at_mm}}});
        }
    } else if (!drag_->shifts && app.closely.measuring.what != Measuring::What::off) {
        measure_.click(desk, rect, view_, drag_->x, drag_->y);
    } else if (!drag_->shifts && drag_->clicks == 1) {
        desk.want(CloselyIntent{PickBody{name}});
        if (on_body) {
            desk.want(ChoosePart{name});
        }
    }
}

/// Ctrl and a drag take a mold along its platen; false if none is there.
bool PicturePanel::take_mold(const App& app, const Rect& rect, float x, float y) {
    const Renderer::Pick pick = view_.pick(static_cast<int>(x - rect.x), static_cast<int>(y - rect.y));
    if (app.loading_in || !app.setup || app.setup->openings.empty() || app.shows_last_good() ||
        pick.body >= app.assembly->bodies.size()) {
        return false;
    }
    const std::size_t opening = app.assembly->bodies[pick.body].opening.value_or(0);
    if (opening >= app.setup->openings.size() || !is_mold(app, pick.body, opening)) {
        return false;
    }
    mold_ = MoldInHand{opening, pick.at_mm, app.setup->openings[opening].at_mm, snap_targets(*app.setup, opening), {}};
    return true;
}

void PicturePanel::move_mold(const Desk& desk, const Rect& rect) {
    const ImGuiIO& io = ImGui::GetIO();
    const bool escape = ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape), false);
    const auto by = dragged_by(desk.app.camera, mold_->grabbed_mm, place_in(rect, io.MousePos.x, io.MousePos.y));
    const double pull_mm = length_seen_mm(desk.app.camera, mold_->grabbed_mm, kPull_pt * desk.scale / rect.height);
    const SnappedMold to = by ? snapped_mold(mold_->stood_mm + *by, mold_->targets, pull_mm)
                              : SnappedMold{mold_->stood_mm, "where it stood"};
    const Vec2 at = to.at_mm;
    mold_->snapped_to = to.words;
    const bool ends = !ImGui::IsItemActive() || escape;
    // A click without a drag moves nothing.
    const bool moved = desk.app.moving_mold && at != mold_->stood_mm && !escape;
    if (ends) {
        desk.want(EditIntent{
            MoveMold{mold_->opening, moved ? at.x : mold_->stood_mm.x, moved ? at.y : mold_->stood_mm.y, true}});
        mold_.reset();
    } else if (const auto& shown = desk.app.moving_mold; !shown || at != Vec2(shown->x_mm, shown->y_mm)) {
        // Wanted anew in every frame, it would have the window draw on without end under a hand that rests.
        desk.want(EditIntent{MoveMold{mold_->opening, at.x, at.y, false}});
    }
}

void PicturePanel::name_under_cursor(const Desk& desk, const Rect& rect, bool hovered) {
    const ImVec2 mouse = ImGui::GetMousePos();
    if (!hovered || desk.app.moving()) {
        asked_ = true;
        under_.clear();
        return;
    }
    if (mouse.x != rest_x_ || mouse.y != rest_y_) {
        rest_x_ = mouse.x;
        rest_y_ = mouse.y;
        rests_since_s_ = ImGui::GetTime();
        asked_ = false;
        under_.clear();
    } else if (!asked_ && ImGui::GetTime() - rests_since_s_ >= kRest_s) {
        asked_ = true;
        const Renderer::Pick pick = view_.pick(static_cast<int>(mouse.x - rect.x), static_cast<int>(mouse.y - rect.y));
        if (pick.body < desk.app.assembly->bodies.size()) {
            const Body& body = desk.app.assembly->bodies[pick.body];
            under_ = body.material.empty() ? body.name : body.name + ", " + body.material;
        }
    }
    if (!under_.empty()) {
        desk.pen().tip(under_);
    }
}

void PicturePanel::draw(const Desk& desk, const Rect& rect) {
    desk.places.note("picture", rect);
    if (!desk.app.assembly) {
        drag_.reset();
        drawn_.reset();
        asked_ = true;
        no_press_panel(desk, rect);
        notice_strip(desk, rect);
        return;
    }
    const float strip = std::floor(38.0F * desk.scale);
    tools(desk, {rect.x, rect.y, rect.width, strip});
    const Rect picture{rect.x, rect.y + strip, rect.width, rect.height - strip};
    desk.places.note("picture.press", picture);
    desk.want(SetPictureShape{static_cast<double>(picture.width) / static_cast<double>(picture.height)});
    image(desk, picture);
    // Before the hands: what lies on top takes the press.
    const float slips_end = closely_slips(desk, picture, seeing_chips(desk, picture));
    section_handle_.take(desk, picture);
    hands(desk, picture);
    section_handle_.draw(desk, picture);
    scale(desk, picture);
    notice_strip(desk, picture); // from here on each makes way for those before
    loupe_.draw(desk, picture, view_);
    tilt_note(desk, picture);
    bent_note(desk, picture);
    const float notes_at = std::max(slips_end, picture.y + desk.pen().px(44));
    load_note(desk, picture, notes_at);
    move_note(desk, picture, notes_at);
    force_tags(desk, picture);
    if (!desk.app.loading_in &&
        (desk.app.tilt_magnified > 1.0 || (desk.app.shown && desk.app.shown->check == "level"))) {
        head_tags(desk, picture);
    }
    tag(desk, picture);
    measure_.draw(desk, picture);
    scale_bar_slip(desk, picture, desk.places.on_picture());
    labels(desk, picture);
    body_menu(desk, picture);
}

void PicturePanel::labels(const Desk& desk, const Rect& rect) {
    if (!desk.app.closely.labels) {
        labels_of_ = 0;
        return;
    }
    const bool fresh = !moving_ && labels_of_ != view_.drawn();
    if (fresh) {
        labels_of_ = view_.drawn();
    }
    labels_.draw(desk, rect, view_, desk.places.on_picture(), fresh);
}

} // namespace evenclose
