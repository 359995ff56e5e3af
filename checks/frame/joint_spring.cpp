#include "checks/frame/joint_spring.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// Stiff beside every part of a press, and far from what rounding would eat.
constexpr double kStiff_N_per_mm = 1e7, kStiff_Nmm_per_rad = 1e12;
// Slip of a bolted timber joint, two M12: rho^1.5 d / 23 each, rho 420, d 12 (EN 1995-1-1 table 7.1, from memory).
constexpr double kSlip_N_per_mm = 9000;
// Plates laid on beams and screwed: little shear passes, so they hardly act as one section (on the soft side).
constexpr double kLaidOn_N_per_mm = 1000;
// Grain within this angle of the force counts as along it, when timber is crushed (cosine).
constexpr double kAlongGrain = 0.8;
constexpr double kEndGrainDepth_mm = 50; // how much of its end a joint crushes; the rest is the member's own length
// A touch at a point or an edge is pressed flat to about this (common practice, no source).
constexpr double kLeastFace_mm2 = 100;

/// How much a side's own flesh gives under a face, mm a N; 0 for metal.
double crush(const JointSide& side, const Vec3& normal, double area_mm2) {
    const Material& of = side.material;
    if (of.is_metal()) {
        return 0;
    }
    if (side.plate) {
        return side.box.half_mm.z / (of.E_across_MPa * area_mm2);
    }
    const MemberBox& box = side.box;
    if (std::abs(glm::dot(box.axes[2], normal)) > kAlongGrain) {
        return kEndGrainDepth_mm / (of.E_MPa * area_mm2);
    }
    const double depth = std::abs(glm::dot(box.axes[0], normal)) * box.half_mm.x +
                         std::abs(glm::dot(box.axes[1], normal)) * box.half_mm.y;
    return depth / (of.E_across_MPa * area_mm2);
}

} // namespace

double bearing_mm2(const FoundJoint& joint) { return std::max(kLeastFace_mm2, joint.patch_mm.x * joint.patch_mm.y); }

FrameSpring joint_spring(const FoundJoint& joint, const JointSide& first, const JointSide& second) {
    FrameSpring spring;
    spring.axes = Mat3{joint.normal, joint.along_patch, glm::cross(joint.normal, joint.along_patch)};
    if (joint.kind == JointKind::welded) {
        spring.stiffness = {kStiff_N_per_mm,    kStiff_N_per_mm,    kStiff_N_per_mm,
                            kStiff_Nmm_per_rad, kStiff_Nmm_per_rad, kStiff_Nmm_per_rad};
        return spring;
    }
    const double area = bearing_mm2(joint);
    const double push =
        1 / (1 / kStiff_N_per_mm + crush(first, joint.normal, area) + crush(second, joint.normal, area));
    const double shear = std::min(push, joint.spots_mm.size() > 1 ? kLaidOn_N_per_mm : kSlip_N_per_mm);
    const Vec2 square = joint.patch_mm * joint.patch_mm / 12.0;
    // A patch that presses holds against turning as its own width lets it.
    spring.stiffness = {push,
                        shear,
                        shear,
                        std::max(1e3, shear * (square.x + square.y)),
                        std::max(1e3, push * square.y),
                        std::max(1e3, push * square.x)};
    return spring;
}

} // namespace evenclose
