#include "checks/frame/press_frame.hpp"

#include "scene/press/member_solid.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>

namespace evenclose {
namespace {

constexpr double kGravity = 9.80665; // N a kg
constexpr double kKgPerMm3 = 1e-9;   // from kg/m3
// Nodes closer than this along a member are one: a beam between them would be all rounding.
constexpr double kSameNode_mm = 1.0;
// Beams are exact however long; this is for how the bent frame is drawn and where stresses are looked at.
constexpr double kLongestBeam_mm = 260;
// Cells of head and platen: bending over a deck is within 1 % with these (tried on the demo against twice as many).
constexpr double kPlateCell_mm = 55;
// Stiff beside every part of a press, and far from what rounding would eat.
constexpr double kStiff_N_per_mm = 1e7, kStiff_Nmm_per_rad = 1e12;
// Slip of a bolted timber joint, two M12: rho^1.5 d / 23 each, rho 420, d 12 (EN 1995-1-1 table 7.1, from memory).
constexpr double kSlip_N_per_mm = 9000;
// Plates laid on beams and screwed: little shear passes, so they hardly act as one section (on the soft side).
constexpr double kLaidOn_N_per_mm = 1000;
// Grain within this angle of the force counts as along it, when timber is crushed (cosine).
constexpr double kAlongGrain = 0.8;
constexpr double kEndGrainDepth_mm = 50; // how much of its end a joint crushes; the rest is the member's own length
constexpr std::size_t kNone = static_cast<std::size_t>(-1);

/// Stands in for a material that is not known: soft timber for timber, mild steel for shapes that only steel has.
const Material* stand_in(const Section& section) {
    return find_material({}, std::holds_alternative<TimberSection>(section) ? "C24" : "S235");
}

bool is_metal(const Material& material) {
    return material.kind == MaterialKind::steel || material.kind == MaterialKind::aluminium;
}

class Builder {
public:
    Builder(const Setup& setup, const Joints& joints, const Stiffening& stiffening)
        : setup_(setup), press_(*setup.press), joints_(joints), stiffening_(stiffening),
          stations_(press_.members.size()) {}

    PressFrame take(const std::vector<JackForce>& forces) {
        result_.members.resize(press_.members.size());
        place_stations();
        for (std::size_t i = 0; i < press_.members.size(); ++i) {
            add_member(i);
        }
        const double head_t = press_.head.thickness_mm;
        result_.head = add_plate(press_.head, press_.head_underside_z_mm + 0.5 * head_t, stiffening_.head_thickness);
        const double shut = setup_.openings.front().mold->closed_shut_height_mm();
        result_.platen = add_plate(press_.platen, press_.head_underside_z_mm - shut - 0.5 * press_.platen.thickness_mm,
                                   stiffening_.platen_thickness);
        // Guides hold the platen in plan; no force passes there in this model.
        FrameNode& middle = result_.frame.nodes[result_.platen.nearest(press_.platen.centre_mm)];
        middle.held = {true, true, false, false, false, true};
        for (std::size_t j = 0; j < joints_.found.size(); ++j) {
            add_joint(j);
        }
        add_floor();
        add_deck();
        for (const JackForce& force : forces) {
            add_jack(force);
        }
        name_the_loose();
        return std::move(result_);
    }

private:
    double length_mm(std::size_t member) const {
        return glm::distance(press_.members[member].a_mm, press_.members[member].b_mm);
    }
    double along_mm(std::size_t member, const Vec3& at_mm) const {
        const Member& m = press_.members[member];
        const double L = length_mm(member);
        return std::clamp(glm::dot(at_mm - m.a_mm, (m.b_mm - m.a_mm) / L), 0.0, L);
    }

    void place_stations() {
        for (std::size_t i = 0; i < press_.members.size(); ++i) {
            if (std::holds_alternative<MeshSection>(press_.members[i].section)) {
                result_.meshes.push_back(press_.members[i].name);
                continue;
            }
            stations_[i] = {0.0, length_mm(i)};
        }
        for (const FoundJoint& joint : joints_.found) {
            for (const Vec3& spot : joint.spots_mm) {
                for (const std::size_t member : {joint.first, joint.second}) {
                    if (member != FoundJoint::kHead) {
                        stations_[member].push_back(along_mm(member, spot));
                    }
                }
            }
        }
        feet_.assign(press_.jacks.size(), kNone);
        for (std::size_t k = 0; k < press_.jacks.size(); ++k) {
            feet_[k] = under(press_.jacks[k].foot_mm);
            if (feet_[k] != kNone) {
                stations_[feet_[k]].push_back(along_mm(feet_[k], press_.jacks[k].foot_mm));
            }
        }
    }

