#include "viewer/cli/picture_words.hpp"

#include "scene/units/units.hpp"
#include "viewer/app/camera_control.hpp"
#include "viewer/app/scale_bar.hpp"
#include "viewer/render/name_anchors.hpp"
#include "viewer/render/view.hpp"
#include "viewer/ui/label_places.hpp"

#include <algorithm>

namespace evenclose {
namespace {

constexpr Colour kPaper{0.985F, 0.975F, 0.945F, 1}, kInk{0.13F, 0.19F, 0.23F, 1}, kForce{0.40F, 0.05F, 0.30F, 1},
    kHalo{0.985F, 0.975F, 0.945F, 0.8F};
constexpr double kSize = 14;

} // namespace

void write_forces(Image& image, const Camera& camera, const std::vector<ForceArrow>& arrows, double points) {
    if (arrows.empty()) {
        return;
    }
    Overlay over(image);
    const double size = kSize * points;
    for (const ForceArrow& arrow : arrows) {
        // Under the tail of a jack's arrow, over the head of the head's: there the picture is emptiest.
        const bool head = arrow.name == "head";
        const auto at = pixel_of(camera, image.width, image.height, head ? arrow.to_mm : arrow.from_mm);
        if (!at) {
            continue;
        }
        const std::string words = show_force(arrow.force_N, UnitSystem::metric);
        const double wide = over.width_of(words, size, true) + 12 * points;
        const double high = over.height_of(size) + 4 * points;
        const double left = std::clamp(at->x - 0.5 * wide, 0.0, std::max(0.0, image.width - wide));
        const double top =
            std::clamp(at->y + (head ? -high - 4 * points : 4 * points), 0.0, std::max(0.0, image.height - high));
        over.fill(left, top, wide, high, kPaper);
        over.words(left + 6 * points, top + 2 * points, size, words, kForce, true);
    }
}

PictureBox write_scale_bar(Image& image, const Camera& camera, double points) {
    const auto bar = scale_bar(camera, image.height, 0.22 * image.width, UnitSystem::metric);
    if (!bar) {
        return {};
    }
    Overlay over(image);
    const double size = kSize * points;
    const double line = over.height_of(size);
    const double inner =
        std::max(bar->length_px + 8 * points + over.width_of(bar->words, size), over.width_of(bar->holds, size));
    const double wide = inner + 24 * points;
    const double high = 2 * line + 14 * points;
    const double left = image.width - wide - 14 * points;
    const double top = image.height - high - 14 * points;
    over.fill(left, top, wide, high, kPaper);
    const double x = left + 12 * points;
    const double y = top + 7 * points + 0.5 * line - 4 * points;
    for (int part = 0; part < bar->parts; part += 2) { // a rod in alternating fields, as on a map
        const double step = bar->length_px / bar->parts;
        over.fill(x + part * step, y, step, 8 * points, kInk);
    }
    over.outline(x, y, bar->length_px, 8 * points, points, kInk);
    over.words(x + bar->length_px + 8 * points, top + 7 * points, size, bar->words, kInk);
    over.words(x, top + 7 * points + line, size, bar->holds, kInk);
    return {left, top, wide, high};
}

std::size_t write_names(Image& image, const Frame& frame, const Assembly& assembly,
                        const std::vector<PictureBox>& boxes, double points) {
    std::vector<Rect> taken;
    for (const PictureBox& box : boxes) {
        taken.push_back({static_cast<float>(box.left), static_cast<float>(box.top), static_cast<float>(box.width),
                         static_cast<float>(box.height)});
    }
    const std::vector<NameAnchor> anchors =
        name_anchors(frame, assembly, image.width, image.height, [&](double x, double y) {
            return std::any_of(taken.begin(), taken.end(), [&](const Rect& rect) {
                return rect.contains(static_cast<float>(x), static_cast<float>(y));
            });
        });
    Overlay over(image);
    const double size = kSize * points;
    LabelRoom room;
    room.picture = {0, 0, static_cast<float>(image.width), static_cast<float>(image.height)};
    room.height = static_cast<float>(over.height_of(size) + 6 * points);
    room.gap = static_cast<float>(5 * points);
    room.margin = static_cast<float>(10 * points);
    room.most_width = 0.3F * room.picture.width;
    room.taken = taken;
    std::vector<WantedLabel> wanted;
    for (const NameAnchor& anchor : anchors) {
        const auto at = pixel_of(frame.camera, image.width, image.height, anchor.at_mm);
        wanted.push_back({at ? static_cast<float>(at->x) : 0.0F, at ? static_cast<float>(at->y) : 0.0F,
                          static_cast<float>(over.width_of(anchor.name, size) + 14 * points), anchor.seen});
    }
    const std::vector<PlacedLabel> placed = place_labels(wanted, room);
    for (const PlacedLabel& label : placed) { // all leaders below all labels
        const WantedLabel& of = wanted[label.label];
        const double start = label.left ? label.rect.right() : label.rect.x;
        const double knee = start + (label.left ? 12 * points : -12 * points);
        const double y = label.rect.middle_y();
        for (const auto& [ink, width] : {std::pair{kHalo, 3.0}, std::pair{kInk, 1.2}}) {
            over.line(start, y, knee, y, width * points, ink);
            over.line(knee, y, of.x, of.y, width * points, ink);
        }
        over.dot(of.x, of.y, 4 * points, kPaper);
        over.dot(of.x, of.y, 2.8 * points, kInk);
    }
    for (const PlacedLabel& label : placed) {
        const Rect& at = label.rect;
        over.fill(at.x, at.y, at.width, at.height, kPaper);
        over.outline(at.x, at.y, at.width, at.height, points, kInk);
        over.words(at.x + 7 * points, at.y + 3 * points, size, anchors[label.label].name, kInk, false,
                   at.width - 13 * points);
    }
    return anchors.size() - placed.size();
}

} // namespace evenclose
