// checks/frame/joint_spring.hpp: how stiffly two members hold each other where they touch.
//
// Welded: stiff every way. Bolted or bearing: timber gives as it is crushed across its grain over half its depth, by the
// contact area as drawn (no spreading: on the soft side); sideways, as bolts slip in timber.
#pragma once

#include "checks/frame/joints.hpp"
#include "checks/frame/space_frame.hpp"
#include "scene/materials/material.hpp"

namespace evenclose {

/// One side of a joint: its box (of the head: the plate's) and what it is made of.
struct JointSide {
    MemberBox box;
    const Material& material;
    bool plate = false; // the head: crushed over half its thickness, whatever its grain
};

/// The face that one spot of a joint bears on.
[[nodiscard]] double bearing_mm2(const FoundJoint& joint);

/// Stiffness and axes; its nodes and arms are left to be set.   Threads: pure, any.
[[nodiscard]] FrameSpring joint_spring(const FoundJoint& joint, const JointSide& first, const JointSide& second);

} // namespace evenclose