    /// The member on which a foot stands: its box has the foot on its upper face.
    std::size_t under(const Vec3& foot_mm) const {
        std::size_t best = kNone;
        double nearest = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i < press_.members.size(); ++i) {
            const std::optional<MemberBox> box = box_of(press_.members[i]);
            if (!box) {
                continue;
            }
            const MemberBox foot{foot_mm, Mat3{1.0}, Vec3{1.0, 1.0, 0.0}};
            const double gap = contact_of(*box, foot).gap_mm;
            if (gap <= kJointGap_mm && std::abs(gap) < nearest) {
                nearest = std::abs(gap);
                best = i;
            }
        }
        return best;
    }

    void add_member(std::size_t i) {
        const Member& member = press_.members[i];
        FrameMember& part = result_.members[i];
        part.material = find_material({}, member.material);
        part.material_known = part.material != nullptr;
        if (!part.material_known) {
            part.material = stand_in(member.section);
        }
        std::vector<double>& stations = stations_[i];
        if (stations.empty()) {
            return;
        }
        part.section = properties_of(member.section, part.material->wall_factor);
        std::sort(stations.begin(), stations.end());
        const double L = length_mm(i);
        for (const double at : stations) {
            if (part.at_mm.empty() || at - part.at_mm.back() > kSameNode_mm) {
                part.at_mm.push_back(at);
            }
        }
        part.at_mm.back() = std::max(part.at_mm.back(), L); // the end itself, if a joint lies within a millimetre of it
        std::vector<double> finer{part.at_mm.front()};
        for (std::size_t k = 1; k < part.at_mm.size(); ++k) {
            const double step = part.at_mm[k] - part.at_mm[k - 1];
            const int pieces = std::max(1, static_cast<int>(std::ceil(step / kLongestBeam_mm)));
            for (int p = 1; p <= pieces; ++p) {
                finer.push_back(part.at_mm[k - 1] + step * p / pieces);
            }
        }
        part.at_mm = std::move(finer);

        const Pose pose = frame_of(member);
        const Vec3 u = pose.rotation[0];
        const Vec3 v = pose.rotation[1];
        const SectionProperties& s = *part.section;
        part.principal_rad = s.principal_angle_rad();
        const double c = std::cos(part.principal_rad);
        const double n = std::sin(part.principal_rad);
        const double k = stiffening_.member.empty() ? 1.0 : stiffening_.member[i];
        const Material& of = *part.material;
        FrameBeam beam;
        beam.y_axis = c * u + n * v;
        beam.stiffness.EA_N = k * of.E_MPa * s.area_mm2;
        beam.stiffness.EIy_Nmm2 = k * of.E_MPa * s.major_mm4();
        beam.stiffness.EIz_Nmm2 = k * of.E_MPa * s.minor_mm4();
        beam.stiffness.GJ_Nmm2 = k * of.G_MPa * s.J_mm4;
        beam.stiffness.GAy_N = k * of.G_MPa * (c * c * s.shear_area_u_mm2 + n * n * s.shear_area_v_mm2);
        beam.stiffness.GAz_N = k * of.G_MPa * (n * n * s.shear_area_u_mm2 + c * c * s.shear_area_v_mm2);
        beam.arm_a_mm = beam.arm_b_mm = s.centroid_mm.x * u + s.centroid_mm.y * v;
        beam.load_N_per_mm = {0, 0, -k * s.area_mm2 * of.density_kg_per_m3 * kKgPerMm3 * kGravity};
        const Vec3 axis = pose.rotation[2];
        for (const double at : part.at_mm) {
            part.nodes.push_back(result_.frame.nodes.size());
            result_.frame.nodes.push_back({member.a_mm + at * axis, kFree});
        }
        for (std::size_t p = 0; p + 1 < part.nodes.size(); ++p) {
            beam.a = part.nodes[p];
            beam.b = part.nodes[p + 1];
            part.beams.push_back(result_.frame.beams.size());
            result_.frame.beams.push_back(beam);
        }
    }

