// checks/print/print.hpp: `print`: in how many pieces is a half printed, what does it weigh and cost, and does its fill
// bear the pressing?
//
// Pieces: the half's box cut into equal parts by upright planes on X and Y, and level ones where it is too tall, each part
// within the build volume; of the six ways to lay a part on the printer the one with the fewest pieces, as it lies where
// that is no worse. Mass: rho (V_shell + fill (V - V_shell)), V_shell about area times wall (REFERENCE 14.1); the walls
// that the joints add are not in it. Crushing: the closing force of the `pressure` check (stated, else what the jacks can
// give) over the deck's area against the fill's short-time strength (plastic.hpp). Sustained load creeps: a quarter of it is what a print is trusted with (REFERENCE 14).
//
// Not told: supports, time, warping; what the skins over the fill add.
#pragma once

#include "checks/bend/bend.hpp"
#include "checks/finding.hpp"
#include "checks/pressure/pressure.hpp"
#include "checks/print/near_joint.hpp"
#include "checks/print/plastic.hpp"
#include "scene/motion/assembly.hpp"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

/// kg. Needs: volume, area, wall, fill of 0 or more.
[[nodiscard]] double printed_mass_kg(double volume_mm3, double area_mm2, double wall_mm, double fill,
                                     double density_kg_per_m3);

struct PrintedHalf {
    std::string name; // the body's
    Box box;          // mold frame
    const Plastic* plastic = nullptr;
    std::string material; // as written
    bool closed = false;  // only then volume and mass
    double volume_mm3 = 0, area_mm2 = 0, mass_kg = 0;
    std::optional<Pieces> pieces;
    PieceJoints joints_mm;
    int joints_in_deck = 0; // upright ones that cross the deck
    std::optional<NearJoint> near;
    bool bent_hard = false; // the plies use half or more of the radius they are planned with, somewhere
    Vec3 near_at_mm{0.0};   // where the face is bent tightest beside it, world, closed
};

struct PrintMeasure {
    std::vector<PrintedHalf> halves; // that are meshes
    double pressure_MPa = 0;         // the closing force over the deck
    double force_N = 0, deck_mm2 = 0;
    bool stated = false; // the set-up states that force; else it is all that the jacks can give
    Travel closed;
};

/// Needs: a set-up with everything loaded, its assembly, and what `pressure` and `bend` measured of them.
[[nodiscard]] PrintMeasure measure_print(const Setup& setup, const Assembly& assembly, const PressureMeasure& pressure,
                                         const BendMeasure& bend);

/// Pieces and mass are told and are a go, but marginal where a joint runs near the tightest radius of plies
/// that are bent hard; crushing: go up to a quarter of the strength, marginal up to half, no-go beyond.
/// What the mold's "print" leaves out is not checked.
[[nodiscard]] std::vector<Finding> judge(const PrintMeasure& measure, const Setup& setup, const Assembly& assembly);

} // namespace evenclose
