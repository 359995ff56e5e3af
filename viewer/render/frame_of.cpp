#include "viewer/render/frame_of.hpp"

#include "checks/frame/bent_shapes.hpp"
#include "scene/motion/drawn_pose.hpp"
#include "viewer/render/best_side.hpp"
#include "viewer/render/camera_fit.hpp"
#include "viewer/render/placed_body.hpp"
#include "viewer/render/turning_marks.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <set>
#include <stdexcept>

namespace evenclose {

Pose pose_in_picture(const Assembly& assembly, const Body& body, Travel at, const std::optional<Slope>& slope,
                     double tilt_magnified) {
    constexpr std::size_t kPlatenRide = 1; // see assembly.hpp
    if (assembly.rides.size() <= kPlatenRide || body.ride >= assembly.rides.size()) {
        return body.placement;
    }
    const Slope real = slope ? *slope : assembly.rides[kPlatenRide].slope_range(at).middle();
    return drawn_pose(assembly, body, at, {real.x * tilt_magnified, real.y * tilt_magnified});
}

namespace {

constexpr double kOpening_rad = 0.50;      // 29 degrees upward: lines of a press do not rush together
constexpr double kCloseOpening_rad = 0.60; // nearer the spot, so that less stands in between

/// Where the eye stands for each view. Plain views are drawn parallel: heights and gaps can be compared across them.
struct NamedView {
    const char* name;
    Vec3 towards_viewer, up;
    bool parallel;
};
const std::array<NamedView, 7> kViews = {{
    {"corner", {0.44, -1.0, 0.34}, {0, 0, 1}, false},
    {"front", {0, -1, 0}, {0, 0, 1}, true},
    {"back", {0, 1, 0}, {0, 0, 1}, true},
    {"left", {-1, 0, 0}, {0, 0, 1}, true},
    {"right", {1, 0, 0}, {0, 0, 1}, true},
    {"top", {0, 0, 1}, {0, 1, 0}, true},
    {"mold", {0.34, -1.0, 0.22}, {0, 0, 1}, false},
}};

const NamedView& view_named(const std::string& name) {
    for (const NamedView& view : kViews) {
        if (name == view.name) {
            return view;
        }
    }
    throw std::invalid_argument(
        fmt::format("there is no view \"{}\"; choose one of {}", name, fmt::join(view_names(), ", ")));
}

bool finite(const Vec3& v) { return std::isfinite(v.x) && std::isfinite(v.y) && std::isfinite(v.z); }

/// Bounds of a mesh as far as it is finite: one spoiled vertex must not send the camera away.
Box finite_bounds(const TriangleMesh& mesh) {
    Box box;
    for (const Vec3& vertex : mesh.vertices_mm) {
        if (finite(vertex)) {
            box.add(vertex);
        }
    }
    return box;
}

bool drawn(const Body& body) { return body.drawn && body.mesh != nullptr && body.part != Part::floor; }

/// What the bodies' boxes reach, open and closed.
Box box_over_stroke(const Assembly& assembly, const auto& wanted) {
    Box all;
    for (const Body& body : assembly.bodies) {
        if (!drawn(body) || !wanted(body)) {
            continue;
        }
        const Box box = finite_bounds(*body.mesh);
        if (box.empty()) {
            continue;
        }
        for (const Travel at : {Travel{0}, assembly.last}) {
            const Pose pose = pose_in_picture(assembly, body, at, std::nullopt, 1.0);
            for (const Vec3& corner : corners_of(box)) {
                all.add(pose.apply(corner));
            }
        }
    }
    return all;
}

/// The places that must be in the picture.
std::vector<Vec3> corners_over_stroke(const Assembly& assembly, const auto& wanted) {
    const Box all = box_over_stroke(assembly, wanted);
    if (all.empty()) {
        return {};
    }
    const auto corners = corners_of(all);
    return {corners.begin(), corners.end()};
}

bool of_mold(const Body& body) { return body.part == Part::mold_lower || body.part == Part::mold_upper; }

std::set<std::string> bodies_of(const Finding& finding) { return {finding.bodies.begin(), finding.bodies.end()}; }

Travel travel_of(const Finding& finding) { return finding.travel ? finding.travel->from : Travel{0}; }

} // namespace

const std::vector<std::string>& view_names() {
    static const std::vector<std::string> names = [] {
        std::vector<std::string> all;
        for (const NamedView& view : kViews) {
            all.emplace_back(view.name);
        }
        return all;
    }();
    return names;
}

Camera camera_for(const Assembly& assembly, const std::string& view, double aspect) {
    const NamedView& named = view_named(view);
    std::vector<Vec3> places;
    if (view == "mold") {
        places = corners_over_stroke(assembly, of_mold);
    }
    if (places.empty()) {
        places = corners_over_stroke(assembly, [](const Body&) { return true; });
    }
    if (places.empty()) {
        return {};
    }
    return fit_camera(places, {.towards_viewer = named.towards_viewer,
                               .up = named.up,
                               .vertical_angle_rad = kOpening_rad,
                               .parallel = named.parallel,
                               .aspect = aspect});
}

Camera turntable_camera(const Assembly& assembly, const std::string& view, double aspect) {
    const NamedView& named = view_named(view);
    const Box reach = reach_over_stroke(assembly);
    if (reach.empty()) {
        return {};
    }
    // All that its corners sweep; steps of 7.5 degrees leave out 0.2 % of the radius, the margin holds thirty times that.
    constexpr int kSteps = 48;
    const Vec3 middle = reach.centre_mm();
    std::vector<Vec3> places;
    for (const Vec3& corner : corners_of(reach)) {
        const Vec3 out = corner - middle;
        for (int i = 0; i < kSteps; ++i) {
            const double turn = 2.0 * std::numbers::pi * i / kSteps;
            places.push_back(middle + Vec3{std::cos(turn) * out.x - std::sin(turn) * out.y,
                                           std::sin(turn) * out.x + std::cos(turn) * out.y, out.z});
        }
    }
    return fit_camera(places, {.towards_viewer = named.towards_viewer,
                               .up = named.up,
                               .vertical_angle_rad = kOpening_rad,
                               .parallel = named.parallel,
                               .aspect = aspect});
}

Camera camera_for(const Assembly& assembly, const Finding& finding, double aspect) {
    const std::set<std::string> involved = bodies_of(finding);
    const Travel at = travel_of(finding);
    std::vector<Standing> standing;
    Box involved_box;
    double least_size = 1e300;
    for (const Body& body : assembly.bodies) {
        if (!drawn(body)) {
            continue;
        }
        const bool is_involved = involved.contains(body.name);
        standing.push_back(
            {drawn_mesh(assembly, body, at), pose_in_picture(assembly, body, at, finding.slope, 1.0), is_involved});
        const Box box = finite_bounds(*body.mesh);
        if (is_involved && !box.empty()) {
            for (const Vec3& corner : corners_of(box)) {
                involved_box.add(standing.back().pose.apply(corner));
            }
            least_size = std::min(least_size, glm::length(box.size_mm()));
        }
    }
    if (finding.check == "level" && finding.slope) { // a tilt is seen of the whole platen, square to the way it falls
        return camera_for(assembly, std::abs(finding.slope->x) >= std::abs(finding.slope->y) ? "front" : "left",
                          aspect);
    }
    const bool has_spot = finding.at_mm && finite(*finding.at_mm);
    if (!has_spot && involved_box.empty()) {
        return camera_for(assembly, "corner", aspect);
    }
    const Vec3 spot = has_spot ? *finding.at_mm : involved_box.centre_mm();
    // Two thirds of the lesser body round the spot tell where one is; less than 24 cm or more than 70 tell nothing: at
    // 8 cm nobody who tried it knew left from right.
    const double half_mm = has_spot ? std::clamp(0.32 * (involved_box.empty() ? 1000.0 : least_size), 120.0, 350.0)
                                    : 0.5 * glm::length(involved_box.size_mm());
    const double distance_mm = half_mm / std::tan(0.5 * kCloseOpening_rad) * std::max(1.0, 1.0 / aspect);
    const Vec3 side = best_side(spot, standing, 0.35 * half_mm, distance_mm);
    Camera camera;
    camera.target_mm = spot;
    camera.eye_mm = spot + distance_mm * side;
    camera.vertical_angle_rad = kCloseOpening_rad;
    return camera;
}

Box reach_over_stroke(const Assembly& assembly) {
    return box_over_stroke(assembly, [](const Body&) { return true; });
}

Frame frame_of(const Assembly& assembly, const FrameRequest& request) {
    const Palette& palette = request.palette != nullptr ? *request.palette : light_palette();
    Frame frame;
    frame.surroundings = palette.surroundings;
    frame.camera = request.camera ? *request.camera : camera_for(assembly, request.view, request.aspect);
    const std::set<std::string> chosen =
        request.chosen != nullptr ? bodies_of(*request.chosen) : std::set<std::string>{};
    const bool fouls =
        request.chosen != nullptr && request.chosen->verdict == Verdict::no_go && request.chosen->check == "travel";
    for (std::size_t i = 0; i < assembly.bodies.size(); ++i) {
        const Body& body = assembly.bodies[i];
        if (!drawn(body) || (request.sliding && of_mold(body))) {
            continue;
        }
        if (request.sight != nullptr && request.sight->hidden.contains(body.name) && !chosen.contains(body.name)) {
            continue;
        }
        Emphasis emphasis = Emphasis::plain;
        if (!chosen.empty()) {
            emphasis = !chosen.contains(body.name) ? Emphasis::dimmed : fouls ? Emphasis::foul : Emphasis::lit;
        }
        frame.bodies.push_back({drawn_mesh(assembly, body, request.at),
                                pose_in_picture(assembly, body, request.at, request.slope, request.tilt_magnified),
                                colour_of(body, palette), emphasis, static_cast<std::uint32_t>(i)});
        if (request.bent != nullptr) {
            DrawnBody& last = frame.bodies.back();
            last.mesh = request.bent->mesh[i] != nullptr ? request.bent->mesh[i] : last.mesh;
            last.colour = request.bent->use[i] >= 0 ? use_colour(request.bent->use[i]) : last.colour;
        }
        if (request.sight != nullptr && request.sight->ghosts.contains(body.name)) {
            frame.bodies.back().colour.alpha = kGhostAlpha;
        }
        if (body.turning && emphasis != Emphasis::dimmed) {
            add_turning_marks(*body.turning, frame.bodies.back().pose, palette, frame.lines);
        }
    }
    if (request.sliding) {
        const std::vector<DrawnBody> pieces = sliding_pieces(assembly, *request.sliding, palette);
        frame.bodies.insert(frame.bodies.end(), pieces.begin(), pieces.end());
    }
    if (request.chosen != nullptr && request.chosen->at_mm && finite(*request.chosen->at_mm)) {
        frame.spots.push_back({*request.chosen->at_mm, palette.spot, 7});
    }
    return frame;
}

} // namespace evenclose
