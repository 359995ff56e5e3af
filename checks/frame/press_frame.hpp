// checks/frame/press_frame.hpp: the press as drawn, made into a space frame, and how it stands under the closing force.
//
// Members: Timoshenko beams on their axes. Head and platen: shells at mid-thickness. Joints (joints.hpp): springs at the
// ends of rigid arms; timber gives there as it is crushed across its grain over half its depth, by the contact area as
// drawn (no spreading: on the soft side). Floor: pushes only. Mold and stack: a bed of springs over the deck between
// platen and head that pushes only, as stiff as stack and halves are thick (Winkler's foundation); so the force goes where
// head and platen give least, and the pressure over the deck settles with their bending. Jacks: their forces, up against
// the platen and down on whatever their feet stand on. Self-weight counts.
//
// What pushes only is found by trying: solve, open what would pull, close what would overlap, until nothing changes.
//
// Not covered: play in joints, preload of tie rods, buckling, the guides' help, the mold's own bending.
#pragma once

#include "checks/deck.hpp"
#include "checks/frame/joints.hpp"
#include "checks/frame/solve.hpp"
#include "scene/materials/material.hpp"
#include "scene/sections/section_properties.hpp"
#include "scene/setup/setup.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

/// Stiffness of a printed half along the stroke, MPa: solid plastic has some 2000, a fifth of fill some 300 (common
/// practice, no source; shells and infill pattern change it twofold).
inline constexpr double kPrintedHalf_MPa = 300;
/// Of veneer across its grain where the species is not known (birch: 0.050 to 0.078 of 13 900 MPa, Wood Handbook).
inline constexpr double kStackAcross_MPa = 700;

/// What is tried: a second one beside each member doubles it, a thicker plate.
struct Stiffening {
    std::vector<double> member; // factor on all stiffnesses; empty: 1 for all
    double head_thickness = 1, platen_thickness = 1;
};

struct FrameMember {
    std::vector<double> at_mm;      // of its nodes, along its axis from A
    std::vector<std::size_t> nodes; // into SpaceFrame::nodes; empty: not in the frame
    std::vector<std::size_t> beams; // between them
    std::optional<SectionProperties> section;
    const Material* material = nullptr; // a stand-in where it is not known
    bool material_known = false;
    double principal_rad = 0; // from the section's u to the beam's y axis
};

struct PlateGrid {
    Vec2 low_mm{0.0}, cell_mm{0.0};
    int along = 0, across = 0; // cells
    double z_mm = 0;           // of its mid-plane
    std::vector<std::size_t> nodes;
    std::size_t first_plate = 0;
    double thickness_mm = 0;
    const Material* material = nullptr;
    bool material_known = false;

    [[nodiscard]] std::size_t nearest(Vec2 at_mm) const; // node
    /// Height by which it moves at a place in plan, between its nodes; held to its edge.
    [[nodiscard]] double rise_mm(const FrameState& state, Vec2 at_mm) const;
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

struct StoodFrame {
    PressFrame model;
    FrameState state;
    std::vector<Mechanism> mechanisms; // loaded ones
    std::vector<bool> open;            // of each contact
    bool settled = false;
    int rounds = 0;
};

/// `start`: which contacts to take as open first (of a frame alike); may be empty.   Threads: pure, any.
[[nodiscard]] StoodFrame stand(PressFrame model, const std::vector<bool>& start = {});

} // namespace evenclose
