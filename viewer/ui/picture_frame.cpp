#include "viewer/ui/picture_frame.hpp"

#include "viewer/render/force_arrows.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/ui/picture_theme.hpp"

#include <algorithm>
#include <array>

namespace evenclose {
namespace {

std::optional<Vec2> moved_by(const App& app) {
    if (!app.moving_mold || !app.setup || app.moving_mold->opening >= app.setup->openings.size()) {
        return {};
    }
    const Vec2 stood = app.setup->openings[app.moving_mold->opening].at_mm;
    return Vec2{app.moving_mold->x_mm - stood.x, app.moving_mold->y_mm - stood.y};
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

/// Outlines where the section's plane stands, a little larger than what it cuts.
void draw_plane(Frame& frame, const SectionCut& cut, const Box& reach) {
    if (reach.empty()) {
        return;
    }
    constexpr Colour kChalkLine{0.106F, 0.361F, 0.600F, 0.9F}; // the window's accent
    const std::array<Vec3, 4> corners = section_outline(cut, reach);
    for (std::size_t i = 0; i < corners.size(); ++i) {
        frame.lines.push_back({corners[i], corners[(i + 1) % corners.size()], kChalkLine, 1.5F, false});
    }
}

} // namespace

bool is_mold(const App& app, std::size_t body, std::size_t opening) {
    if (body >= app.assembly->bodies.size() || app.assembly->bodies[body].opening.value_or(0) != opening) {
        return false;
    }
    const Part part = app.assembly->bodies[body].part;
    return part == Part::mold_lower || part == Part::mold_upper;
}

bool same_picture(const PictureKey& a, const PictureKey& b) {
    return a.assembly == b.assembly && a.generation == b.generation && a.travel == b.travel && a.slope.x == b.slope.x &&
           a.slope.y == b.slope.y && a.tilt_magnified == b.tilt_magnified && a.spot == b.spot && a.lit == b.lit &&
           a.camera.eye_mm == b.camera.eye_mm && a.camera.target_mm == b.camera.target_mm &&
           a.camera.up == b.camera.up && a.camera.vertical_angle_rad == b.camera.vertical_angle_rad &&
           a.camera.parallel == b.camera.parallel && a.width == b.width && a.height == b.height && a.scale == b.scale &&
           a.theme == b.theme && a.moving == b.moving && a.seeing == b.seeing && a.opening == b.opening &&
           a.results == b.results && a.bent == b.bent && a.closely == b.closely && a.sliding == b.sliding &&
           a.moved == b.moved;
}

PictureKey key_of(const App& app, int width, int height, float scale, bool moving) {
    return {app.assembly.get(),
            app.generation,
            app.travel,
            shown_slope(app).slope,
            app.tilt_magnified,
            app.shown ? app.shown->at_mm : std::nullopt,
            lit_words(app),
            app.camera,
            width,
            height,
            scale,
            app.theme(),
            moving,
            app.seeing,
            app.opening,
            app.seeing == Seeing::press ? nullptr : app.results.get(),
            shown_bent(app),
            moved_by(app),
            app.loading_in ? std::optional(std::pair(app.loading_in->step, app.loading_in->gone_mm)) : std::nullopt,
            app.closely.revision};
}

std::optional<MeasuredPicture> measured_picture(const App& app, std::optional<MeasuredPicture> kept) {
    if (app.seeing == Seeing::press || !app.can_see(app.seeing)) {
        return std::nullopt;
    }
    if (kept && kept->results == app.results && kept->what == app.seeing && kept->opening == app.opening &&
        kept->units == app.units) {
        return kept;
    }
    MeasuredPicture measured{app.results, app.seeing, app.opening, app.units, std::nullopt, {}};
    if (app.seeing == Seeing::cut) {
        measured.plies = ply_solids(*shown_cavity(app), app.setup->openings[app.opening].mold->stack);
    } else {
        measured.map = face_map(app.seeing == Seeing::gap         ? MapKind::cavity
                                : app.seeing == Seeing::curvature ? MapKind::bend
                                                                  : MapKind::pressure,
                                *app.setup, *app.results, app.units, app.opening);
    }
    return measured;
}

Frame picture_frame(const App& app, const std::optional<MeasuredPicture>& measured, float scale, bool moving) {
    FrameRequest request;
    request.palette = &palette_for(app.theme());
    request.at = app.travel;
    request.slope = shown_slope(app).slope;
    request.tilt_magnified = app.loading_in ? 1.0 : app.tilt_magnified;
    request.chosen = app.shown ? &*app.shown : nullptr;
    request.camera = app.camera;
    request.bent = shown_bent(app);
    request.sight = &app.closely.sight;
    if (app.loading_in) {
        request.sliding = SlidingMold{app.loading_in->path.get(), app.loading_in->step, app.loading_in->gone_mm};
    }
    Frame frame = frame_of(*app.assembly, request);
    if (shows_forces(app)) {
        const std::size_t lines = frame.lines.size();
        add_force_arrows(frame, force_arrows(*app.results->frame, *app.setup, *app.assembly, app.travel));
        theme_lines(frame, lines, app.theme());
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
    if (app.shown && !stands_at(app, *app.shown)) {
        frame.spots.clear();
    }
    if (measured && measured->map) {
        lay_map(frame, shown_opening(app).assembly, *measured->map);
    }
    if (measured && !measured->plies.empty()) {
        const OpeningView view = shown_opening(app);
        lay_cut(frame, view.setup, view.assembly, measured->plies);
    }
    if (!app.shown && !app.closely.picked.empty()) { // outlined; what else is chosen is told by itself
        for (DrawnBody& body : frame.bodies) {
            if (body.body < app.assembly->bodies.size() && body.colour.alpha >= 1 &&
                app.assembly->bodies[body.body].name == app.closely.picked) {
                body.emphasis = Emphasis::lit;
            }
        }
    }
    if (app.closely.section) {
        frame.section = plane_of(*app.closely.section);
        const std::size_t lines = frame.lines.size();
        draw_plane(frame, *app.closely.section, app.closely.reach_mm);
        theme_lines(frame, lines, app.theme());
    }
    return frame;
}

bool stands_at(const App& app, const Finding& finding) {
    constexpr double kNear_mm = 0.5;
    return !finding.travel ||
           (app.travel.mm >= finding.travel->from.mm - kNear_mm && app.travel.mm <= finding.travel->to.mm + kNear_mm);
}

} // namespace evenclose
