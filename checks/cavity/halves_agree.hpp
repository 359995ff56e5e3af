// checks/cavity/halves_agree.hpp: was one half exported in another unit, mirrored, upside down or end for end?
//
// The faces of a mold run alongside each other, so the gap along the stroke hardly changes over the plan. Where it does,
// each usual slip of an export is undone in turn on the upper half, about the middle of its plan, and the one that makes
// the gap even is told. A slip that the shape cannot show (a symmetrical mold mirrored) makes no fault and is not told.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <string>

namespace evenclose {

enum class HalfSlip {
    none,          // the halves agree, or no usual slip explains what is wrong
    unit,          // the upper half is `factor` times too small
    mirrored_x,    // left and right exchanged
    mirrored_y,    // front and back exchanged
    upside_down_x, // turned half round about X
    upside_down_y,
    end_for_end, // turned half round about the stroke
};

struct HalvesAgreement {
    HalfSlip slip = HalfSlip::none;
    double factor = 1;       // for `unit`: multiply the upper half by this
    double as_is_mm = 0;     // how much the gap along the stroke changes over the shared plan (10th to 90th percentile)
    double undone_mm = 0;    // the same with the slip undone
    double share = 0;        // of the lower half's plan that the upper half covers as it is
    bool inside_out = false; // the upper half encloses a negative volume: mirrored by the export, triangles and all
};

/// Needs: the halves in the mold frame, finite corners. Heights do not matter: they may stand open.
/// Threads: runs on TBB's.
[[nodiscard]] HalvesAgreement compare_halves(const TriangleMesh& lower, const TriangleMesh& upper);

/// "The upper half is 25.4 times too small against the lower: it seems to be in inches".
[[nodiscard]] std::string told(const HalvesAgreement& agreement);
[[nodiscard]] std::string remedy(const HalvesAgreement& agreement);

} // namespace evenclose
