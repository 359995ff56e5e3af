// checks/pressure/pressure.hpp: `pressure`: is the force over the deck what the glue asks for, and how is it spread?
//
// Force: what the jacks can bear at the closing height without one being overloaded (rated load; where a drive has a
// limit, what that limit raises there), less the weights that rise; or the closing force that the set-up states. Area:
// the deck's plan (its outline where the mold states one), not the mold's; a pressure along the normal of sloping faces adds up to the same force.
// Against it stands what the glue's data sheet asks for; without one, the handbook's band by density, as a hint.
//
// Jacks held level share the force by lever, whatever the deck's place: the deck is then pressed evenly. Jacks driven
// to the same force press at their middle: the map shows what that does to a deck that stands beside it, without
// tension. Rigid platens here; what bending does is the `frame` check's.
#pragma once

#include "checks/deck.hpp"
#include "checks/finding.hpp"
#include "checks/pressure/glue_band.hpp"
#include "checks/pressure/no_tension.hpp"
#include "checks/weights.hpp"
#include "scene/motion/assembly.hpp"

#include <optional>
#include <string>
#include <vector>

namespace evenclose {

struct JackLoad {
    std::string jack;
    Vec2 at_mm{0.0};
    double rated_N = 0;
    double share = 0;  // of the whole, platen held level; below 0: it would have to pull
    double load_N = 0; // at the force of this check
};

/// What keeps the jacks from giving more.
struct ForceLimit {
    std::string by;     // a jack's or a drive's name
    bool drive = false; // a drive's limit and not a rated load
    double total_N = 0; // all jacks together, platen held level
};

struct PressureMeasure {
    DeckPlan deck;
    double area_mm2 = 0;
    MovingWeights weights;
    std::vector<JackLoad> jacks;
    ForceLimit limit;                // the least of all
    double rated_all_N = 0;          // sum of rated loads: what a centred deck could have
    double available_N = 0;          // on the deck, at most
    bool stated = false;             // the set-up states the closing force
    double force_N = 0;              // on the deck: stated, else available
    double mean_MPa = 0;             // force over area
    std::optional<double> asked_MPa; // by the glue's data sheet
    GlueBand band;
    Vec2 eccentricity_mm{0.0};              // of the deck from the jacks' middle, along the deck's length and across
    double kern = 0;                        // kern_use of it; of an outline: likewise, by its own moments of inertia
    std::optional<NoTensionPressure> map;   // in the deck's own axes, jacks driven alike; none: it tips
    double least_MPa = 0, greatest_MPa = 0; // of that map, over the deck

    /// Of several openings: what lies above this one presses it too.
    void bears_more(double weight_N) {
        force_N += weight_N;
        mean_MPa = area_mm2 > 0 ? force_N / area_mm2 : 0;
    }
    /// What the jacks must bear in all so that the deck gets this pressure.
    [[nodiscard]] double total_for_N(double pressure_MPa) const { return pressure_MPa * area_mm2 + weights.all_N(); }
};

/// Needs: a set-up with everything loaded, and its assembly.   Threads: pure, any.
[[nodiscard]] PressureMeasure measure_pressure(const Setup& setup, const Assembly& assembly);

/// Three findings. Glue: go at or above what its sheet asks; marginal down to 90 % of it; no-go below; without a sheet go
/// in the handbook's band, marginal below. Jacks: no-go when a stated force overloads one, or one would have to pull;
/// marginal when the deck's place costs more than a tenth of what they could give. Evenness with jacks driven alike: go
/// within 30 % of the mean, else marginal.
[[nodiscard]] std::vector<Finding> judge(const PressureMeasure& measure, const Setup& setup, const Assembly& assembly);

} // namespace evenclose
