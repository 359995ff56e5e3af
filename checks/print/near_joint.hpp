// checks/print/near_joint.hpp: which joint between print pieces runs nearest to where the forming face is bent tightest, and
// how to move it away.
//
// A joint shows through on the pressed veneer, most where the ply is bent hardest against it: keep it a finger's breadth
// off (common practice, no source). Tightest is whatever is curved by nine tenths or more of the face's greatest curvature,
// as `bend` measures it over its grid. A face that is so over half of its area has no better place for a joint.
#pragma once

#include "checks/bend/bend.hpp"
#include "checks/print/pieces.hpp"

#include <optional>

namespace evenclose {

inline constexpr double kOffTightest_mm = 15;

struct NearJoint {
    int axis = 0;          // the joint's plane stands square to X or Y
    double at_mm = 0;      // where, mold frame
    double off_mm = 0;     // along that axis, from the nearest tight place
    double radius_mm = 0;  // the tightest of the face
    Vec3 tight_mm{0.0};    // that place, mold frame
    bool all_over = false; // the face is bent nearly as tightly all over
    /// All planes of the axis moved by so much, the least that keeps every one of them off; the end pieces still fit.
    std::optional<double> shift_mm;
    /// Else: an even cut into so many pieces along the axis that keeps off.
    std::optional<int> count;

    [[nodiscard]] bool too_near() const { return !all_over && off_mm < kOffTightest_mm; }
};

/// None where there is no upright joint, or the face is flat.   Threads: pure, any.
[[nodiscard]] std::optional<NearJoint> nearest_joint(const BentFace& face, const Box& half, const Pieces& pieces);

} // namespace evenclose
