// checks/level/guides_run.hpp: do the guides run free over the whole travel?
//
// At each travel: how much of the sleeve is on its post, how far that lets it tilt, and at which lever friction alone
// would hold it (REFERENCE 4). The lever is that of the jack nearest to the guide, which pushes when the others lag.
#pragma once

#include "checks/finding.hpp"
#include "scene/motion/assembly.hpp"

#include <optional>
#include <string>
#include <vector>

namespace evenclose {

struct GuidePoint {
    Travel at;
    double engaged_mm = 0;                  // of the sleeve on its post
    double allowed_rad = 0;                 // until it touches the post at both ends
    double tilt_rad = 0;                    // that the jacks may give the platen here, at most
    std::optional<double> binding_lever_mm; // none: no friction given
};

struct GuideRun {
    std::string guide;
    double length_mm = 0;
    double lever_mm = 0;            // to the nearest jack
    std::vector<GuidePoint> points; // in order of travel
    std::size_t tightest = 0;       // where tilt over allowed is greatest
    std::size_t least_engaged = 0;
};

/// Needs: a set-up with everything loaded, and its assembly.
[[nodiscard]] std::vector<GuideRun> measure_guides(const Setup& setup, const Assembly& assembly);

/// Tilt: go below 70 % of what the tightest guide allows, marginal below it, no-go: it binds. Sleeves: go while three
/// quarters are on the post, marginal below, no-go: off it. Friction: go below 70 % of the lever at which the guide with
/// least to spare binds, marginal below it, no-go beyond; not checked without friction; neither where a sleeve is off. Without guides all is not checked.
[[nodiscard]] std::vector<Finding> judge(const std::vector<GuideRun>& guides, const Setup& setup);

} // namespace evenclose