    PlateGrid add_plate(const Platen& platen, double z_mm, double thickness_factor) {
        PlateGrid grid;
        grid.material = find_material({}, platen.material);
        grid.material_known = grid.material != nullptr;
        if (!grid.material_known) {
            grid.material = find_material({}, "S235");
        }
        grid.along = std::clamp(2 * static_cast<int>(std::lround(0.5 * platen.size_mm.x / kPlateCell_mm)), 4, 40);
        grid.across = std::clamp(2 * static_cast<int>(std::lround(0.5 * platen.size_mm.y / kPlateCell_mm)), 4, 24);
        grid.low_mm = platen.centre_mm - 0.5 * platen.size_mm;
        grid.cell_mm = {platen.size_mm.x / grid.along, platen.size_mm.y / grid.across};
        grid.z_mm = z_mm;
        grid.thickness_mm = platen.thickness_mm * thickness_factor;
        for (int j = 0; j <= grid.across; ++j) {
            for (int i = 0; i <= grid.along; ++i) {
                grid.nodes.push_back(result_.frame.nodes.size());
                result_.frame.nodes.push_back(
                    {Vec3{grid.low_mm + Vec2{i * grid.cell_mm.x, j * grid.cell_mm.y}, z_mm}, kFree});
            }
        }
        grid.first_plate = result_.frame.plates.size();
        const auto at = [&](int i, int j) { return grid.nodes[static_cast<std::size_t>(j * (grid.along + 1) + i)]; };
        FramePlate plate;
        plate.thickness_mm = grid.thickness_mm;
        plate.E_MPa = grid.material->E_MPa;
        plate.poisson = is_metal(*grid.material) ? 0.3 : 0.0; // timber: bends along its grain as a beam
        plate.load_MPa = {0, 0, -grid.thickness_mm * grid.material->density_kg_per_m3 * kKgPerMm3 * kGravity};
        for (int j = 0; j < grid.across; ++j) {
            for (int i = 0; i < grid.along; ++i) {
                plate.nodes = {at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)};
                result_.frame.plates.push_back(plate);
            }
        }
        return grid;
    }

    std::size_t node_at(std::size_t member, const Vec3& at_mm) const {
        if (member == FoundJoint::kHead) {
            return result_.head.nearest(Vec2{at_mm});
        }
        const FrameMember& part = result_.members[member];
        const double at = along_mm(member, at_mm);
        const auto best = std::min_element(part.at_mm.begin(), part.at_mm.end(),
                                           [&](double a, double b) { return std::abs(a - at) < std::abs(b - at); });
        return part.nodes[static_cast<std::size_t>(best - part.at_mm.begin())];
    }

    /// How much a member's own flesh gives under a patch, mm a N; 0 for metal.
    double crush(std::size_t member, const Vec3& normal, double area_mm2) const {
        const Material& of = member == FoundJoint::kHead ? *result_.head.material : *result_.members[member].material;
        if (is_metal(of)) {
            return 0;
        }
        if (member == FoundJoint::kHead) {
            return 0.5 * press_.head.thickness_mm / (of.E_across_MPa * area_mm2);
        }
        const MemberBox box = *box_of(press_.members[member]);
        if (std::abs(glm::dot(box.axes[2], normal)) > kAlongGrain) {
            return kEndGrainDepth_mm / (of.E_MPa * area_mm2);
        }
        const double depth = std::abs(glm::dot(box.axes[0], normal)) * box.half_mm.x +
                             std::abs(glm::dot(box.axes[1], normal)) * box.half_mm.y;
        return depth / (of.E_across_MPa * area_mm2);
    }

