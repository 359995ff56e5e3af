#include "viewer/ui/head_tags.hpp"

#include "scene/motion/drawn_pose.hpp"
#include "viewer/app/camera_control.hpp"
#include "viewer/ui/free_place.hpp"
#include "viewer/ui/words.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <algorithm>

namespace evenclose {
namespace {

// Less apart than a feeler gauge tells.
constexpr double kAlike_mm = 0.005;

} // namespace

void head_tags(const Desk& desk, const Rect& picture) {
    const App& app = desk.app;
    if (!app.setup || !app.setup->press) {
        return;
    }
    const Pen pen = desk.pen();
    const Slope slope = shown_slope(app).slope;
    const Slope drawn{app.tilt_magnified * slope.x, app.tilt_magnified * slope.y};
    double highest = -1e300;
    for (const Jack& jack : app.setup->press->jacks) {
        highest = std::max(highest, platen_underside_mm(*app.assembly, Vec2{jack.foot_mm}, app.travel, slope));
    }
    std::size_t number = 0;
    for (const Jack& jack : app.setup->press->jacks) {
        ++number;
        const Vec2 foot{jack.foot_mm};
        const double height = platen_underside_mm(*app.assembly, foot, app.travel, slope);
        const Vec3 at{foot, platen_underside_mm(*app.assembly, foot, app.travel, drawn)};
        const Camera& camera = app.camera;
        if (glm::dot(at - camera.eye_mm, camera.target_mm - camera.eye_mm) <= 1e-6) {
            continue;
        }
        const Vec3 floor{foot, 0};
        if (glm::dot(floor - camera.eye_mm, camera.target_mm - camera.eye_mm) <= 1e-6) {
            continue;
        }
        const auto on_screen = [&](const Vec3& point) {
            const PicturePlace place = place_of(camera, point);
            return ImVec2{picture.middle_x() + static_cast<float>(place.across) * 0.5F * picture.height,
                          picture.middle_y() - static_cast<float>(place.up) * 0.5F * picture.height};
        };
        const auto [x, y] = on_screen(at);
        const ImVec2 below = on_screen(floor);
        if (!picture.contains(x, y)) {
            continue;
        }
        std::string words = show_length(height, app.units);
        if (highest - height > kAlike_mm) {
            words += fmt::format(", {} lower", show_length(highest - height, app.units));
        }
        const std::string name = jack.name.empty() ? fmt::format("jack {}", number) : jack.name;
        const float width = std::max(pen.width_of(Face::small, words), pen.width_of(Face::small, name)) + pen.px(12);
        const float high = 2 * pen.height_of(Face::small) + pen.px(6);
        Rect paper{below.x - 0.5F * width, below.y + pen.px(4), width, high};
        paper.x = std::clamp(paper.x, picture.x + pen.px(4),
                             std::max(picture.x + pen.px(4), picture.right() - width - pen.px(4)));
        paper.y = std::clamp(paper.y, picture.y + pen.px(4), picture.bottom() - high - pen.px(4));
        paper = free_place(paper, picture, desk.places.on_picture(), pen.px(4));
        // A dimension line from the floor up to the head, as on a drawing.
        pen.line(below.x, below.y, x, y, colour::ink, 1.2F);
        for (const ImVec2 end : {below, ImVec2{x, y}}) {
            pen.line(end.x - pen.px(5), end.y, end.x + pen.px(5), end.y, colour::ink, 1.2F);
        }
        pen.fill(paper, colour::card_over, 2);
        pen.outline(paper, colour::ink, 1, 2);
        pen.text(paper.x + pen.px(6), paper.y + pen.px(2), Face::small, colour::graphite, name);
        pen.text(paper.x + pen.px(6), paper.y + pen.px(3) + pen.height_of(Face::small), Face::small, colour::ink,
                 words);
        desk.places.note(fmt::format("picture.head.{}", number - 1), paper);
    }
}

} // namespace evenclose
