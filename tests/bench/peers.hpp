// tests/bench/peers.hpp: what the clearance engine is timed against, in the same run.
//
// FCL (2.4 and up; J. Pan, S. Chitta, D. Manocha, ICRA 2012) is asked in the strongest certified way there is with it: its
// distance at poses, and the bound that no point moves farther than the travel. That covers a pure translation only; no
// peer covers a range of tilt. Embree's hierarchies (I. Wald et al., ACM TOG 33(4), 2014) are a measure for building.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <fcl/fcl.h>

#include <cstddef>
#include <memory>

namespace evenclose::bench {

class FclPair {
public:
    /// Builds both hierarchies. The moving body starts `lowered_mm` below where it is drawn.
    FclPair(const TriangleMesh& still, const TriangleMesh& moving, double lowered_mm);

    [[nodiscard]] double distance(double travel_mm) const;
    [[nodiscard]] bool collides(double travel_mm) const;
    /// Halves the travel until the motion bound brackets the distance to `tightness_mm` wherever it is under
    /// `interest_mm`. Gives how many distances that took.
    std::size_t bracket(double from, double to, double tightness_mm, double interest_mm) const;
    /// Steps by the distance itself, which no point can outrun, until it is below `tightness_mm` or `to` is reached.
    [[nodiscard]] double first_contact(double from, double to, double tightness_mm) const;
    /// Steps of `step_mm` until they collide: not certified, and blind to what is thinner than a step.
    [[nodiscard]] double stepped(double from, double to, double step_mm) const;
    [[nodiscard]] std::size_t bytes() const;

private:
    using Model = fcl::BVHModel<fcl::OBBRSSd>;
    std::size_t bracket(double from, double to, double at_from, double at_to, double tightness, double interest) const;
    [[nodiscard]] fcl::CollisionObjectd posed(double travel_mm) const;

    std::shared_ptr<Model> still_, moving_;
    double lowered_mm_;
};

/// Embree's tree over both meshes, by its default binned surface-area heuristic.
void build_with_embree(const TriangleMesh& first, const TriangleMesh& second);

} // namespace evenclose::bench