    void add_joint(std::size_t j) {
        const FoundJoint& joint = joints_.found[j];
        if (joint.first == FoundJoint::kHead || joint.second == FoundJoint::kHead) {
            result_.head_held = true;
        }
        const double area = std::max(100.0, joint.patch_mm.x * joint.patch_mm.y);
        FrameSpring spring;
        spring.axes = Mat3{joint.normal, joint.along_patch, glm::cross(joint.normal, joint.along_patch)};
        if (joint.kind == JointKind::welded) {
            spring.stiffness = {kStiff_N_per_mm,    kStiff_N_per_mm,    kStiff_N_per_mm,
                                kStiff_Nmm_per_rad, kStiff_Nmm_per_rad, kStiff_Nmm_per_rad};
        } else {
            const double gives =
                1 / kStiff_N_per_mm + crush(joint.first, joint.normal, area) + crush(joint.second, joint.normal, area);
            const double push = 1 / gives;
            const double slip = joint.spots_mm.size() > 1 ? kLaidOn_N_per_mm : kSlip_N_per_mm;
            const double shear = std::min(push, slip);
            const Vec2 square = joint.patch_mm * joint.patch_mm / 12.0;
            // A patch that presses holds against turning as its own width lets it.
            spring.stiffness = {push,
                                shear,
                                shear,
                                std::max(1e3, shear * (square.x + square.y)),
                                std::max(1e3, push * square.y),
                                std::max(1e3, push * square.x)};
        }
        for (const Vec3& spot : joint.spots_mm) {
            spring.a = node_at(joint.first, spot);
            spring.b = node_at(joint.second, spot);
            spring.arm_a_mm = spot - result_.frame.nodes[spring.a].at_mm;
            spring.arm_b_mm = spot - result_.frame.nodes[spring.b].at_mm;
            result_.contacts.push_back({result_.frame.springs.size(), FrameContact::On::joint, j,
                                        joint.kind == JointKind::bearing, area, spot});
            result_.frame.springs.push_back(spring);
        }
    }

    void add_floor() {
        for (std::size_t i = 0; i < press_.members.size(); ++i) {
            const FrameMember& part = result_.members[i];
            if (part.nodes.empty()) {
                continue;
            }
            const MemberBox box = *box_of(press_.members[i]);
            const double below = std::abs(box.axes[0].z) * box.half_mm.x + std::abs(box.axes[1].z) * box.half_mm.y;
            for (const std::size_t node : part.nodes) {
                const Vec3 at = result_.frame.nodes[node].at_mm;
                if (at.z - below > kJointGap_mm) {
                    continue;
                }
                result_.stands = true;
                FrameSpring spring;
                spring.a = node;
                spring.arm_a_mm = {0, 0, -below};
                spring.axes = Mat3{Vec3{0, 0, -1}, Vec3{1, 0, 0}, Vec3{0, 1, 0}}; // the floor lies on the far side
                spring.stiffness = {1e5, 100, 100, 1e3, 1e3, 1e3};
                result_.contacts.push_back(
                    {result_.frame.springs.size(), FrameContact::On::floor, 0, true, 0, at + spring.arm_a_mm});
                result_.frame.springs.push_back(spring);
            }
        }
    }

    void add_deck() {
        const Opening& opening = setup_.openings.front();
        const Mold& mold = *opening.mold;
        const DeckPlan deck = deck_plan(setup_, opening);
        const double per_area = bed_MPa_per_mm(mold);
        const int along = std::clamp(static_cast<int>(std::lround(deck.size_mm.x / 30)), 6, 40);
        const int across = std::clamp(static_cast<int>(std::lround(deck.size_mm.y / 30)), 4, 16);
        const Vec2 cell{deck.size_mm.x / along, deck.size_mm.y / across};
        const Vec2 side{-deck.length_axis.y, deck.length_axis.x};
        const double z = 0.5 * (result_.head.z_mm + result_.platen.z_mm);
        FrameSpring spring;
        spring.axes = Mat3{Vec3{0, 0, 1}, Vec3{1, 0, 0}, Vec3{0, 1, 0}}; // from platen to head
        spring.stiffness = {per_area * cell.x * cell.y, 0, 0, 0, 0, 0};
        for (int j = 0; j < across; ++j) {
            for (int i = 0; i < along; ++i) {
                const Vec2 own{(i + 0.5) * cell.x - 0.5 * deck.size_mm.x, (j + 0.5) * cell.y - 0.5 * deck.size_mm.y};
                const Vec3 at{deck.centre_mm + own.x * deck.length_axis + own.y * side, z};
                spring.a = result_.platen.nearest(Vec2{at});
                spring.b = result_.head.nearest(Vec2{at});
                spring.arm_a_mm = at - result_.frame.nodes[spring.a].at_mm;
                spring.arm_b_mm = at - result_.frame.nodes[spring.b].at_mm;
                result_.contacts.push_back(
                    {result_.frame.springs.size(), FrameContact::On::deck, 0, true, cell.x * cell.y, at});
                result_.frame.springs.push_back(spring);
            }
        }
    }

