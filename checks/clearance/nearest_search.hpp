// checks/clearance/nearest_search.hpp: a good upper bound at one pose, quickly: best boxes first, and no proof.
//
// What it finds seeds the certified search; what it misses costs that one time, never truth.
#pragma once

#include "checks/clearance/hierarchy.hpp"
#include "checks/clearance/relative_motion.hpp"
#include "checks/clearance/travel_cells.hpp"
#include "checks/clearance/triangle_distance.hpp"

#include <vector>

namespace evenclose {

struct Guess {
    Witness witness;
    NearestPoints nearest; // distance infinite: nothing was found
};

/// Looks at `most_boxes` pairs of boxes at most. `known`: a pair to start from, or null.
[[nodiscard]] Guess nearest_guess(const TriangleMesh& first_mesh, const Hierarchy& first,
                                  const TriangleMesh& second_mesh, const Hierarchy& second,
                                  const RelativeMotion& motion, Travel at, Slope slope_first, Slope slope_second,
                                  std::size_t most_boxes, const Witness* known);

/// A pair of triangles in touch (to kTouch_mm) at one pose, by going through all boxes that overlap; looks at `most_boxes`
/// pairs of boxes at most. Distance infinite: none was found.
[[nodiscard]] Guess contact_guess(const TriangleMesh& first_mesh, const Hierarchy& first,
                                  const TriangleMesh& second_mesh, const Hierarchy& second,
                                  const RelativeMotion& motion, Travel at, Slope slope_first, Slope slope_second,
                                  std::size_t most_boxes);

} // namespace evenclose
