// viewer/render/cut_stack.hpp: the closed mold cut open along the deck, with the plies of the stack between the halves.
//
// The plies are drawn as they would lie on the lower half: offsets of its forming face along the normals, each as thick
// as it is pressed. Where the halves leave another gap than the stack's, that is seen as a gap or an overlap with the
// upper half.
#pragma once

#include "checks/cavity/cavity.hpp"
#include "scene/mold/mold.hpp"
#include "viewer/render/frame.hpp"

#include <vector>

namespace evenclose {

struct DrawnPly {
    SharedMesh mesh; // closed, in the lower half's frame
    Grain grain = Grain::along;
};

/// Needs: a cavity that was measured.   Threads: pure, any.
[[nodiscard]] std::vector<DrawnPly> ply_solids(const CavityMeasure& measure, const PlyStack& stack);

/// Adds the plies and cuts everything along the deck's middle, the front taken away. The plies belong to no body of the
/// assembly: their number is one past them.
void lay_cut(Frame& frame, const Setup& setup, const Assembly& assembly, const std::vector<DrawnPly>& plies);

} // namespace evenclose