    static double half_gives(const MoldHalf& half) {
        const Material* known = find_material({}, half.material);
        const double E = known != nullptr ? known->E_across_MPa : kPrintedHalf_MPa;
        const Box box = bounds_of(*half.mesh);
        const double plan = box.size_mm().x * box.size_mm().y;
        return plan > 0 ? std::abs(signed_volume_mm3(*half.mesh)) / plan / E : 0;
    }

    static double bed_MPa_per_mm(const Mold& mold) {
        double gives = half_gives(mold.lower) + half_gives(mold.upper);
        for (const Ply& ply : mold.stack.plies) {
            const Material* wood = find_material({}, ply.species);
            gives += ply.thickness_mm / (wood != nullptr ? wood->E_across_MPa : kStackAcross_MPa);
        }
        return 1 / std::max(gives, 1e-6);
    }

    void add_jack(const JackForce& force) {
        const Jack& jack = press_.jacks[force.jack];
        // On the four nodes around the head, so that the force acts where the head stands.
        const PlateGrid& grid = result_.platen;
        const Vec2 in_cells = (Vec2{jack.foot_mm} - grid.low_mm) / grid.cell_mm;
        const int i = std::clamp(static_cast<int>(std::floor(in_cells.x)), 0, grid.along - 1);
        const int j = std::clamp(static_cast<int>(std::floor(in_cells.y)), 0, grid.across - 1);
        const Vec2 share = in_cells - Vec2{i, j};
        for (const int dj : {0, 1}) {
            for (const int di : {0, 1}) {
                const double part = (di == 0 ? 1 - share.x : share.x) * (dj == 0 ? 1 - share.y : share.y);
                const auto node = static_cast<std::size_t>((j + dj) * (grid.along + 1) + i + di);
                result_.jack_actions.push_back({grid.nodes[node], {{0, 0, part * force.force_N}, Vec3{0.0}}});
            }
        }
        if (feet_[force.jack] == kNone) {
            if (jack.foot_mm.z > kJointGap_mm) {
                result_.foot_on_air.push_back(jack.name);
            }
            return;
        }
        const std::size_t node = node_at(feet_[force.jack], jack.foot_mm);
        const Vec3 down{0, 0, -force.force_N};
        result_.jack_actions.push_back(
            {node, {down, glm::cross(jack.foot_mm - result_.frame.nodes[node].at_mm, down)}});
    }

    /// Members that hang together with nothing that stands on the floor, and the head with them or not.
    void name_the_loose() {
        const std::size_t count = press_.members.size();
        std::vector<std::size_t> group(count + 1);
        std::iota(group.begin(), group.end(), 0U);
        const auto root = [&](std::size_t i) {
            while (group[i] != i) {
                i = group[i] = group[group[i]];
            }
            return i;
        };
        const auto index = [&](std::size_t member) { return member == FoundJoint::kHead ? count : member; };
        for (const FoundJoint& joint : joints_.found) {
            group[root(index(joint.first))] = root(index(joint.second));
        }
        std::vector<bool> stands(count + 1, false);
        for (const FrameContact& contact : result_.contacts) {
            if (contact.on != FrameContact::On::floor) {
                continue;
            }
            for (std::size_t i = 0; i < count; ++i) {
                const std::vector<std::size_t>& nodes = result_.members[i].nodes;
                if (std::find(nodes.begin(), nodes.end(), result_.frame.springs[contact.spring].a) != nodes.end()) {
                    stands[root(i)] = true;
                }
            }
        }
        for (std::size_t i = 0; i <= count; ++i) {
            if (stands[root(i)]) {
                continue;
            }
            // What hangs on nothing is held by next to nothing, so that the rest can be solved.
            const std::vector<std::size_t>& nodes = i == count ? result_.head.nodes : result_.members[i].nodes;
            for (const std::size_t node : nodes) {
                FrameSpring spring;
                spring.a = node;
                spring.stiffness = {1, 1, 1, 1e4, 1e4, 1e4};
                result_.frame.springs.push_back(spring);
            }
            if (i < count && !nodes.empty()) {
                result_.afloat.push_back(press_.members[i].name);
            }
        }
        result_.head_held = result_.head_held && stands[root(count)];
    }

