// checks/level/level.hpp: `level`: how far the platen tilts over the travel, what that costs at the cavity, and whether
// the guides bind.
//
// The tilt envelope comes from the jacks (scene/motion/lifting.hpp): heights and speeds as told give the nominal slope,
// tolerances, link shafts and spreads of measured heights the range around it.
#pragma once

#include "checks/finding.hpp"
#include "checks/level/guides_run.hpp"
#include "checks/level/shaft_that_would_do.hpp"
#include "scene/motion/assembly.hpp"

#include <optional>
#include <string>
#include <vector>

namespace evenclose {

/// The worst slope for one question, and where.
struct WorstSlope {
    Slope slope;
    Travel at;
    double value = 0; // what it was chosen by: mm over the deck, or radians
};

/// A drive that runs too slow for its side: at which share of its speed it would bring it level at closed.
struct SpeedThatLevels {
    std::string drive;
    double ratio = 1;
};

struct LevelMeasure {
    LevelSource source = LevelSource::unlinked; // what the numbers below are made from
    WorstSlope over_deck; // by the jacks, at closed, where it counts for the cavity: mm from end to end of the deck
    WorstSlope anywhere;  // greatest tilt by the jacks over the whole travel, radians
    double nominal_over_deck_mm = 0; // of that at closed, what a shim can cure: the middle of the range
    Slope nominal_at_closed;
    double nominal_growth_mm = 0;   // how much of it was not there when open: speeds, not heights, are unlike
    double spread_over_deck_mm = 0; // what tolerances, lags and spreads cost at closed
    double jack_span_mm = 0;        // between the two jacks that lie farthest apart
    std::string lower_jack;         // the jack that a shim would bring level
    double lower_by_mm = 0;         // how thick it would be
    double greatest_tolerance = 0;  // of a rate or a drive
    std::optional<SpeedThatLevels> speed;
    double rocks_over_deck_mm = 0; // across a line of jacks: what the guides' play lets the deck's sides differ by
    bool in_line = false;
    /// More jacks than a plane needs: the one that fits worst, as told and when closed, and how far it stands above the
    /// plane of the others (below 0: under it). A stiff platen leaves it more, or less, than its share of the load.
    struct OffPlane {
        std::string jack;
        double above_mm = 0;
    };
    std::optional<OffPlane> off_plane;
    std::optional<double> unlinked_over_deck_mm; // with link shafts counted: what it would be without them
    std::string link_unknown;                    // shafts that could not be counted, and why
    std::optional<ShaftFound> shaft;             // when the drives run apart too far
    std::vector<GuideRun> guides;
};

/// Needs: a set-up with everything loaded, and its assembly.
[[nodiscard]] LevelMeasure measure_level(const Setup& setup, const Assembly& assembly);

/// For the cavity by the jacks: go within `level_over_deck`, marginal within twice that, no-go beyond. For what the guides
/// let the platen rock across a line of jacks: go within it, marginal beyond (pressing rocks it level). For a jack out of
/// the plane of the others likewise. What link shafts
/// buy, or why they are not counted. Then the guides: guides_run.hpp.
[[nodiscard]] std::vector<Finding> judge(const LevelMeasure& measure, const Setup& setup, const Assembly& assembly);

} // namespace evenclose
