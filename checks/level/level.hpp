// checks/level/level.hpp: `level`: how far the platen tilts over the travel, what that costs at the cavity, and whether
// the guides bind.
//
// The tilt envelope comes from the jacks (scene/motion/level.hpp): unequal heights and rates give the nominal slope,
// rate tolerances the range around it. Drives, shafts and measured heights change the envelope, not this check.
#pragma once

#include "checks/finding.hpp"
#include "scene/motion/assembly.hpp"

#include <string>
#include <vector>

namespace evenclose {

/// The worst slope for one question, and where.
struct WorstSlope {
    Slope slope;
    Travel at;
    double value = 0; // what it was chosen by: mm over the deck, or radians
};

struct GuideTilt {
    std::string guide;
    double allowed_rad = 0; // until the sleeve touches its post at both ends
};

struct LevelMeasure {
    WorstSlope over_deck; // at closed, where it counts for the cavity: mm from one end of the deck to the other
    WorstSlope anywhere;  // greatest tilt over the whole travel, radians
    double nominal_over_deck_mm = 0; // of that, what a shim can cure: the nominal slope at closed
    Slope nominal_at_closed;
    double jack_span_mm = 0;        // between the two jacks that lie farthest apart
    std::string lower_jack;         // the jack whose head stands lowest at closed, nominally
    double lower_by_mm = 0;         // below the highest jack's head
    double spread_over_deck_mm = 0; // what the rate tolerances alone cost over the deck at closed
    double greatest_tolerance = 0;  // the greatest rate tolerance of a jack
    std::vector<GuideTilt> guides;
};

/// Needs: a set-up with everything loaded, and its assembly.
[[nodiscard]] LevelMeasure measure_level(const Setup& setup, const Assembly& assembly);

/// One finding for the cavity (go: within `level_over_deck`; marginal: within twice that; no-go beyond), and one for the
/// guides (go: below 70 % of what the tightest guide allows; marginal: below it; no-go: it binds). Without guides
/// that one is `not checked`.
[[nodiscard]] std::vector<Finding> judge(const LevelMeasure& measure, const Setup& setup, const Assembly& assembly);

} // namespace evenclose
