// checks/release/release.hpp: `release`: do the halves come off the pressed deck along the stroke?
//
// Undercut: what of a half looks away from the stroke and hangs over more of the same half, reached from the forming face
// without passing an outer wall. A deck pressed under such a lip holds the half: it cannot be drawn off. Cavities inside a
// half (for bolts, rods, hollow prints) and its back do not count: no path over the surface leads there from the face.
// Draft: the angle between a face and the stroke, 0 for an upright wall. Walls that stand inside the forming face count,
// the outer sides of a half do not.
//
// Not told: how much a deck gives when it is peeled out; glue that sticks.
#pragma once

#include "checks/finding.hpp"
#include "checks/progress.hpp"
#include "scene/motion/assembly.hpp"

#include <array>
#include <string>
#include <vector>

namespace evenclose {

struct HalfRelease {
    double undercut_mm2 = 0;       // area that looks away from the stroke under a lip
    double undercut_high_mm = 0;   // greatest height of the hollow under it, along the stroke
    Vec3 undercut_at_mm{0.0};      // there, mold frame
    double steep_mm2 = 0;          // area with less draft than wanted, undercuts left out
    double least_draft_rad = 1.57; // over the face; area below 1 mm2 does not count
    Vec3 steep_at_mm{0.0};
    double seen_mm2 = 0; // of forming face
};

struct ReleaseMeasure {
    std::string not_measured;
    std::array<HalfRelease, 2> halves; // lower, upper
    std::array<Pose, 2> to_world;      // at closed
    Travel closed;
};

/// Needs: the half in the mold frame, finite corners. `up`: +1 for the lower half, which the deck leaves upward, -1 for
/// the upper. Closed and oriented meshes only tell undercuts; one that is inside out is turned.
/// Threads: runs on TBB's.
[[nodiscard]] HalfRelease release_of(const TriangleMesh& half, double up, const std::vector<Vec2>& outline_mm,
                                     double draft_rad);

[[nodiscard]] ReleaseMeasure measure_release(const Setup& setup, const Assembly& assembly, Progress& progress);

/// A half each: no-go with an undercut, marginal with less than `least_draft` somewhere; one go if both come off.
[[nodiscard]] std::vector<Finding> judge(const ReleaseMeasure& measure, const Setup& setup, const Assembly& assembly);

} // namespace evenclose
