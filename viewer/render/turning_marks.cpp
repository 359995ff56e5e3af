#include "viewer/render/turning_marks.hpp"

#include <glm/geometric.hpp>

#include <cmath>
#include <numbers>

namespace evenclose {
namespace {

constexpr int kStepsATurn = 12;
// Beyond so many turns a thread is a grey tone at any size, and lines cost time.
constexpr double kMostTurns = 150;
// A hair outside of the facets, so that the line is not lost in them; a hair of 0.4 % is a tenth of a millimetre.
constexpr double kOutside = 1.004;

struct Axis {
    Vec3 from, along, across, up; // right-handed: across x up = along
    double length = 0;

    explicit Axis(const Turning& turning)
        : from(turning.from_mm), length(glm::distance(turning.from_mm, turning.to_mm)) {
        along = (turning.to_mm - turning.from_mm) / length;
        across = glm::normalize(glm::cross(std::abs(along.z) < 0.9 ? Vec3{0, 0, 1} : Vec3{0, -1, 0}, along));
        up = glm::cross(along, across);
    }
    [[nodiscard]] Vec3 point(double gone, double angle, double radius) const {
        return from + gone * along + radius * (std::cos(angle) * across + std::sin(angle) * up);
    }
};

} // namespace

void add_turning_marks(const Turning& turning, const Pose& pose, const Palette& palette,
                       std::vector<DrawnLine>& lines) {
    const double length = glm::distance(turning.from_mm, turning.to_mm);
    if (!(turning.radius_mm > 0) || !(length > 0)) {
        return;
    }
    const Axis axis(turning);
    const double radius = kOutside * turning.radius_mm;
    Colour chalk = palette.thread;
    chalk.alpha = 1;
    // Four strokes a quarter turn apart, two of them shorter: from every side one is seen to come and go.
    for (int quarter = 0; quarter < 4; ++quarter) {
        const double share = quarter % 2 == 0 ? 1.0 : 0.35;
        const double angle = 0.5 * std::numbers::pi * quarter;
        lines.push_back({pose.apply(axis.point(0.5 * (1 - share) * length, angle, radius)),
                         pose.apply(axis.point(0.5 * (1 + share) * length, angle, radius)), chalk, 1.4F, false});
    }
    if (turning.hand == ThreadHand::none || !(turning.lead_mm > 0) || length / turning.lead_mm > kMostTurns) {
        return;
    }
    // From the middle outwards, so that the two hands of a rhombus' screw meet there.
    const auto helix = [&](double from, double to, double hand) {
        const int steps = static_cast<int>(std::ceil((to - from) / turning.lead_mm * kStepsATurn));
        const auto at = [&](int step) {
            const double gone = from + (to - from) * step / steps;
            return pose.apply(
                axis.point(gone, hand * 2 * std::numbers::pi * (gone - 0.5 * length) / turning.lead_mm, radius));
        };
        for (int step = 0; step < steps; ++step) {
            lines.push_back({at(step), at(step + 1), palette.thread, 1.0F, false});
        }
    };
    if (turning.hand == ThreadHand::right) {
        helix(0, length, 1);
    } else {
        helix(0, 0.5 * length, -1);
        helix(0.5 * length, length, 1);
    }
}

} // namespace evenclose
