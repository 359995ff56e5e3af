// tests/checks/clearance/plain_sweep.hpp: the plain, slow, obviously right way to sweep: distances at poses and a motion bound.
//
// Between two travels no point of the moving body goes farther than the change of lift plus its distance from the pivot
// times the change of slope, so neither does the distance of the bodies change by more: from two sampled travels it is
// bracketed everywhere between, and where the bracket is too wide the travel is halved. The slope box at one travel is
// searched the same way. Distances at poses are FCL's (never its conservative advancement, which misses a box driven
// into a box). Two known gaps: between two sampled contacts less than half a millimetre apart contact is taken for
// granted, and one distance evaluation cannot be cancelled midway.
#pragma once

#include "checks/clearance/sweep.hpp"

namespace evenclose::plain {

class Mesh;
using Shared = std::shared_ptr<const Mesh>;

struct Body {
    Shared mesh;
    Pose placement;
    const Ride* ride = nullptr;
};

/// Faults: as evenclose::prepare.
[[nodiscard]] Shared prepare(SharedMesh mesh);
[[nodiscard]] Sweep sweep(const Body& first, const Body& second, const SweepRequest& request, Progress& progress);
[[nodiscard]] PoseClearance clearance_at(const Body& first, const Body& second, Travel at, Slope slope);

} // namespace evenclose::plain
