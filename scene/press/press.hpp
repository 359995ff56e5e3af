// scene/press/press.hpp: what the shop built: frame members, head, platen, jacks and their drives,
// guides. Plain data, mm and N.
//
// The world stands on the floor (z = 0), its origin below the middle of the press, X along the deck, the operator at -Y.
// A press is drawn open: travel 0, jacks at their parked height.
#pragma once

#include "scene/materials/material.hpp"
#include "scene/mesh/triangle_mesh.hpp"
#include "scene/press/drive.hpp"
#include "scene/press/jack.hpp"
#include "scene/vec.hpp"

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace evenclose {

// Sections, seen along the member from A to B: `width_mm` runs along the section's own u axis, `depth_mm` along v.
// With roll 0, v points as far up (+Z) as the member's axis lets it, for a vertical member v points to +Y; u completes
// the right-handed frame (u, v, axis). A positive roll turns the section about the axis, A towards B, right-handed.

struct TimberSection {
    double width_mm = 0, depth_mm = 0;
};
/// Angle (L): legs along u (width) and v (depth), heel at the section's -u -v corner, on the axis' box corner; the
/// axis runs through the middle of the box width x depth. Root and toe radius as rolled (EN 10056-1: toe = root / 2);
/// 0 = square corners.
struct AngleSection {
    double width_mm = 0, depth_mm = 0, thickness_mm = 0, root_radius_mm = 0, toe_radius_mm = 0;
};
/// Rectangular hollow section; `corner_radius_mm` is the outer one, 0 = sharp.
struct TubeSection {
    double width_mm = 0, depth_mm = 0, wall_mm = 0, corner_radius_mm = 0;
};
struct PipeSection {
    double outside_diameter_mm = 0, wall_mm = 0;
}; // wall = diameter / 2: a solid rod or bolt
struct PlateSection {
    double width_mm = 0, thickness_mm = 0;
}; // thickness along v
struct MeshSection {
    std::string file;
    std::optional<std::string> unit;
    SharedMesh mesh;
}; // placed with its own origin at A, X Y Z kept, turned by roll about Z

struct BuiltUpPart;
/// Several parts that run the whole length together: a flitch beam, doubled timbers. Their boxes touch, none overlap.
struct BuiltUpSection {
    std::vector<BuiltUpPart> parts;
};

using Section =
    std::variant<TimberSection, AngleSection, TubeSection, PipeSection, PlateSection, MeshSection, BuiltUpSection>;

struct BuiltUpPart {
    Section section;           // neither a mesh nor built up
    Vec2 at_mm{0.0};           // middle of its box, from the middle of the whole's box (the member's axis)
    std::string material = {}; // empty: the member's own
};

struct Member {
    std::string name;
    Vec3 a_mm{0.0}, b_mm{0.0};
    Section section;
    double roll_rad = 0;
    std::string material; // a shop's word ("pine", "S235"); Press::materials and the table know it, or nobody
};

/// Head (fixed) or platen (moving): a plate with level faces, or a mesh in its stead.
struct Platen {
    Vec2 centre_mm{0.0}; // world X, Y
    Vec2 size_mm{0.0};   // X along the deck, Y front to back
    double thickness_mm = 0;
    std::string material;
    std::string mesh_file; // optional; origin = middle of the working face, Z up
    std::optional<std::string> mesh_unit;
    SharedMesh mesh;
    std::optional<double> mass_kg = std::nullopt;
};

/// A fixed round post and a sleeve on the platen that slides on it.
struct Guide {
    std::string name;
    Vec2 at_mm{0.0};
    double post_diameter_mm = 0, bore_diameter_mm = 0, sleeve_outside_diameter_mm = 0;
    double length_mm = 0;           // of the sleeve: the guide length
    double sleeve_below_top_mm = 0; // top of the sleeve below the platen's working face (negative: above)
    double post_from_z_mm = 0, post_to_z_mm = 0;
    std::optional<double> friction = std::nullopt; // of the sleeve on its post
};

enum class JointKind {
    welded,  // or glued: holds every way
    bolted,  // holds every way, gives a little as the timber under it is crushed
    bearing, // one stands on the other: it pushes, and rubs while it does
    none,    // they only pass each other
};
[[nodiscard]] const char* name_of(JointKind kind); // "welded", "bolted", "bearing", "none"

/// Bolts of one joint, or of each of its spots where members lie along each other.
struct Bolts {
    int count = 1;
    double diameter_mm = 0;
    std::string grade; // "8.8": a material's word
};

/// How two members that touch hold each other, where the document says so. A member's name, or "head".
struct Joint {
    std::string first, second;
    JointKind kind = JointKind::bolted;
    std::optional<Bolts> bolts = std::nullopt;
};

/// A side of the press: -Y (where the operator stands), +Y, -X, +X.
enum class PressSide { front, back, left, right };

struct Press {
    std::string name;
    std::string file;                // where it was read from; empty if made in memory
    std::vector<Material> materials; // the shop's own
    std::vector<Member> members;
    Platen head;
    double head_underside_z_mm = 0;
    Platen platen;
    std::vector<Jack> jacks; // two or more
    std::vector<Guide> guides;
    std::vector<Joint>
        joints; // where members touch and nothing is said, their materials tell: see checks/frame/joints.hpp
    std::vector<Drive> drives; // none: each jack keeps pace with the others but for its rate
    std::vector<ShaftLink> link_shafts;
    std::optional<MeasuredHeights> measured_heights;
    std::optional<PressSide> load_from; // where a mold comes in
    std::vector<double> rests_z_mm{};   // where intermediate platens' undersides rest, from the bottom up
};

} // namespace evenclose
