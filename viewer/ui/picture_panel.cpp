#include "viewer/ui/picture_panel.hpp"

#include "viewer/app/camera_control.hpp"
#include "viewer/app/mold_move.hpp"
#include "viewer/render/force_arrows.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/ui/head_tags.hpp"
#include "viewer/ui/words.hpp"

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

PicturePlace place_in(const Rect& rect, float x, float y) {
    const double half = 0.5 * rect.height;
    return {(x - rect.middle_x()) / half, (rect.middle_y() - y) / half};
}

bool in_front(const Camera& camera, const Vec3& point) {
    return glm::dot(point - camera.eye_mm, camera.target_mm - camera.eye_mm) > 1e-6;
}

std::string lit_words(const App& app) {
    if (!app.shown) {
        return {};
    }
    std::string words = name_of(app.shown->verdict);
    for (const std::string& body : app.shown->bodies) {
        words += "\n" + body;
    }
    return words + "\n" + app.shown->check;
}

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

std::optional<Vec2> moved_by(const App& app) {
    if (!app.moving_mold || !app.setup || app.moving_mold->opening >= app.setup->openings.size()) {
        return {};
    }
    const Vec2 stood = app.setup->openings[app.moving_mold->opening].at_mm;
    return Vec2{app.moving_mold->x_mm - stood.x, app.moving_mold->y_mm - stood.y};
}

bool is_mold(const App& app, std::size_t body, std::size_t opening) {
    if (body >= app.assembly->bodies.size() || app.assembly->bodies[body].opening.value_or(0) != opening) {
        return false;
    }
    const Part part = app.assembly->bodies[body].part;
    return part == Part::mold_lower || part == Part::mold_upper;
}

} // namespace

bool same_picture(const PictureKey& a, const PictureKey& b) {
    return a.assembly == b.assembly && a.generation == b.generation && a.travel == b.travel && a.slope.x == b.slope.x &&
           a.slope.y == b.slope.y && a.tilt_magnified == b.tilt_magnified && a.spot == b.spot && a.lit == b.lit &&
           a.camera.eye_mm == b.camera.eye_mm && a.camera.target_mm == b.camera.target_mm &&
           a.camera.up == b.camera.up && a.camera.vertical_angle_rad == b.camera.vertical_angle_rad &&
           a.camera.parallel == b.camera.parallel && a.width == b.width && a.height == b.height && a.scale == b.scale &&
           a.moving == b.moving && a.seeing == b.seeing && a.opening == b.opening && a.results == b.results &&
           a.bent == b.bent && a.sliding == b.sliding && a.moved == b.moved;
}

Frame picture_frame(const App& app, float scale, bool moving) {
    FrameRequest request;
    request.at = app.travel;
    request.slope = shown_slope(app).slope;
    request.tilt_magnified = app.loading_in ? 1.0 : app.tilt_magnified;
    request.chosen = app.shown ? &*app.shown : nullptr;
    request.camera = app.camera;
    request.bent = shown_bent(app);
    if (app.loading_in) {
        request.sliding = SlidingMold{app.loading_in->path.get(), app.loading_in->step, app.loading_in->gone_mm};
    }
    Frame frame = frame_of(*app.assembly, request);
    if (shows_forces(app)) {
        add_force_arrows(frame, force_arrows(*app.results->frame, *app.setup, *app.assembly, app.travel));
    }
    if (const auto by = moved_by(app)) {
        for (DrawnBody& body : frame.bodies) {
            if (is_mold(app, body.body, app.moving_mold->opening)) {
                body.pose.translation_mm += Vec3{by->x, by->y, 0.0};
            }
        }
    }
    frame.pixel_scale = scale;
    frame.moving = moving;
    frame.surroundings.above = {0.976F, 0.961F, 0.918F};
    frame.surroundings.below = {0.906F, 0.880F, 0.812F};
    // Of two that foul the one that moves is lit and the other striped, so that they can be told apart.
    const auto fouls = std::count_if(frame.bodies.begin(), frame.bodies.end(),
                                     [](const DrawnBody& body) { return body.emphasis == Emphasis::foul; });
    for (auto body = frame.bodies.rbegin(); fouls == 2 && body != frame.bodies.rend(); ++body) {
        if (body->emphasis == Emphasis::foul && app.assembly->bodies[body->body].ride != 0) {
            body->emphasis = Emphasis::lit;
            break;
        }
    }
    // Away from the travel that a spot was found at, it marks nothing.
    if (app.shown && app.shown->travel) {
        const TravelInterval& interval = *app.shown->travel;
        if (app.travel.mm < interval.from.mm - 0.5 || app.travel.mm > interval.to.mm + 0.5) {
            frame.spots.clear();
        }
    }
    return frame;
}

