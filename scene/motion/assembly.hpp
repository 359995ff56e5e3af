// scene/motion/assembly.hpp: every solid of a set-up with its ride: what moves, what stands, what may touch by design.
#pragma once

#include "scene/motion/ride.hpp"
#include "scene/setup/setup.hpp"

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace evenclose {

enum class Part {
    member,
    head,
    platen,
    jack_body,
    jack_screw,
    guide_post,
    guide_sleeve,
    mold_lower,
    mold_upper,
    floor
};

struct Body {
    std::string name; // as the shop calls it: "front left post", "jack left screw", "Dune deck upper half"
    Part part = Part::member;
    SharedMesh mesh;
    Pose placement;       // at travel 0, untilted
    std::size_t ride = 0; // into Assembly::rides
    std::string material;
    bool printed = false; // for the picture: a printed mold half
};

struct BodyPair {
    std::size_t first = 0, second = 0;
};

struct Assembly {
    std::vector<Body> bodies;
    std::vector<Ride> rides;         // rides[0] stands still, rides[1] is the platen
    std::vector<BodyPair> by_design; // pairs that touch or nest by design (screw in its jack, sleeve on its post)
    double daylight_mm = 0;          // head underside less the platen's face, at travel 0, nominal
    double shut_height_mm = 0;       // of the mold
    Travel closed;                   // nominal travel at which daylight is the shut height; may lie beyond reach
    Travel end_of_stroke;            // where the first jack ends
    Travel last;                     // the lesser of the two, not below 0: the stroke is swept from 0 to here

    [[nodiscard]] bool may_touch(std::size_t a, std::size_t b) const;
    /// Pairs that move against each other and may not touch, first < second, in order.
    [[nodiscard]] std::vector<BodyPair> moving_pairs() const;
};

/// The lower half's lowest level stands on the platen's face, the upper half's highest hangs at the head's underside. A
/// guide post that stands in the platen's plate is taken to run in a bore of it (by design); in a platen drawn as a mesh
/// the bores are drawn, and checked. Each jack screw rises at its own nominal rate; the platen takes their mean, and its
/// slopes from scene/motion/level.hpp.
/// Needs: a set-up with its press and molds loaded, at least two jacks that rise, one opening at most. Without an opening
/// the platen closes on the head.
/// Faults: std::invalid_argument with the part and what does not fit.   Threads: pure, any.
[[nodiscard]] Assembly assemble(const Setup& setup);

} // namespace evenclose
