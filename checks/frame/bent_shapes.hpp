// checks/frame/bent_shapes.hpp: members, head, platen and mold halves as solids, bent as the `frame` check found, magnified.
//
// A member's section follows its beam's nodes: moved and turned with them, straight in between (nodes stand a quarter of a
// metre apart at most). Head and platen are cut into the cells they were computed with; what lies on them rises with them.
// What all of the press has in common, its closing, is not shown: only the bending.
#pragma once

#include "checks/frame/frame_check.hpp"
#include "scene/motion/assembly.hpp"

#include <vector>

namespace evenclose {

/// One entry a body of the assembly; null: as it is.
struct BentShapes {
    std::vector<SharedMesh> mesh; // in the place of the body's own, under the same pose
    std::vector<double> use;      // of the part, at its worst; below 0: not judged
    double magnified = 1;
};

/// Needs: a computed frame of this assembly.   Threads: pure, any.
[[nodiscard]] BentShapes bent_shapes(const FrameMeasure& measure, const Setup& setup, const Assembly& assembly,
                                     double magnified);

/// So many times magnified, in round steps, the greatest bend is about a twentieth of the press' height.
[[nodiscard]] double bend_to_see(const FrameMeasure& measure, const Setup& setup);

} // namespace evenclose
