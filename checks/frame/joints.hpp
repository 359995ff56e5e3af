// checks/frame/joints.hpp: where the members of a press as drawn touch, and how they hold each other there.
//
// Every member is a box along its axis (width and depth of its section); head and platen are boxes too. Two boxes that
// touch or run into each other, by the separating axis test (S. Gottschalk et al., OBBTree, 1996), are joined: at the
// middle of the face they share, or, where one passes through the other, where their axes come nearest. Members that lie
// along each other are joined at several spots. Nothing is moved: beams keep their axes, rigid arms reach the joint.
//
// What a joint is goes by the press' `joints`, else by material: metal on metal welded, all else bolted; rods have nuts.
#pragma once

#include "scene/press/press.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

// Drawn and sawn sizes differ by more than this; a true gap is wider (common practice, no source).
inline constexpr double kJointGap_mm = 1.5;

/// Columns of `axes` are the box's own directions; the third runs along a member.
struct MemberBox {
    Vec3 centre_mm{0.0};
    Mat3 axes{1.0};
    Vec3 half_mm{0.0};
};
/// Gives: nothing for a mesh, which has no section.
[[nodiscard]] std::optional<MemberBox> box_of(const Member& member);
[[nodiscard]] MemberBox head_box(const Press& press);

struct BoxContact {
    double gap_mm = 0; // below 0: how deep they run into each other
    Vec3 normal{0.0};  // of the face they share, from a to b
};
[[nodiscard]] BoxContact contact_of(const MemberBox& a, const MemberBox& b);

struct FoundJoint {
    static constexpr std::size_t kHead = static_cast<std::size_t>(-1);
    std::size_t first = 0, second = 0; // into Press::members, or kHead
    JointKind kind = JointKind::bolted;
    bool stated = false;        // by the document
    std::optional<Bolts> bolts; // as the document tells
    bool through = false;       // one passes through the other
    bool rod = false;           // and it is a rod, held by its nuts
    Vec3 normal{0.0};           // from first to second; of a rod: along it
    Vec3 along_patch{0.0};      // one side of the face they share
    Vec2 patch_mm{0.0};         // the face they share: along `along_patch`, and across; of one spot
    std::vector<Vec3> spots_mm; // world
};

struct Joints {
    std::vector<FoundJoint> found;
    std::vector<std::string> apart; // stated in the document, but nothing meets there: a sentence each
};

/// Needs: a press as read.   Threads: pure, any.
[[nodiscard]] Joints joints_of(const Press& press);

/// A member's name, or "head".
[[nodiscard]] std::string joined_name(const Press& press, std::size_t member);
/// By its word; of a member: all its parts. What is not known is none.
[[nodiscard]] bool is_metal(const Press& press, const std::string& material);
[[nodiscard]] bool is_metal(const Press& press, const Member& member);
[[nodiscard]] bool is_rod(const Section& section);

} // namespace evenclose
