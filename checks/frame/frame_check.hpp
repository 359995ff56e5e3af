// checks/frame/frame_check.hpp: `frame`: does the press as drawn bear its own closing force, and what does its bending cost
// over the deck?
//
// The frame is made from the press document (press_frame.hpp) and loaded with the force of the `pressure` check. Told are
// the part that is nearest to its limit, the force at which it would be there (by solving again) and what comes next; how much the closed cavity opens or
// narrows over the deck because head and platen bend, and which parts cost most of it (by making each stiff and solving
// again); and what would lower it, by trying a second member beside, or a thicker plate.
//
// A planning estimate: sound timber, full-size welds, joints as they were told. No certificate.
#pragma once

#include "checks/cavity/gap_map.hpp"
#include "checks/finding.hpp"
#include "checks/frame/hints.hpp"
#include "checks/frame/utilisation.hpp"
#include "checks/pressure/pressure.hpp"
#include "scene/motion/assembly.hpp"

#include <optional>
#include <string>
#include <vector>

namespace evenclose {

/// A patch of the deck, under bent platens.
struct DeckPatch {
    Vec2 at_mm{0.0}; // world
    double area_mm2 = 0;
    double head_mm = 0, platen_mm = 0; // how far they rise there
    double pressure_MPa = 0;
    [[nodiscard]] double opens_mm() const { return head_mm - platen_mm; }
};

/// Where the pressure of all patches together acts, world X, Y. Needs: one that is pressed.
[[nodiscard]] Vec2 middle_of_pressure_mm(const std::vector<DeckPatch>& deck);

struct BendCost {
    std::vector<std::string> parts; // alike and alike placed: "front head beam", "back head beam"
    double mm = 0;                  // of the spread over the deck, that is gone when they are stiff
};

struct Remedy {
    std::string what;             // "a second 60 x 120 tube beside front head beam and back head beam"
    double before = 0, after = 0; // mm over the deck, or utilisation
    double middle_mm = 0;         // after; as FrameMeasure::middle_mm
};

/// What is at its limit at which force on the deck.
struct ReachedLimit {
    std::string what, by; // "front left post", "bending"; "left jack", "its rated load"
    double force_N = 0;
};

/// A part without a known material, and what it was taken for.
struct StandIn {
    std::string part, word, taken;
};

struct FrameMeasure {
    std::string not_computed; // why there is no frame: then only `joints` and the names below count
    Joints joints;
    StoodFrame stood;
    double force_N = 0;           // on the deck
    std::vector<JackForce> jacks; // that bring it, weights counted
    std::vector<PartUse> uses;
    std::vector<DeckPatch> deck;
    double spread_mm = 0; // the most that the cavity opens at one place beyond another
    double middle_mm = 0; // at the deck's middle beyond its ends (> 0: the middle opens)
    Slope tilt;           // of the opening over the deck, by least squares
    double least_MPa = 0, greatest_MPa = 0;
    double starved_share = 0;                  // of the deck, pressed with less than half of the mean
    double head_sag_mm = 0, platen_sag_mm = 0; // of the spread: what each bends over the deck
    std::vector<BendCost> costs;
    std::vector<Remedy> stiffer;    // for the bending: what is tried on the two that cost most, in turn
    std::optional<Remedy> stronger; // for the utilisation, where that is above 1
    std::vector<StandIn> stand_ins;
    double breaks_at_N = 0; // force on the deck at which the first part of the frame is at its limit; 0: unknown
    std::vector<ReachedLimit> limits; // all, parts and jacks, in turn
    std::vector<FrameHint> hints;

    [[nodiscard]] bool computed() const { return not_computed.empty(); }
    /// Something moves or flies off under the closing force: then it is not computed.
    [[nodiscard]] bool mechanism() const { return !stood.mechanisms.empty() || !stood.let_go.empty(); }
    /// The worst part whose material is known; null if none is.
    [[nodiscard]] const PartUse* worst() const;
};

/// Needs: a set-up with everything loaded, its assembly.   Threads: pure, any.
[[nodiscard]] FrameMeasure measure_frame(const Setup& setup, const Assembly& assembly, const PressureMeasure& pressure);

/// How the bent halves stand against a rigid press that closes as far on the whole, in the mold frame.
[[nodiscard]] DisplacementField lower_bent(const FrameMeasure& measure, const Setup& setup);
[[nodiscard]] DisplacementField upper_bent(const FrameMeasure& measure, const Setup& setup);

/// Strength: go up to 90 % of what is allowed, marginal up to all of it, no-go beyond. Bending: go within the cavity's
/// tolerance over the deck, marginal up to twice that, no-go beyond. Pressure under bent platens: go where less than 2 %
/// of the deck gets less than half the mean, else marginal. What was left out, taken, or told but not there: each by name.
[[nodiscard]] std::vector<Finding> judge(const FrameMeasure& measure, const Setup& setup, const Assembly& assembly);

/// A finding of the `level` check: what unequal bending tilts head against platen over the deck.
[[nodiscard]] Finding judge_level(const FrameMeasure& measure, const Setup& setup, const Assembly& assembly);

} // namespace evenclose
