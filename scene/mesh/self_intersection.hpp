// scene/mesh/self_intersection.hpp: where a mesh runs through itself.
//
// Pairs of triangles whose boxes overlap are found with a hierarchy of boxes and tested with exact signs
// (scene/mesh/predicates.hpp): an edge of one passes from one side of the other's plane to the other side, within it.
// Triangles that share an edge are neighbours and skipped; those that share a corner count when the edge opposite to it
// passes through. Not covered: triangles that overlap in one plane (doubled ones are told by soundness.hpp). A corner or
// an edge that lies on a face is touching and no intersection; but an edge that passes a face's plane right on the face's
// rim counts, since an aligned overlap shows nowhere else. So boxes that stand offset face on face are told, too.
//
// n log n for usual meshes; a fan of n triangles about one corner compares all its n^2 boxes.
#pragma once

#include "scene/mesh/soundness.hpp"

#include <functional>

namespace evenclose {

/// `count` is the number of pairs, `first_at_mm` a corner of the pair with the lowest numbers.
/// Needs: corners in range, finite. `stop` is asked now and then, from several threads; when it says so the count is of
/// what was seen until then.   Threads: works on several; the answer does not depend on how many.
[[nodiscard]] Flaw self_intersections(const TriangleMesh& mesh, const std::function<bool()>& stop = {});

} // namespace evenclose
