#include "checks/frame/hints.hpp"

#include "checks/frame/utilisation.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace evenclose {
namespace {

constexpr double kSquareOn = 0.9; // cosine: what presses within 25 degrees of square to a leg

void tips(std::vector<FrameHint>& hints, const Press& press, const StoodFrame& stood) {
    const PressFrame& model = stood.model;
    for (std::size_t i = 0; i < press.members.size(); ++i) {
        const Member& member = press.members[i];
        const FrameMember& part = model.members[i];
        const bool open = std::holds_alternative<PlateSection>(member.section) ||
                          std::holds_alternative<AngleSection>(member.section);
        if (!open || part.beams.empty() || !part.known() || !part.material().is_metal()) {
            continue;
        }
        double about_major = 0;
        for (std::size_t k = 0; k < part.beams.size(); ++k) {
            for (const double share : {0.0, 1.0}) {
                const double at = share * (part.at_mm[k + 1] - part.at_mm[k]);
                about_major =
                    std::max(about_major, std::abs(forces_at(model.frame, stood.state, part.beams[k], at).My));
            }
        }
        const Material& of = part.material();
        const SectionProperties& section = part.whole.parts[0].section;
        const double length = glm::distance(member.a_mm, member.b_mm);
        const double allowed =
            tipping_moment_Nmm(of.E_MPa, section.minor_mm4(), of.G_MPa, section.J_mm4, length) / kYieldFactor;
        hints.push_back({FrameHint::Kind::tips,
                         member.name,
                         {},
                         about_major / allowed,
                         about_major,
                         allowed,
                         0.5 * (member.a_mm + member.b_mm)});
    }
}

/// `member`, an angle, is pressed by `other`.
void leg(std::vector<FrameHint>& hints, const Press& press, const FoundJoint& joint, const StoodFrame& stood,
         std::size_t contact, std::size_t member, std::size_t other) {
    if (member == FoundJoint::kHead || joint.rod || joint.through) {
        return;
    }
    const auto* angle = std::get_if<AngleSection>(&press.members[member].section);
    const FrameMember& part = stood.model.members[member];
    if (angle == nullptr || part.nodes.empty() || !part.known() || !part.material().is_metal()) {
        return;
    }
    const FrameContact& spot = stood.model.contacts[contact];
    const double force = std::max(0.0, -stood.state.spring_forces[spot.spring][0]);
    const MemberBox box = *box_of(press.members[member]);
    const Vec3 from_axis = spot.at_mm - box.centre_mm;
    // The leg along v is pressed along u, the one along u along v; the lever runs along the leg.
    const int across = std::abs(glm::dot(box.axes[0], joint.normal)) > kSquareOn   ? 0
                       : std::abs(glm::dot(box.axes[1], joint.normal)) > kSquareOn ? 1
                                                                                   : -1;
    // Pressed on the far side, it is the edge of the other leg that bears.
    if (across < 0 || force <= 0 || glm::dot(box.axes[across], from_axis) > 0) {
        return;
    }
    const int along_leg = 1 - across;
    const double lever =
        glm::dot(box.axes[along_leg], from_axis) + box.half_mm[along_leg] - angle->thickness_mm - angle->root_radius_mm;
    if (lever <= 0) {
        return; // over the heel: the other leg bears it
    }
    const bool face_along = std::abs(glm::dot(joint.along_patch, box.axes[2])) > 0.7;
    const double length = (face_along ? joint.patch_mm.x : joint.patch_mm.y) + 2 * lever;
    const double t = angle->thickness_mm;
    const double stress = 6 * force * lever / (length * t * t);
    const double allowed = part.material().yield_MPa(t) / kYieldFactor;
    hints.push_back({FrameHint::Kind::leg, joined_name(press, member), joined_name(press, other), stress / allowed,
                     stress, allowed, spot.at_mm});
}

void bolts(std::vector<FrameHint>& hints, const Press& press, const FoundJoint& joint, const StoodFrame& stood,
           std::size_t contact) {
    if (joint.kind != JointKind::bolted || joint.bolts || joint.rod) {
        return;
    }
    const FrameContact& spot = stood.model.contacts[contact];
    const std::array<double, 6>& force = stood.state.spring_forces[spot.spring];
    hints.push_back({FrameHint::Kind::bolts, joined_name(press, joint.first), joined_name(press, joint.second), 0,
                     std::hypot(force[1], force[2]), 0, spot.at_mm});
}

} // namespace

double tipping_moment_Nmm(double E_MPa, double minor_mm4, double G_MPa, double J_mm4, double length_mm) {
    return std::numbers::pi / length_mm * std::sqrt(E_MPa * minor_mm4 * G_MPa * J_mm4);
}

std::vector<FrameHint> hints_of(const Press& press, const Joints& joints, const StoodFrame& stood) {
    std::vector<FrameHint> all;
    tips(all, press, stood);
    for (std::size_t c = 0; c < stood.model.contacts.size(); ++c) {
        const FrameContact& contact = stood.model.contacts[c];
        if (contact.on == FrameContact::On::joint && !stood.open[c]) {
            const FoundJoint& joint = joints.found[contact.joint];
            leg(all, press, joint, stood, c, joint.first, joint.second);
            leg(all, press, joint, stood, c, joint.second, joint.first);
            bolts(all, press, joint, stood, c);
        }
    }
    std::stable_sort(all.begin(), all.end(), [](const FrameHint& a, const FrameHint& b) {
        return a.use != b.use ? a.use > b.use : a.value > b.value;
    });
    std::vector<FrameHint> worst;
    for (FrameHint& hint : all) {
        const bool told = std::any_of(worst.begin(), worst.end(), [&](const FrameHint& other) {
            return other.kind == hint.kind && other.part == hint.part &&
                   (hint.kind != FrameHint::Kind::bolts || other.other == hint.other);
        });
        if (!told) {
            worst.push_back(std::move(hint));
        }
    }
    return worst;
}

} // namespace evenclose
