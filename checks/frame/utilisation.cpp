#include "checks/frame/utilisation.hpp"

#include "checks/frame/bolts.hpp"

#include "checks/phrase.hpp"
#include "scene/materials/allowable.hpp"

#include <fmt/format.h>

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>

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

/// Stresses in one part of a beam's section, at one place along it.
struct BeamStress {
    double axial_MPa = 0, bending_MPa = 0; // bending: greatest over its fibres, without the axial part
    double normal_MPa = 0;                 // greatest magnitude of both together
    double shear_MPa = 0;                  // V / shear area, and torsion
};

BeamStress stress_at(const FrameMember& member, std::size_t part, const BeamForces& f) {
    const CompositeSection& whole = member.whole;
    const CompositePart& own = whole.parts[part];
    const double c = std::cos(member.principal_rad);
    const double n = std::sin(member.principal_rad);
    BeamStress stress;
    // Plane sections stay plane over all parts; of a built-up one a part's middle is bent too, which counts as axial.
    const auto bending_at = [&](Vec2 from_centroid) {
        const double y = c * from_centroid.x + n * from_centroid.y;
        const double z = -n * from_centroid.x + c * from_centroid.y;
        return own.E_MPa * (f.My * z / whole.major_Nmm2() - f.Mz * y / whole.minor_Nmm2());
    };
    const Vec2 middle = own.at_mm - whole.centroid_mm;
    const double middle_bent = bending_at(middle);
    stress.axial_MPa = own.E_MPa * f.N / whole.EA_N + middle_bent;
    for (const Vec2 fibre : own.section.fibres_mm) {
        const double bending = bending_at(middle + fibre) - middle_bent;
        stress.bending_MPa = std::max(stress.bending_MPa, std::abs(bending));
        stress.normal_MPa = std::max(stress.normal_MPa, std::abs(stress.axial_MPa + bending));
    }
    const double along_y = own.G_MPa * f.Vy / (c * c * whole.GA_u_N + n * n * whole.GA_v_N);
    const double along_z = own.G_MPa * f.Vz / (n * n * whole.GA_u_N + c * c * whole.GA_v_N);
    // Torsion: open and solid sections peak at T t / J, which is on the safe side for closed walls (Bredt: T / 2 A t).
    const double twist = own.G_MPa * std::abs(f.Mx) * own.section.thinnest_mm / whole.GJ_Nmm2;
    stress.shear_MPa = std::hypot(along_y, along_z) + twist;
    return stress;
}

/// What a part of a built-up member is called beside what it bears: " in its S235 part".
std::string in_part(const FrameMember& member, std::size_t part) {
    return member.built_up() ? fmt::format(" in its {} part", member.parts[part].material.name) : std::string{};
}

void judge_timber(Uses& uses, const FrameMember& part, std::size_t i, const Member& member, const BeamStress& stress,
                  const Vec3& at) {
    const Material& material = part.parts[i].material;
    const TimberStress& may = *material.timber;
    double depth = 0;
    for (const Vec2 fibre : part.whole.parts[i].section.fibres_mm) {
        depth = std::max({depth, 2 * std::abs(fibre.x), 2 * std::abs(fibre.y)});
    }
    const double duration = duration_factor(kDuration);
    const double bending = bending_allowable_MPa(may, depth, kDuration);
    const double axial = (stress.axial_MPa > 0 ? may.tension_MPa : may.compression_MPa) * duration;
    const double both = stress.bending_MPa / bending + std::abs(stress.axial_MPa) / axial;
    const bool mostly_axial = std::abs(stress.axial_MPa) / axial > 0.5 * both;
    uses.add({member.name,
              (mostly_axial ? (stress.axial_MPa > 0 ? "tension along the grain" : "compression along the grain")
                            : "bending") +
                  in_part(part, i),
              both, mostly_axial ? std::abs(stress.axial_MPa) : stress.bending_MPa, mostly_axial ? axial : bending, at,
              part.parts[i].known, material.source});
    // The shear area of a rectangle is 5/6 of it; its greatest shear stress is 3 V / 2 A.
    const double shear = stress.shear_MPa * (5.0 / 6) * 1.5;
    uses.add({member.name, "shear" + in_part(part, i), shear / (may.shear_MPa * duration), shear,
              may.shear_MPa * duration, at, part.parts[i].known, material.source});
}

void judge_members(Uses& uses, const Press& press, const StoodFrame& stood) {
    const PressFrame& model = stood.model;
    for (std::size_t i = 0; i < press.members.size(); ++i) {
        const FrameMember& member = model.members[i];
        for (std::size_t k = 0; k < member.beams.size(); ++k) {
            const double length = member.at_mm[k + 1] - member.at_mm[k];
            for (const double share : {0.0, 0.5, 1.0}) {
                const BeamForces forces = forces_at(model.frame, stood.state, member.beams[k], share * length);
                const Vec3 at = (1 - share) * model.frame.nodes[member.nodes[k]].at_mm +
                                share * model.frame.nodes[member.nodes[k + 1]].at_mm;
                for (std::size_t p = 0; p < member.parts.size(); ++p) {
                    const BeamStress stress = stress_at(member, p, forces);
                    const Material& material = member.parts[p].material;
                    if (timber_like(material)) {
                        judge_timber(uses, member, p, press.members[i], stress, at);
                        continue;
                    }
                    const double together = std::hypot(stress.normal_MPa, std::sqrt(3.0) * stress.shear_MPa);
                    const double allowed = material.yield_MPa(member.whole.parts[p].section.thinnest_mm) / kYieldFactor;
                    uses.add({press.members[i].name, "yield" + in_part(member, p), together / allowed, together,
                              allowed, at, member.parts[p].known, material.source});
                }
            }
        }
    }
}

