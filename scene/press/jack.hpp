// scene/press/jack.hpp: the jacks that lift a platen, of whichever kind. Plain data, mm, N, rad.
//
// What all kinds share stands in Jack: where it stands, how high it is and how far it goes. What sets them apart is its
// kind; the law of each, height over turns or volume, is scene/jacks/height_law.hpp.
#pragma once

#include "scene/jacks/height_law.hpp"
#include "scene/vec.hpp"

#include <optional>
#include <string>
#include <variant>

namespace evenclose {

enum class ThreadForm { square, trapezoidal, acme }; // flanks at 0, 15 (ISO 2904) and 14.5 degrees

/// The screw of a jack. What is not given is not made up: without `friction` no torque is told, nor whether it holds.
struct JackThread {
    double lead_mm = 0; // rise of the nut a turn: starts times pitch
    int starts = 1;
    ThreadForm form = ThreadForm::trapezoidal;
    std::optional<double> friction = std::nullopt;
    double collar_friction = 0; // 0: a rolling thrust bearing
    double collar_diameter_mm = 0;
};

struct ScrewJack {
    JackThread thread;
    double body_diameter_mm = 0, screw_diameter_mm = 0, head_diameter_mm = 0, head_thickness_mm = 0;
};

/// Four equal links in a rhombus with the screw along the level diagonal (as a car is lifted by), or crossed stages one
/// atop the other with the screw along the base.
struct ScissorJack {
    int stages = 0;                 // crossed stages; 0: a rhombus
    double arm_mm = 0;              // each link, pin to pin
    bool both_ends_threaded = true; // rhombus: right- and left-hand thread; else one nut, and a collar at the other end
    double base_height_mm = 0;      // foot to the lowest pin
    double head_height_mm = 0;      // highest pin to the head
    double direction_rad = 0;       // about Z: which way the screw lies; 0 = along X
    JackThread thread;
    double screw_diameter_mm = 0;
    double link_width_mm = 0;                  // of a link, as seen from the side
    double link_depth_mm = 0;                  // of the pair of links, across
    Vec2 foot_size_mm{0.0}, head_size_mm{0.0}; // along the screw, and across

    [[nodiscard]] bool rhombus() const { return stages == 0; }
};

struct CylinderJack {
    Cylinder cylinder;
    double body_diameter_mm = 0;
    double head_diameter_mm = 0, head_thickness_mm = 0;
};

/// A hose that lies flat under the platen; its axis level. Closed height: foot to platen when let off.
struct HoseJack {
    InflatableHose hose;
    double direction_rad = 0; // about Z: which way the hose lies; 0 = along X
};

using JackKind = std::variant<ScrewJack, ScissorJack, CylinderJack, HoseJack>;

/// A jack that stands on `foot_mm` and lifts the platen's underside with its head.
struct Jack {
    std::string name;
    Vec3 foot_mm{0.0};           // middle of its foot
    double closed_height_mm = 0; // foot to head at its lowest
    double parked_mm = 0;        // how far it stands out at travel 0
    double stroke_mm = 0;        // how far it can rise in all, from closed height
    double rated_load_N = 0;
    std::optional<double> moving_mass_kg = std::nullopt; // of what rises with its head
    double rate = 1.0;           // without a drive: turns this much for each turn of the others; 0.99 = 1 % slow
    double rate_tolerance = 0.0; // without a drive: and may be off by this fraction either way: 0.01 = 1 %
    JackKind kind;

    /// Height of the head above the floor when the jack stands out by so much.
    [[nodiscard]] double head_z_mm(double out_mm) const { return foot_mm.z + closed_height_mm + out_mm; }
};

[[nodiscard]] const char* name_of(const JackKind& kind); // "screw", "scissor", "cylinder", "hose"

// Threads: pure, any.

/// How the jack answers its drive; the rise counts from its closed height. A thread without friction is taken without
/// loss: ask knows_effort first.
/// Needs: fault_of(jack) is empty.
[[nodiscard]] HeightLaw law_of(const Jack& jack);

/// Torque, efficiency and holding can be told: a thread's friction is given, or there is none.
[[nodiscard]] bool knows_effort(const Jack& jack);

/// Why the jack cannot be built as told, in a few words; empty if it can: links too short for the height, a hose lower
/// than flat, a stroke beyond what the linkage reaches.
[[nodiscard]] std::string fault_of(const Jack& jack);

/// Least width of what bears on the platen: of a head, or of a hose at its flattest.
[[nodiscard]] double head_width_mm(const Jack& jack);

/// Lowest to highest pin when the jack stands out by so much.
[[nodiscard]] double linkage_height_mm(const Jack& jack, const ScissorJack& scissor, double out_mm);

/// Rhombus: span between the side pins; stages: base between the lowest feet, mm, when the jack stands out by so much.
[[nodiscard]] double spread_mm(const Jack& jack, const ScissorJack& scissor, double out_mm);

} // namespace evenclose