    const Setup& setup_;
    const Press& press_;
    const Joints& joints_;
    const Stiffening& stiffening_;
    std::vector<std::vector<double>> stations_;
    std::vector<std::size_t> feet_; // member under each jack
    PressFrame result_;
};

} // namespace

std::size_t PlateGrid::nearest(Vec2 at_mm) const {
    const Vec2 in_cells = (at_mm - low_mm) / cell_mm;
    const int i = std::clamp(static_cast<int>(std::lround(in_cells.x)), 0, along);
    const int j = std::clamp(static_cast<int>(std::lround(in_cells.y)), 0, across);
    return nodes[static_cast<std::size_t>(j * (along + 1) + i)];
}

double PlateGrid::rise_mm(const FrameState& state, Vec2 at_mm) const {
    const Vec2 in_cells = glm::clamp((at_mm - low_mm) / cell_mm, Vec2{0.0}, Vec2{along, across});
    const int i = std::min(static_cast<int>(in_cells.x), along - 1);
    const int j = std::min(static_cast<int>(in_cells.y), across - 1);
    const Vec2 t = in_cells - Vec2{i, j};
    const auto z = [&](int di, int dj) {
        return state.motions[nodes[static_cast<std::size_t>((j + dj) * (along + 1) + i + di)]].move_mm.z;
    };
    return (1 - t.y) * ((1 - t.x) * z(0, 0) + t.x * z(1, 0)) + t.y * ((1 - t.x) * z(0, 1) + t.x * z(1, 1));
}

PressFrame press_frame(const Setup& setup, const Joints& joints, const std::vector<JackForce>& forces,
                       const Stiffening& stiffening) {
    return Builder(setup, joints, stiffening).take(forces);
}

StoodFrame stand(PressFrame model, const std::vector<bool>& start) {
    // A linear problem a round; presses settle within ten (tried on the demo), and a loop must end.
    constexpr int kMostRounds = 30;
    // What stands open keeps this share of its stiffness, so that nothing falls.
    constexpr double kOpenShare = 1e-6;
    StoodFrame stood;
    stood.open = start.size() == model.contacts.size() ? start : std::vector<bool>(model.contacts.size(), false);
    const SpaceFrame whole = model.frame;
    LoadCase load;
    load.actions = model.jack_actions;
    for (stood.rounds = 1; stood.rounds <= kMostRounds; ++stood.rounds) {
        for (std::size_t c = 0; c < model.contacts.size(); ++c) {
            const std::size_t s = model.contacts[c].spring;
            for (std::size_t d = 0; d < 6; ++d) {
                model.frame.springs[s].stiffness[d] =
                    whole.springs[s].stiffness[d] * (stood.open[c] ? kOpenShare : 1.0);
            }
        }
        FrameSolution solution = solve(model.frame, {load});
        stood.state = std::move(solution.states.front());
        stood.mechanisms.clear();
        std::copy_if(solution.mechanisms.begin(), solution.mechanisms.end(), std::back_inserter(stood.mechanisms),
                     [](const Mechanism& mechanism) { return mechanism.loaded; });
        bool changed = false;
        for (std::size_t c = 0; c < model.contacts.size(); ++c) {
            const bool pulls = stood.state.spring_forces[model.contacts[c].spring][0] > 0;
            if (model.contacts[c].pushes_only && pulls != stood.open[c]) {
                stood.open[c] = pulls;
                changed = true;
            }
        }
        if (!changed) {
            stood.settled = true;
            break;
        }
    }
    stood.model = std::move(model);
    return stood;
}

} // namespace evenclose
