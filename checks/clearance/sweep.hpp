// checks/clearance/sweep.hpp: the certified clearance of two bodies over the whole travel and the whole tilt envelope.
//
// Not samples: each span's bounds hold for every travel in it and every slope that the ride allows there. See DESIGN.md
// section 6 for the question; the .cpp files of this folder say how it is answered and how rounding is covered.
#pragma once

#include "checks/progress.hpp"
#include "scene/mesh/triangle_mesh.hpp"
#include "scene/motion/ride.hpp"

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace evenclose {

/// What the engine has prepared for one mesh (its hierarchy). Independent of placement, travel and tilt; shared between
/// all bodies that use the mesh.
class ClearanceMesh;
using SharedClearanceMesh = std::shared_ptr<const ClearanceMesh>;

/// The same mesh object gets the same one for as long as anybody holds it.   Threads: any.
/// Faults: throws std::invalid_argument naming the first vertex that is not finite or more than a kilometre away, or the first corner
/// that names none; an empty mesh too.
[[nodiscard]] SharedClearanceMesh prepare(const SharedMesh& mesh);

struct SweptBody {
    SharedClearanceMesh mesh;
    Pose placement;             // at travel 0, untilted
    const Ride* ride = nullptr; // null: stands still
};

struct SweepRequest {
    Travel from, to;
    double interest_mm = 25;            // beyond this only "farther than" is told
    double tightness_mm = 0.05;         // wanted upper - lower, wherever lower < interest
    double contact_tightness_mm = 0.01; // how closely first and last contact are told along the travel
    std::size_t budget = 0;             // most distance evaluations; 0: the engine's own generous default
};

enum class Contact { not_checked, clear, touching, foul, inside, cancelled };

struct ClearanceSpan {
    Travel from, to;
    double lower_mm = 0, upper_mm = 0;
}; // upper may be infinite beyond interest

struct ContactSpan {
    Travel from, to;
}; // contact is certain somewhere in the envelope for every travel inside, but for gaps below contact_tightness_mm

struct Sweep {
    Contact contact = Contact::not_checked;
    std::vector<ClearanceSpan> spans;  // in order of travel, no holes; 0 where they touch or one is inside
    std::vector<ContactSpan> contacts; // in order, merged
    double least_lower_mm = 0, least_upper_mm = 0;
    Travel least_at;
    Slope least_slope;                        // of the moving (tilting) body there
    Vec3 on_first_mm{0.0}, on_second_mm{0.0}; // witness points there, world; equal-ish in contact
    bool tight = true;                        // false: the budget ran out, the bounds are true but wider than asked
    std::string why_not; // for not_checked; also what could not be told (open mesh: inside unknown)
};

/// Threads: pure, any. Same answer for any number of threads.
[[nodiscard]] Sweep sweep(const SweptBody& first, const SweptBody& second, const SweepRequest& request,
                          Progress& progress);

struct PoseClearance {
    Contact contact = Contact::not_checked;
    double distance_mm = 0;
    Vec3 on_first_mm{0.0}, on_second_mm{0.0};
};

/// Distance at one pose, for dragging the handle; 0 in contact or inside. `tightness_mm`: the told distance is at most
/// this much above the true one, never below it.
[[nodiscard]] PoseClearance clearance_at(const SweptBody& first, const SweptBody& second, Travel at, Slope slope,
                                         double interest_mm, double tightness_mm);

/// Pairs of triangles (of the first, of the second) that touch or pierce each other at a pose, in order; for drawing.
using TrianglePair = std::pair<std::uint32_t, std::uint32_t>;
[[nodiscard]] std::vector<TrianglePair> triangles_in_contact(const SweptBody& first, const SweptBody& second, Travel at,
                                                             Slope slope);

} // namespace evenclose
