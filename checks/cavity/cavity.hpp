// checks/cavity/cavity.hpp: `cavity`: does the closed mold leave the stack's thickness everywhere, and if not, is a half
// standing wrong, is the press closed too far, or are the faces made wrong?
//
// Measured in the mold frame with the halves at their shut height: the gap along the lower face's normal less the
// pressed stack (gap_map.hpp). A wrong stand and a wrong shut height can be mended in the shop, a wrong shape cannot; so
// the map is evened twice, by travel alone and by moving the upper half (even_out.hpp), and what remains is the shape's.
// Then once more with the platen at every corner of its tilt envelope. Bending of frame and platens is an argument: a
// displacement field for each half. Rigid otherwise; the pressed stack is as thick everywhere as the document says.
#pragma once

#include "checks/cavity/even_out.hpp"
#include "checks/cavity/gap_map.hpp"
#include "checks/cavity/gap_summary.hpp"
#include "checks/cavity/halves_agree.hpp"
#include "checks/finding.hpp"
#include "checks/progress.hpp"
#include "scene/motion/assembly.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

struct CavityRequest {
    double samples_a_mm2 = 0;     // 0: adaptive
    std::vector<Vec2> outline_mm; // of the deck in the mold frame; empty: stated by the mold, else all the halves share
    DisplacementField lower, upper; // in the mold frame, on top of the rigid closing
};

struct CavityMeasure {
    HalvesAgreement halves;
    std::string not_measured; // why there is no map; then only `halves` says something
    std::shared_ptr<const FacingHalves> faces;
    GapMap map;    // mold frame, level platen
    Pose to_world; // mold frame (lower half) to world, at closed
    GapSummary normal, stroke;
    Travel closed, best;         // where it closes, and where it would close most evenly
    Evened by_travel;            // shift Z alone
    Evened by_standing;          // any rigid motion of the upper half
    GapSummary travelled, stood; // of those two
    Slope worst_slope;           // of the tilt envelope at closed, in the world
    GapSummary tilted;           // under that slope
    bool tilts = false;          // the envelope holds more than the level platen
};

/// Needs: a set-up with everything loaded, and its assembly.   Threads: runs on TBB's; `progress` may be cancelled.
[[nodiscard]] CavityMeasure measure_cavity(const Setup& setup, const Assembly& assembly, const CavityRequest& request,
                                           Progress& progress);

/// Halves that disagree: no-go, and nothing else is said. Else one finding for the cavity as made (go: 98 % of the area
/// within `cavity_tolerance`; marginal: within twice that, or a spot beyond three times it; no-go beyond, or where the
/// halves meet without a stack), one for it under tilt, and one for the area that no gap could be measured on.
[[nodiscard]] std::vector<Finding> judge(const CavityMeasure& measure, const Setup& setup, const Assembly& assembly);

/// The same cavity with head and platen bent by the closing force: `lower` and `upper` as in CavityRequest.
/// Judged as the cavity itself; `costs_most`, `cost_mm`: the parts whose bending costs most of it.   Needs: a measure with a map.
[[nodiscard]] GapSummary bent(const CavityMeasure& measure, const DisplacementField& lower,
                              const DisplacementField& upper, double tolerance_mm);
[[nodiscard]] Finding judge_bent(const CavityMeasure& measure, const GapSummary& gaps, double force_N,
                                 const std::vector<std::string>& costs_most, double cost_mm, const Setup& setup,
                                 const Assembly& assembly);

} // namespace evenclose