std::optional<double> PicturePanel::due_s() const {
    if (asked_) {
        return std::nullopt;
    }
    return std::max(kRest_s - (ImGui::GetTime() - rests_since_s_), 0.0) + 0.01;
}

void PicturePanel::image(const Desk& desk, const Rect& rect) {
    const App& app = desk.app;
    const bool moving = app.moving() || drag_.has_value() || mold_.has_value() || busy_hand_;
    if (app.units != (measured_ ? measured_->units : app.units)) {
        drawn_.reset(); // the scale's words
    }
    const PictureKey key{app.assembly.get(),
                         app.generation,
                         app.travel,
                         shown_slope(app).slope,
                         app.tilt_magnified,
                         app.shown ? app.shown->at_mm : std::nullopt,
                         lit_words(app),
                         app.camera,
                         static_cast<int>(rect.width),
                         static_cast<int>(rect.height),
                         desk.scale,
                         moving,
                         app.seeing,
                         app.opening,
                         app.seeing == Seeing::press ? nullptr : app.results.get(),
                         shown_bent(app),
                         moved_by(app),
                         app.loading_in ? std::optional(std::pair(app.loading_in->step, app.loading_in->gone_mm))
                                        : std::nullopt};
    if (!drawn_ || !same_picture(*drawn_, key)) {
        Frame frame = picture_frame(app, desk.scale, moving);
        measure_map(app);
        if (measured_ && measured_->map) {
            lay_map(frame, shown_opening(app).assembly, *measured_->map);
        }
        if (measured_ && !measured_->plies.empty()) {
            const OpeningView view = shown_opening(app);
            lay_cut(frame, view.setup, view.assembly, measured_->plies);
        }
        view_.draw(frame, key.width, key.height);
        drawn_ = key;
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
        move_mold(desk, rect);
        return;
    }
    if (ImGui::IsItemActivated()) {
        const bool shifts = !io.MouseDown[ImGuiMouseButton_Left] || io.KeyShift;
        const Cursor at = desk.pressed_at.value_or(Cursor{io.MousePos.x, io.MousePos.y});
        if (io.KeyCtrl && io.MouseDown[ImGuiMouseButton_Left] && take_mold(app, rect, at.x, at.y)) {
            return;
        }
        Vec3 pivot = point_under(app, rect, at.x, at.y);
        // Turning about empty space far from the press would throw it out of sight.
        const std::uint32_t body = view_.pick(static_cast<int>(at.x - rect.x), static_cast<int>(at.y - rect.y)).body;
        if (!shifts && body == Renderer::no_body) {
            pivot = app.camera.target_mm;
        }
        drag_ =
            Drag{app.camera, pivot, at.x, at.y, shifts, body, io.MouseClickedCount[ImGuiMouseButton_Left], at.x, at.y};
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
        // A press that went nowhere is a click.
        if (drag_ && !drag_->shifts && drag_->clicks == 1 &&
            std::hypot(io.MousePos.x - drag_->x, io.MousePos.y - drag_->y) < kStill_px &&
            drag_->body < app.assembly->bodies.size()) {
            desk.want(ChoosePart{app.assembly->bodies[drag_->body].name});
        }
        drag_.reset();
    }
    if (hovered && io.MouseWheel != 0 && !drag_) {
        const Vec3 about = point_under(app, rect, io.MousePos.x, io.MousePos.y);
        desk.want(MoveCamera{zoomed(app.camera, about, std::pow(kNotch, static_cast<double>(io.MouseWheel)))});
    }
    if (hovered && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left)) {
        const Vec3 point = point_under(app, rect, io.MousePos.x, io.MousePos.y);
        Camera near = panned(app.camera, point, place_of(app.camera, point), {0, 0});
        near = zoomed(near, point, 0.4);
        // Turning afterwards should go round what is looked at.
        near.target_mm = point_at(near, {0, 0}, point);
        if (app.part) {
            desk.want(ClearChoice{}); // the first of the two clicks chose it
        }
        desk.want(FlyTo{near});
    }
    name_under_cursor(desk, rect, hovered && !drag_);
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
    mold_ = MoldInHand{opening, pick.at_mm, app.setup->openings[opening].at_mm};
    return true;
}

