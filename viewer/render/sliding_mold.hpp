// viewer/render/sliding_mold.hpp: a mold on its way into the open press, as something to draw.
//
// The steps of the way follow each other (checks/load_in/load_path.hpp): what went in before stands in its place, what
// comes later is not there yet.
#pragma once

#include "checks/load_in/load_path.hpp"
#include "viewer/render/frame.hpp"
#include "viewer/render/palette.hpp"

#include <vector>

namespace evenclose {

/// How far a step of the way in has come: 0 outside, path->distance_mm in its place.
struct SlidingMold {
    const LoadPath* path = nullptr;
    std::size_t step = 0;
    double gone_mm = 0;
};

/// The pieces that are there, where they are. The stack belongs to no body of the assembly: its number is one past them.
/// Needs: path, a step of it, and the assembly it was made for.   Threads: pure, any.
[[nodiscard]] std::vector<DrawnBody> sliding_pieces(const Assembly& assembly, const SlidingMold& sliding,
                                                    const Palette& palette);

/// Shows the whole press and every piece outside of it, from the side that the mold comes in at.
[[nodiscard]] Camera camera_for_loading(const Assembly& assembly, const LoadPath& path, double aspect);

} // namespace evenclose
