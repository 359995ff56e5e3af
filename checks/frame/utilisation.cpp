#include "checks/frame/utilisation.hpp"

#include "scene/materials/allowable.hpp"

#include <fmt/format.h>

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <map>

namespace evenclose {
namespace {

constexpr LoadDuration kDuration = LoadDuration::ten_years;

bool timber_like(const Material& material) { return material.timber.has_value(); }

class Uses {
public:
    void add(PartUse use) {
        const auto [at, is_new] = worst_.try_emplace(use.part, use);
        if (!is_new && use.use > at->second.use) {
            at->second = std::move(use);
        }
    }
    [[nodiscard]] std::vector<PartUse> take() {
        std::vector<PartUse> list;
        for (auto& [name, use] : worst_) {
            list.push_back(std::move(use));
        }
        std::stable_sort(list.begin(), list.end(), [](const PartUse& a, const PartUse& b) { return a.use > b.use; });
        return list;
    }

private:
    std::map<std::string, PartUse> worst_;
};

/// Stresses at one place of a beam.
struct BeamStress {
    double axial_MPa = 0, bending_MPa = 0; // bending: greatest over its fibres, without the axial part
    double normal_MPa = 0;                 // greatest magnitude of both together
    double shear_MPa = 0;                  // V / shear area, and torsion
};

BeamStress stress_at(const FrameMember& part, const BeamForces& f) {
    const SectionProperties& s = *part.section;
    const double c = std::cos(part.principal_rad);
    const double n = std::sin(part.principal_rad);
    BeamStress stress;
    stress.axial_MPa = f.N / s.area_mm2;
    for (const Vec2 fibre : s.fibres_mm) {
        const double y = c * fibre.x + n * fibre.y;
        const double z = -n * fibre.x + c * fibre.y;
        const double bending = f.My * z / s.major_mm4() - f.Mz * y / s.minor_mm4();
        stress.bending_MPa = std::max(stress.bending_MPa, std::abs(bending));
        stress.normal_MPa = std::max(stress.normal_MPa, std::abs(stress.axial_MPa + bending));
    }
    const double along_y = f.Vy / (c * c * s.shear_area_u_mm2 + n * n * s.shear_area_v_mm2);
    const double along_z = f.Vz / (n * n * s.shear_area_u_mm2 + c * c * s.shear_area_v_mm2);
    // Torsion: open and solid sections peak at T t / J, which is on the safe side for closed walls (Bredt: T / 2 A t).
    const double twist = std::abs(f.Mx) * s.thinnest_mm / s.J_mm4;
    stress.shear_MPa = std::hypot(along_y, along_z) + twist;
    return stress;
}

void judge_timber(Uses& uses, const FrameMember& part, const Member& member, const BeamStress& stress, const Vec3& at) {
    const TimberStress& may = *part.material->timber;
    double depth = 0;
    for (const Vec2 fibre : part.section->fibres_mm) {
        depth = std::max({depth, 2 * std::abs(fibre.x), 2 * std::abs(fibre.y)});
    }
    const double duration = duration_factor(kDuration);
    const double bending = bending_allowable_MPa(may, depth, kDuration);
    const double axial = (stress.axial_MPa > 0 ? may.tension_MPa : may.compression_MPa) * duration;
    const double both = stress.bending_MPa / bending + std::abs(stress.axial_MPa) / axial;
    const bool mostly_axial = std::abs(stress.axial_MPa) / axial > 0.5 * both;
    uses.add(
        {member.name,
         mostly_axial ? (stress.axial_MPa > 0 ? "tension along the grain" : "compression along the grain") : "bending",
         both, mostly_axial ? std::abs(stress.axial_MPa) : stress.bending_MPa, mostly_axial ? axial : bending, at,
         part.material_known});
    // The shear area of a rectangle is 5/6 of it; its greatest shear stress is 3 V / 2 A.
    const double shear = stress.shear_MPa * (5.0 / 6) * 1.5;
    uses.add({member.name, "shear", shear / (may.shear_MPa * duration), shear, may.shear_MPa * duration, at,
              part.material_known});
}

void judge_members(Uses& uses, const Press& press, const StoodFrame& stood) {
    const PressFrame& model = stood.model;
    for (std::size_t i = 0; i < press.members.size(); ++i) {
        const FrameMember& part = model.members[i];
        for (std::size_t k = 0; k < part.beams.size(); ++k) {
            const double length = part.at_mm[k + 1] - part.at_mm[k];
            for (const double share : {0.0, 0.5, 1.0}) {
                const BeamStress stress =
                    stress_at(part, forces_at(model.frame, stood.state, part.beams[k], share * length));
                const Vec3 at = (1 - share) * model.frame.nodes[part.nodes[k]].at_mm +
                                share * model.frame.nodes[part.nodes[k + 1]].at_mm;
                if (timber_like(*part.material)) {
                    judge_timber(uses, part, press.members[i], stress, at);
                    continue;
                }
                const double together = std::hypot(stress.normal_MPa, std::sqrt(3.0) * stress.shear_MPa);
                const double allowed = part.material->yield_MPa(part.section->thinnest_mm) / kYieldFactor;
                uses.add(
                    {press.members[i].name, "yield", together / allowed, together, allowed, at, part.material_known});
            }
        }
    }
}

void judge_plate(Uses& uses, const char* name, const PlateGrid& grid, const StoodFrame& stood) {
    const double t = grid.thickness_mm;
    const double allowed = allowed_MPa(*grid.material, t, t);
    const auto cells = static_cast<std::size_t>(grid.along * grid.across);
    for (std::size_t i = grid.first_plate; i < grid.first_plate + cells; ++i) {
        const PlateForces& f = stood.state.plate_forces[i];
        for (const double face : {-1.0, 1.0}) {
            const double x = f.nx_N_per_mm / t + face * 6 * f.mx_N / (t * t);
            const double y = f.ny_N_per_mm / t + face * 6 * f.my_N / (t * t);
            const double xy = f.nxy_N_per_mm / t + face * 6 * f.mxy_N / (t * t);
            const double mises = std::sqrt(std::max(0.0, x * x - x * y + y * y + 3 * xy * xy));
            Vec3 at{0.0};
            for (const std::size_t node : stood.model.frame.plates[i].nodes) {
                at += 0.25 * stood.model.frame.nodes[node].at_mm;
            }
            uses.add({name, timber_like(*grid.material) ? "bending" : "yield", mises / allowed, mises, allowed, at,
                      grid.material_known});
        }
    }
}

/// Timber that a neighbour presses: `member` is pressed, by `other`.
void judge_seat(Uses& uses, const Press& press, const FoundJoint& joint, const StoodFrame& stood, std::size_t contact,
                std::size_t member, std::size_t other) {
    const PressFrame& model = stood.model;
    const bool is_head = member == FoundJoint::kHead;
    const Material& of = is_head ? *model.head.material : *model.members[member].material;
    if (!timber_like(of)) {
        return;
    }
    const FrameContact& spot = model.contacts[contact];
    // A rod pulls its nut onto the timber one way or the other; a seat is pressed only.
    const double force = stood.state.spring_forces[spot.spring][0];
    const double press_N = joint.rod ? std::abs(force) : std::max(0.0, -force);
    const double stress = press_N / spot.area_mm2;
    double across = of.timber->bearing_across_MPa;
    double allowed = across;
    if (!is_head) {
        const MemberBox box = *box_of(press.members[member]);
        const Vec3 grain = box.axes[2];
        const double cosine = std::min(1.0, std::abs(glm::dot(grain, joint.normal)));
        const double on_axis = glm::dot(spot.at_mm - box.centre_mm, grain);
        const bool along = std::abs(glm::dot(grain, joint.along_patch)) > 0.7;
        const double length = along ? joint.patch_mm.x : joint.patch_mm.y;
        across *= bearing_area_factor(length, box.half_mm.z - std::abs(on_axis) - 0.5 * length);
        allowed = hankinson_MPa(of.timber->compression_MPa, across, std::acos(cosine));
    }
    const std::string name = joined_name(press, member);
    const std::string by =
        joint.rod ? fmt::format("crushed under the washers of {} (taken as 3 diameters)", joined_name(press, other))
                  : fmt::format("crushed where {} presses on it", joined_name(press, other));
    uses.add({name, by, stress / allowed, stress, allowed, spot.at_mm,
              is_head ? model.head.material_known : model.members[member].material_known});
}

} // namespace

double allowed_MPa(const Material& material, double thickness_mm, double depth_mm) {
    return material.timber ? bending_allowable_MPa(*material.timber, depth_mm, kDuration)
                           : material.yield_MPa(thickness_mm) / kYieldFactor;
}

std::vector<PartUse> uses_of(const Press& press, const Joints& joints, const StoodFrame& stood) {
    Uses uses;
    judge_members(uses, press, stood);
    judge_plate(uses, "head", stood.model.head, stood);
    judge_plate(uses, "platen", stood.model.platen, stood);
    for (std::size_t c = 0; c < stood.model.contacts.size(); ++c) {
        const FrameContact& contact = stood.model.contacts[c];
        if (contact.on == FrameContact::On::joint && !stood.open[c]) {
            const FoundJoint& joint = joints.found[contact.joint];
            judge_seat(uses, press, joint, stood, c, joint.first, joint.second);
            judge_seat(uses, press, joint, stood, c, joint.second, joint.first);
        }
    }
    return uses.take();
}

} // namespace evenclose
