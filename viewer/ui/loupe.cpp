#include "viewer/ui/loupe.hpp"

#include "viewer/app/camera_control.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/ui/free_place.hpp"
#include "viewer/ui/picture_theme.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// As much of the face as a thumb covers, twice over: a spot and what is round it.
constexpr double kWide_mm = 60;

/// The chosen finding's spot, as far as the press stands where it was found.
std::optional<Vec3> spot_of_finding(const App& app, MapKind kind) {
    const char* check = kind == MapKind::cavity ? "cavity" : "bend";
    if (!app.shown || app.shown->check != check || !app.shown->at_mm) {
        return {};
    }
    constexpr double kSame_mm = 0.5;
    const auto& there = app.shown->travel;
    const bool here =
        !there || (app.travel.mm >= there->from.mm - kSame_mm && app.travel.mm <= there->to.mm + kSame_mm);
    return here ? app.shown->at_mm : std::nullopt;
}

} // namespace

MapKind loupe_map(const App& app) {
    if (app.loading_in) {
        return MapKind::none;
    }
    if (app.seeing == Seeing::gap || app.seeing == Seeing::curvature) {
        const MapKind kind = app.seeing == Seeing::gap ? MapKind::cavity : MapKind::bend;
        return app.can_see(app.seeing) ? kind : MapKind::none;
    }
    for (const auto& [kind, seeing] :
         {std::pair{MapKind::cavity, Seeing::gap}, std::pair{MapKind::bend, Seeing::curvature}}) {
        if (app.can_see(seeing) && spot_of_finding(app, kind)) {
            return kind;
        }
    }
    return MapKind::none;
}

void Loupe::look(const App& app, const Key& key, float scale, PictureView& view) {
    key_ = key;
    spot_.reset();
    const auto map = face_map(key.kind, *app.setup, *app.results, app.units, app.opening);
    FrameRequest request;
    request.at = app.travel;
    request.palette = &palette_for(app.theme());
    Frame frame = frame_of(*app.assembly, request);
    if (!map) {
        return;
    }
    const std::size_t bodies = frame.bodies.size();
    lay_map(frame, shown_opening(app).assembly, *map);
    if (frame.bodies.empty() || frame.bodies.size() > bodies + 1 || frame.bodies.back().mesh != map->surface) {
        return;
    }
    const Pose& pose = frame.bodies.back().pose; // of the skin: the lower half's
    std::optional<Vec3> near;
    if (key.finding_at) {
        near = inverse(pose).apply(*key.finding_at);
    }
    spot_ = map_spot(key.kind, *app.results, app.units, near, app.opening);
    if (!spot_) {
        return;
    }
    at_mm_ = pose.apply(spot_->at_mm);
    // The mold alone: a post that stands before it would be all that is seen.
    const std::uint32_t lower = frame.bodies.back().body;
    std::erase_if(frame.bodies, [&](const DrawnBody& body) { return body.body != lower; });
    frame.camera = camera_for_spot(at_mm_, kWide_mm);
    frame.floor = false;
    frame.pixel_scale = scale;
    frame.spots = {{at_mm_, {0.13F, 0.19F, 0.23F, 1}, 5}};
    view.draw_inset(frame, key.size, key.size);
}

void Loupe::draw(const Desk& desk, const Rect& picture, PictureView& view) {
    const App& app = desk.app;
    const MapKind kind = loupe_map(app);
    if (kind == MapKind::none || !app.setup || !app.assembly) {
        key_.reset();
        return;
    }
    const Pen pen = desk.pen();
    const float across = std::clamp(0.34F * std::min(picture.width, picture.height), pen.px(110), pen.px(220));
    const Key key{
        app.results, kind, app.opening, app.units, spot_of_finding(app, kind), app.travel, static_cast<int>(across),
        app.theme()};
    // While the press moves the last one stays: it is drawn anew when the travel rests.
    if (!key_ || (*key_ != key && !app.moving())) {
        look(app, key, desk.scale, view);
    }
    if (!spot_) {
        return;
    }
    // With its words below it; in a window too small for it all, what is said elsewhere goes before a closer look.
    const float words_wide = pen.width_of(Face::strong, spot_->words) + pen.px(16);
    const float wide = std::max(across, words_wide);
    const Rect whole =
        free_place({picture.right() - wide - pen.px(8), picture.y + pen.px(42), wide, across + pen.px(28)}, picture,
                   desk.places.on_picture(), pen.px(4));
    for (const Rect& taken : desk.places.on_picture()) {
        if (overlap(whole, taken)) {
            return;
        }
    }
    const Rect place{whole.middle_x() - 0.5F * across, whole.y, across, across};
    const float middle_y = place.middle_y();
    // A leader from the rim to the spot in the picture.
    if (glm::dot(at_mm_ - app.camera.eye_mm, app.camera.target_mm - app.camera.eye_mm) > 1e-6) {
        const PicturePlace at = place_of(app.camera, at_mm_);
        const float x = picture.middle_x() + static_cast<float>(at.across) * 0.5F * picture.height;
        const float y = picture.middle_y() - static_cast<float>(at.up) * 0.5F * picture.height;
        const float dx = x - place.middle_x(), dy = y - middle_y;
        const float far = std::hypot(dx, dy);
        if (picture.contains(x, y) && far > 0.5F * across) {
            const float share = 0.5F * across / far;
            pen.line(place.middle_x() + share * dx, middle_y + share * dy, x, y, colour::ink, 1.2F);
            pen.list().AddCircle({x, y}, pen.px(5), colour::ink, 0, pen.px(1.5F));
        }
    }
    const ImVec2 low{place.x, place.y}, high{place.right(), place.bottom()};
    const ImVec2 middle{place.middle_x(), middle_y};
    pen.list().AddCircleFilled(middle, 0.5F * across, colour::card);
    // NOLINTNEXTLINE(performance-no-int-to-ptr): OpenGL names textures by number, Dear ImGui by pointer
    auto* const texture = reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(view.inset_texture()));
    pen.list().AddImageRounded(texture, low, high, {0, 1}, {1, 0}, IM_COL32_WHITE, 0.5F * across);
    pen.list().AddCircle(middle, 0.5F * across, colour::ink, 0, pen.px(2));
    const Rect label{place.middle_x() - 0.5F * words_wide, place.bottom() + pen.px(4), words_wide, pen.px(24)};
    pen.fill(label, colour::card, 2);
    pen.outline(label, colour::pencil, 1, 2);
    pen.text(label.middle_x(), label.y + pen.px(3), Face::strong, colour::ink, spot_->words, words_wide, Align::middle);
    desk.places.note("picture.loupe", place);
    desk.places.note("picture.loupe.words", label);
}

} // namespace evenclose