void PicturePanel::move_mold(const Desk& desk, const Rect& rect) {
    const ImGuiIO& io = ImGui::GetIO();
    const bool escape = ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape), false);
    const auto by = dragged_by(desk.app.camera, mold_->grabbed_mm, place_in(rect, io.MousePos.x, io.MousePos.y));
    const Vec2 at = by ? snapped(mold_->stood_mm + *by) : mold_->stood_mm;
    const bool ends = !ImGui::IsItemActive() || escape;
    // A click without a drag moves nothing.
    const bool moved = desk.app.moving_mold && at != mold_->stood_mm && !escape;
    if (ends) {
        desk.want(EditIntent{
            MoveMold{mold_->opening, moved ? at.x : mold_->stood_mm.x, moved ? at.y : mold_->stood_mm.y, true}});
        mold_.reset();
    } else {
        desk.want(EditIntent{MoveMold{mold_->opening, at.x, at.y, false}});
    }
}

void PicturePanel::move_note(const Desk& desk, const Rect& rect) const {
    if (!mold_ || !desk.app.moving_mold) {
        return;
    }
    const Pen pen = desk.pen();
    const Vec2 at{desk.app.moving_mold->x_mm, desk.app.moving_mold->y_mm};
    const std::string words =
        at == Vec2{0.0} ? std::string("the mold in the middle of its platen")
                        : fmt::format("the mold {} along, {} across from the platen's middle",
                                      show_length(at.x, desk.app.units, 0), show_length(at.y, desk.app.units, 0));
    const float width = std::min(pen.width_of(Face::text, words) + pen.px(24), rect.width - pen.px(16));
    const Rect place{rect.middle_x() - 0.5F * width, rect.y + pen.px(44), width, pen.px(28)};
    pen.fill(place, rgb(0xF6F1E4, 235), 2);
    pen.outline(place, colour::accent, 1, 2);
    pen.text(place.middle_x(), place.y + pen.px(5), Face::text, colour::ink, words, width - pen.px(12), Align::middle);
    desk.places.note("picture.move_mold", place);
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

/// Made once, when it is first looked at.
void PicturePanel::measure_map(const App& app) {
    if (app.seeing == Seeing::press || !app.can_see(app.seeing)) {
        measured_.reset();
        return;
    }
    if (measured_ && measured_->results == app.results && measured_->what == app.seeing &&
        measured_->opening == app.opening && measured_->units == app.units) {
        return;
    }
    measured_ = Measured{app.results, app.seeing, app.opening, app.units, std::nullopt, {}};
    if (app.seeing == Seeing::cut) {
        measured_->plies = ply_solids(*shown_cavity(app), app.setup->openings[app.opening].mold->stack);
    } else {
        measured_->map = face_map(app.seeing == Seeing::gap         ? MapKind::cavity
                                  : app.seeing == Seeing::curvature ? MapKind::bend
                                                                    : MapKind::pressure,
                                  *app.setup, *app.results, app.units, app.opening);
    }
}

/// What the picture can show of the mold, once it was measured.
void PicturePanel::seeing_chips(const Desk& desk, const Rect& rect) const {
    const App& app = desk.app;
    if (app.loading_in || (!app.can_see(Seeing::gap) && !app.can_see(Seeing::curvature))) {
        return;
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
    const float wide = static_cast<float>(chips.size()) * place.width;
    pen.fill({place.x, place.y, wide, place.height}, rgb(0xF6F1E4, 235), 2);
    pen.outline({place.x, place.y, wide, place.height}, colour::pencil, 1, 2);
    for (const Chip& chip : chips) {
        if (app.can_see(chip.what) && pen.button(chip.id, place, chip.words, app.seeing == chip.what, chip.tip)) {
            desk.want(SetSeeing{chip.what});
        }
        place.x += place.width;
    }
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
    const Rect card{rect.x + pen.px(8), rect.bottom() - high - pen.px(desk.app.tilt_magnified > 1.0 ? 40.0F : 8.0F),
                    words + pen.px(24), high};
    pen.fill(card, rgb(0xFBF8F0, 240), 2);
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
    const Rect place{rect.right() - width - pen.px(8), rect.y + pen.px(8), width, pen.px(24)};
    pen.fill(place, rgb(0xF6F1E4, 230), 2);
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
    const Rect place{rect.x + pen.px(8), rect.bottom() - pen.px(62), width, pen.px(24)};
    pen.fill(place, rgb(0xF6F1E4, 235), 2);
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
        const Rect paper{x - 0.5F * width, head ? y - high - pen.px(4) : y + pen.px(4), width, high};
        if (!rect.contains(paper.x, paper.y) || !rect.contains(paper.right(), paper.bottom())) {
            continue;
        }
        pen.fill(paper, rgb(0xFBF8F0, 240), 2);
        pen.outline(paper, rgb(0x660D4D), 1, 2);
        pen.text(paper.x + pen.px(6), paper.y + pen.px(2), Face::small, colour::ink, words);
        desk.places.note("picture.force." + arrow.name, paper);
    }
}

void PicturePanel::load_note(const Desk& desk, const Rect& rect) const {
    if (!desk.app.loading_in) {
        return;
    }
    const Pen pen = desk.pen();
    const LoadingIn& loading = *desk.app.loading_in;
    const double left = loading.path->distance_mm - loading.gone_mm;
    const std::string words =
        left > 0 ? fmt::format("{} slides in from the {}: {} to go", loading.path->steps[loading.step].name,
                               name_of(loading.path->from), show_length(left, desk.app.units, 0))
                 : fmt::format("{} is in its place", loading.path->steps[loading.step].name);
    const float width = std::min(pen.width_of(Face::text, words) + pen.px(24), rect.width - pen.px(16));
    const Rect place{rect.middle_x() - 0.5F * width, rect.y + pen.px(44), width, pen.px(28)};
    pen.fill(place, rgb(0xF6F1E4, 235), 2);
    pen.outline(place, colour::pencil, 1, 2);
    pen.text(place.middle_x(), place.y + pen.px(5), Face::text, colour::ink, words, width - pen.px(12), Align::middle);
    desk.places.note("picture.load_in", place);
}

/// Names the chosen bodies at their spot, with a leader as on a drawing.
void PicturePanel::tag(const Desk& desk, const Rect& rect) const {
    const App& app = desk.app;
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
    if (app.shown->at_mm && in_front(app.camera, *app.shown->at_mm)) {
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

void PicturePanel::draw(const Desk& desk, const Rect& rect) {
    desk.places.note("picture", rect);
    if (!desk.app.assembly) {
        drag_.reset();
        drawn_.reset();
        asked_ = true;
        no_press_panel(desk, rect);
        return;
    }
    const float strip = std::floor(38.0F * desk.scale);
    tools(desk, {rect.x, rect.y, rect.width, strip});
    const Rect picture{rect.x, rect.y + strip, rect.width, rect.height - strip};
    desk.places.note("picture.press", picture);
    desk.want(SetPictureShape{static_cast<double>(picture.width) / static_cast<double>(picture.height)});
    image(desk, picture);
    seeing_chips(desk, picture); // before the hands: what lies on top takes the press
    hands(desk, picture);
    force_tags(desk, picture); // under the scale, which must be read
    scale(desk, picture);
    loupe_.draw(desk, picture, view_);
    tilt_note(desk, picture);
    bent_note(desk, picture);
    load_note(desk, picture);
    move_note(desk, picture);
    if (!desk.app.loading_in &&
        (desk.app.tilt_magnified > 1.0 || (desk.app.shown && desk.app.shown->check == "level"))) {
        head_tags(desk, picture);
    }
    tag(desk, picture);
}

} // namespace evenclose
