// checks/clearance/contact_kind.hpp: what a contact at one pose is: a touch, a foul, or one body inside the other.
#pragma once

#include "checks/clearance/clearance_mesh.hpp"
#include "checks/clearance/sweep.hpp"

#include <vector>

namespace evenclose {

struct PosedPair {
    const ClearanceMesh& first;
    Pose first_pose;
    const ClearanceMesh& second;
    Pose second_pose;
};

/// Contact::clear when no triangles are within kTouch_mm, touching when some are but none pierces another, else foul.
/// `meeting`: if not null, gets all pairs in touch (the search then does not stop at the first foul).
[[nodiscard]] Contact surface_contact(const PosedPair& pair, std::vector<TrianglePair>* meeting);

/// Is a whole shell of one body inside the other? Only to be asked where the surfaces do not pass through each other.
[[nodiscard]] Whereabouts either_inside(const PosedPair& pair);

} // namespace evenclose
