// checks/frame/frame_member.hpp: a member of the press as Timoshenko beams on its axis, between the places where something
// meets it.
//
// Its stiffness is the transformed section's (scene/sections/composite.hpp): a plain member is a single part. Where a
// neighbour presses a built-up member, the material of its largest part counts.
#pragma once

#include "checks/frame/solve.hpp"
#include "scene/materials/material.hpp"
#include "scene/press/press.hpp"
#include "scene/sections/composite.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace evenclose {

struct FrameMemberPart {
    Material material; // a stand-in where it is not known
    std::string word;  // as the document has it
    bool known = false;
};

struct FrameMember {
    std::vector<double> at_mm;          // of its nodes, along its axis from A
    std::vector<std::size_t> nodes;     // into SpaceFrame::nodes; empty: not in the frame
    std::vector<std::size_t> beams;     // between them
    std::vector<FrameMemberPart> parts; // of its section, as parts_of; none: a mesh
    CompositeSection whole;             // of those parts
    std::size_t main = 0;               // the largest of them
    double principal_rad = 0;           // from the section's u to the beam's y axis

    [[nodiscard]] const Material& material() const { return parts[main].material; } // Needs: a part
    [[nodiscard]] bool known() const;                                               // of every part
    [[nodiscard]] bool built_up() const { return parts.size() > 1; }
};

/// Materials and section, not yet in a frame.
/// Faults: std::invalid_argument with what does not fit in a section.   Threads: pure, any.
[[nodiscard]] FrameMember frame_member(const Member& member, const std::vector<Material>& own);

/// Beams between `stations_mm` along its axis (A and B among them), `stiffening` times as stiff.
/// Needs: a part.
void add_beams(SpaceFrame& frame, FrameMember& part, const Member& member, std::vector<double> stations_mm,
               double stiffening);

} // namespace evenclose