void judge_plate(Uses& uses, const char* name, const PlateGrid& grid, const StoodFrame& stood) {
    const double t = grid.thickness_mm;
    const double allowed = allowed_MPa(grid.material, t, t);
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
            uses.add({name, timber_like(grid.material) ? "bending" : "yield", mises / allowed, mises, allowed, at,
                      grid.material_known, grid.material.source});
        }
    }
}

/// Timber that a neighbour presses: `member` is pressed, by `other`.
void judge_seat(Uses& uses, const Press& press, const FoundJoint& joint, const StoodFrame& stood, std::size_t contact,
                std::size_t member, std::size_t other) {
    const PressFrame& model = stood.model;
    const bool is_head = member == FoundJoint::kHead;
    const Material& of = is_head ? model.head.material : model.members[member].material();
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
              is_head ? model.head.material_known : model.members[member].parts[model.members[member].main].known,
              of.source});
}

/// One side of a bolted joint as its bolts see it.
BoltedSide side_of(const Press& press, const StoodFrame& stood, const FoundJoint& joint, std::size_t member,
                   const Vec3& shear) {
    const PressFrame& model = stood.model;
    BoltedSide side;
    if (member == FoundJoint::kHead) {
        side.material = model.head.material;
        side.thickness_mm = model.head.thickness_mm;
        return side;
    }
    const MemberBox box = *box_of(press.members[member]);
    side.material = model.members[member].material();
    side.thickness_mm = side.material.is_metal()
                            ? model.members[member].whole.parts[model.members[member].main].section.thinnest_mm
                            : 0;
    if (side.thickness_mm == 0) {
        for (int i = 0; i < 3; ++i) {
            side.thickness_mm += 2 * box.half_mm[i] * std::abs(glm::dot(box.axes[i], joint.normal));
        }
    }
    const double shear_N = glm::length(shear);
    side.angle_to_grain_rad =
        shear_N > 0 ? std::acos(std::min(1.0, std::abs(glm::dot(box.axes[2], shear)) / shear_N)) : 0.0;
    return side;
}

/// Shear of the bolts that the document tells of.
void judge_bolts(Uses& uses, const Press& press, const FoundJoint& joint, const StoodFrame& stood,
                 std::size_t contact) {
    if (!joint.bolts || joint.rod) {
        return;
    }
    const FrameContact& spot = stood.model.contacts[contact];
    const FrameSpring& spring = stood.model.frame.springs[spot.spring];
    const std::array<double, 6>& force = stood.state.spring_forces[spot.spring];
    const Vec3 shear = force[1] * spring.axes[1] + force[2] * spring.axes[2];
    const Material* grade = find_material(press.materials, joint.bolts->grade.empty() ? "4.6" : joint.bolts->grade);
    const BoltCapacity may = bolt_capacity(
        joint.bolts->diameter_mm, grade != nullptr ? *grade : *find_material({}, "4.6"),
        side_of(press, stood, joint, joint.first, shear), side_of(press, stood, joint, joint.second, shear));
    const double one = glm::length(shear) / joint.bolts->count;
    // Told as a stress over the bolt's shank, so that it compares with the others.
    const double shank = 0.25 * std::numbers::pi * joint.bolts->diameter_mm * joint.bolts->diameter_mm;
    const std::size_t told = joint.first == FoundJoint::kHead ? joint.second : joint.first;
    const std::size_t other = joint.first == FoundJoint::kHead ? joint.first : joint.second;
    uses.add({joined_name(press, told),
              fmt::format("its bolts to {}, {} of {}: {}", joined_name(press, other), force_mark(one),
                          force_mark(may.allowed_N), may.by),
              one / may.allowed_N, one / shank, may.allowed_N / shank, spot.at_mm,
              joint.bolts->grade.empty() || grade != nullptr, kBoltSource});
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
            judge_bolts(uses, press, joint, stood, c);
        }
    }
    return uses.take();
}

MemberForces forces_of(const FrameMember& member, const StoodFrame& stood) {
    MemberForces most;
    for (std::size_t k = 0; k < member.beams.size(); ++k) {
        const double length = member.at_mm[k + 1] - member.at_mm[k];
        for (const double share : {0.0, 0.5, 1.0}) {
            const BeamForces f = forces_at(stood.model.frame, stood.state, member.beams[k], share * length);
            most.N_N = std::abs(f.N) > std::abs(most.N_N) ? f.N : most.N_N;
            most.V_N = std::max(most.V_N, std::hypot(f.Vy, f.Vz));
            most.M_Nmm = std::max(most.M_Nmm, std::hypot(f.My, f.Mz));
            most.T_Nmm = std::max(most.T_Nmm, std::abs(f.Mx));
        }
    }
    return most;
}

} // namespace evenclose
