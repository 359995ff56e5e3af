// checks/seat/registration.hpp: the pins that bring two mold halves together, and the holes they go into.
//
// Found from the meshes: a set of upright triangles that hang together and lie on a round cylinder along the stroke, all
// the way round. Its triangles look outward on a pin and inward in a hole. The circle is fitted by least squares (I. Kåsa,
// "A circle fitting procedure and its error analysis", IEEE Trans. Instrum. Meas. 25, 1976). A facet's middle lies inside
// the true circle, so corners are fitted.
//
// Not told: pins that taper by more than 3 degrees, square ones, loose dowels (two holes, no pin).
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <memory>
#include <vector>

namespace evenclose {

struct RoundFeature {
    Vec2 centre_mm{0.0};
    double diameter_mm = 0;
    double from_z_mm = 0, to_z_mm = 0;
    bool pin = false; // else a hole
};

/// Pins and holes of 2 to 60 mm along Z, in the order of their first triangle. Needs: finite corners; any orientation as
/// a whole (an inside-out mesh is turned).   Threads: pure, any.
[[nodiscard]] std::vector<RoundFeature> round_features(const TriangleMesh& half);

/// The same, found once for each mesh and kept as long as the mesh lives.   Needs: a mesh.   Threads: any.
[[nodiscard]] std::shared_ptr<const std::vector<RoundFeature>> round_features_of(const SharedMesh& half);

struct PinMeeting {
    RoundFeature pin;
    bool of_upper = false;   // the pin stands on the upper half
    bool met = false;        // a hole of the other half lies within its own radius and a half
    RoundFeature hole;       // the nearest, if met
    double off_mm = 0;       // between their axes
    double clearance_mm = 0; // half the difference of the diameters
    double room_mm = 0;      // left between the pin's tip and the hole's ground when closed; below 0: it grounds first
};

/// Needs: the halves in one frame, closed.
[[nodiscard]] std::vector<PinMeeting> meetings(const TriangleMesh& lower, const TriangleMesh& upper);

} // namespace evenclose
