// checks/frame/press_frame.hpp: the press as drawn, made into a space frame, and how it stands under the closing force.
//
// Members: Timoshenko beams on their axes (frame_member.hpp). Head and platen: shells (plate_grid.hpp). Joints (joints.hpp):
// springs at the ends of rigid arms (joint_spring.hpp). Floor: pushes only. Mold and stack: a bed of springs over the deck
// as it is outlined, between platen and head, that pushes only (mold_bed.hpp); so the force goes where head and platen give
// least, and the pressure over the deck settles with their bending. Jacks: their forces, up against the platen and down on
// whatever their feet stand on. Self-weight counts. stand.hpp finds how it stands.
//
// Not covered: play in joints, preload of tie rods, buckling, the guides' help, the mold's own bending.
#pragma once

#include "checks/frame/frame_member.hpp"
#include "checks/frame/joints.hpp"
#include "checks/frame/plate_grid.hpp"
#include "checks/frame/solve.hpp"
#include "scene/setup/setup.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace evenclose {

/// What is tried: a second one beside each member doubles it, a thicker plate.
struct Stiffening {
    std::vector<double> member; // factor on all stiffnesses; empty: 1 for all
    double head_thickness = 1, platen_thickness = 1;
};

/// A spring that stands for a joint, a spot of floor or a patch of deck.
struct FrameContact {
    enum class On { joint, floor, deck };
    std::size_t spring = 0;
    On on = On::joint;
    std::size_t joint = 0; // into Joints::found
    bool pushes_only = false;
    double area_mm2 = 0;
    Vec3 at_mm{0.0};
};

struct PressFrame {
    SpaceFrame frame;
    std::vector<FrameMember> members; // as Press::members
    PlateGrid head, platen;
    std::vector<FrameContact> contacts;
    std::vector<NodeAction> jack_actions;
    std::vector<std::string> afloat;      // members that hang together with nothing that stands
    std::vector<std::string> meshes;      // members drawn as meshes, which have no section
    std::vector<std::string> foot_on_air; // jacks whose foot stands on nothing drawn (and not on the floor)
    bool head_held = false, stands = false;
};

struct JackForce {
    std::size_t jack = 0;
    double force_N = 0;
};

/// Needs: a set-up with everything loaded; joints of its press.
[[nodiscard]] PressFrame press_frame(const Setup& setup, const Joints& joints, const std::vector<JackForce>& forces,
                                     const Stiffening& stiffening);

} // namespace evenclose
