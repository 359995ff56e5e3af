#include "checks/frame/press_frame.hpp"

#include "checks/frame/joint_spring.hpp"
#include "checks/frame/mold_bed.hpp"
#include "checks/pressure/deck_cells.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace evenclose {
namespace {

constexpr std::size_t kNone = static_cast<std::size_t>(-1);

class Builder {
public:
    Builder(const Setup& setup, const Joints& joints, const Stiffening& stiffening)
        : setup_(setup), press_(*setup.press), joints_(joints), stiffening_(stiffening),
          stations_(press_.members.size()) {}

    PressFrame take(const std::vector<JackForce>& forces) {
        place_stations();
        for (std::size_t i = 0; i < press_.members.size(); ++i) {
            FrameMember& part = result_.members.emplace_back(frame_member(press_.members[i], press_.materials));
            if (!stations_[i].empty()) {
                add_beams(result_.frame, part, press_.members[i], stations_[i],
                          stiffening_.member.empty() ? 1.0 : stiffening_.member[i]);
            }
        }
        const double head_t = press_.head.thickness_mm;
        result_.head = add_plate(result_.frame, press_.head, press_.head_underside_z_mm + 0.5 * head_t,
                                 stiffening_.head_thickness, press_.materials);
        const double shut = setup_.openings.front().mold->closed_shut_height_mm();
        result_.platen = add_plate(result_.frame, press_.platen,
                                   press_.head_underside_z_mm - shut - 0.5 * press_.platen.thickness_mm,
                                   stiffening_.platen_thickness, press_.materials);
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

    JointSide side_of(std::size_t member) const {
        return member == FoundJoint::kHead
                   ? JointSide{head_box(press_), result_.head.material, true}
                   : JointSide{*box_of(press_.members[member]), result_.members[member].material()};
    }

    void add_joint(std::size_t j) {
        const FoundJoint& joint = joints_.found[j];
        if (joint.first == FoundJoint::kHead || joint.second == FoundJoint::kHead) {
            result_.head_held = true;
        }
        const double area = bearing_mm2(joint);
        FrameSpring spring = joint_spring(joint, side_of(joint.first), side_of(joint.second));
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
        const double per_area = bed_MPa_per_mm(mold, press_.materials);
        const int along = std::clamp(static_cast<int>(std::lround(deck.size_mm.x / 30)), 6, 40);
        const int across = std::clamp(static_cast<int>(std::lround(deck.size_mm.y / 30)), 4, 16);
        const double z = 0.5 * (result_.head.z_mm + result_.platen.z_mm);
        FrameSpring spring;
        spring.axes = Mat3{Vec3{0, 0, 1}, Vec3{1, 0, 0}, Vec3{0, 1, 0}}; // from platen to head
        for (const FootprintCell& cell : deck_cells(deck, along, across)) {
            const Vec3 at{deck.world_mm(cell.at_mm), z};
            spring.stiffness = {per_area * cell.area_mm2, 0, 0, 0, 0, 0};
            spring.a = result_.platen.nearest(Vec2{at});
            spring.b = result_.head.nearest(Vec2{at});
            spring.arm_a_mm = at - result_.frame.nodes[spring.a].at_mm;
            spring.arm_b_mm = at - result_.frame.nodes[spring.b].at_mm;
            result_.contacts.push_back(
                {result_.frame.springs.size(), FrameContact::On::deck, 0, true, cell.area_mm2, at});
            result_.frame.springs.push_back(spring);
        }
    }

    void add_jack(const JackForce& force) {
        const Jack& jack = press_.jacks[force.jack];
        // On the four nodes around the head, so that the force acts where the head stands.
        for (const PlateGrid::Share& share : result_.platen.around(Vec2{jack.foot_mm})) {
            result_.jack_actions.push_back({share.node, {{0, 0, share.part * force.force_N}, Vec3{0.0}}});
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

PressFrame press_frame(const Setup& setup, const Joints& joints, const std::vector<JackForce>& forces,
                       const Stiffening& stiffening) {
    return Builder(setup, joints, stiffening).take(forces);
}

} // namespace evenclose
