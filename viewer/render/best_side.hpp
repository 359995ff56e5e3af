// viewer/render/best_side.hpp: from which side a spot can be seen best.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <span>
#include <vector>

namespace evenclose {

struct Standing {
    SharedMesh mesh;
    Pose pose;
    bool involved = false; // one of the bodies that the spot is about
};

/// A unit vector from the spot towards the eye. Rays go from places round the spot (within `radius_mm`) in some forty
/// directions out to `distance_mm`; a ray that meets a body which is not involved counts whole, one that meets an
/// involved one counts half, for that is still part of what shall be seen. Among equals the operator's side, a little
/// from above and from the right, wins; from below only if nothing else shows it. Threads: any.
[[nodiscard]] Vec3 best_side(const Vec3& spot_mm, std::span<const Standing> bodies, double radius_mm,
                             double distance_mm);

} // namespace evenclose
