#include "viewer/render/force_arrows.hpp"

#include "scene/motion/drawn_pose.hpp"

#include <glm/geometric.hpp>

#include <algorithm>

namespace evenclose {
namespace {

constexpr double kLongest = 1.0 / 6; // of the head's height
constexpr Colour kArrow{0.40F, 0.05F, 0.30F, 1};
constexpr float kShaft_px = 4.0F, kBarb_px = 3.0F;

} // namespace

std::vector<ForceArrow> force_arrows(const FrameMeasure& measure, const Setup& setup, const Assembly& assembly,
                                     Travel at) {
    const Press& press = *setup.press;
    double strongest = measure.force_N;
    for (const JackForce& jack : measure.jacks) {
        strongest = std::max(strongest, jack.force_N);
    }
    if (!(strongest > 0)) {
        return {};
    }
    const double mm_per_N = kLongest * press.head_underside_z_mm / strongest;
    std::vector<ForceArrow> arrows;
    for (const JackForce& force : measure.jacks) {
        const Jack& jack = press.jacks[force.jack];
        const Vec3 to{Vec2{jack.foot_mm}, platen_underside_mm(assembly, Vec2{jack.foot_mm}, at, {})};
        arrows.push_back({jack.name, force.force_N, to - Vec3{0, 0, mm_per_N * std::max(0.0, force.force_N)}, to});
    }
    const Vec3 head{middle_of_pressure_mm(measure.deck), press.head_underside_z_mm};
    arrows.push_back({"head", measure.force_N, head, head + Vec3{0, 0, mm_per_N * measure.force_N}});
    return arrows;
}

void add_force_arrows(Frame& frame, const std::vector<ForceArrow>& arrows) {
    for (const ForceArrow& arrow : arrows) {
        const Vec3 along = arrow.to_mm - arrow.from_mm;
        const double length = glm::length(along);
        if (!(length > 0)) {
            continue;
        }
        frame.lines.push_back({arrow.from_mm, arrow.to_mm, kArrow, kShaft_px, true});
        // Barbs square to the line of sight, so that the head is seen from every side.
        const Vec3 sight = frame.camera.target_mm - frame.camera.eye_mm;
        const Vec3 square = glm::cross(along, sight);
        const Vec3 side = glm::length(square) > 1e-9 ? glm::normalize(square) : Vec3{1, 0, 0};
        for (const double hand : {-1.0, 1.0}) {
            frame.lines.push_back(
                {arrow.to_mm, arrow.to_mm - 0.22 * along + hand * 0.12 * length * side, kArrow, kBarb_px, true});
        }
    }
}

} // namespace evenclose
