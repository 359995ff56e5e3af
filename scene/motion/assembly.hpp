// scene/motion/assembly.hpp: every solid of a set-up with its ride: what moves, what stands, what may touch by design.
#pragma once

#include "scene/motion/jack_bodies.hpp"
#include "scene/motion/ride.hpp"
#include "scene/motion/stacked.hpp"
#include "scene/setup/setup.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace evenclose {

enum class Part {
    member,
    head,
    platen,
    intermediate_platen,
    jack_body,
    jack_screw,
    jack_link, // of a scissor
    jack_hose,
    link_shaft,
    guide_post,
    guide_sleeve,
    mold_lower,
    mold_upper,
    floor
};

/// Where the jack stands that a part belongs to, and how the part goes with its head.
struct JackPlace {
    Vec2 at_mm{0.0};
    std::size_t head_ride = 0;
    double share_of_lift = 0;
};

struct Body {
    std::string name; // as the shop calls it: "front left post", "jack left screw", "Dune deck upper half"
    Part part = Part::member;
    SharedMesh mesh;
    Pose placement;       // at travel 0, untilted
    std::size_t ride = 0; // into Assembly::rides
    std::string material;
    bool printed = false; // for the picture: a printed mold half
    bool drawn = true;    // false: only swept: it holds every place that a link or a hose takes (jack_bodies.hpp)
    bool swept = true;    // false: only drawn, and swept by a body that holds it
    std::optional<JackPlace> of_jack = std::nullopt;   // a part of a jack that goes with its head
    std::optional<FoldingLink> fold = std::nullopt;    // drawn as this says: see drawn_pose.hpp
    std::vector<ShapeAtRise> shapes = {};              // of a hose, in place of `mesh`
    std::optional<Turning> turning = std::nullopt;     // a screw or a shaft: how far it has turned
    std::optional<std::size_t> opening = std::nullopt; // of a mold half: into Assembly::openings
};

/// One opening: a mold between two platens.
struct AssembledOpening {
    std::size_t below = 0, above = 0; // bodies: platen or intermediate platen; intermediate platen or head
    std::size_t lower = 0, upper = 0; // bodies: the halves
    OpenHeights heights;              // at travel 0
    Travel closes;                    // nominal travel at which it has closed on its stack; may lie beyond reach
};

enum class OpeningState { open, closing, closed };
[[nodiscard]] const char* name_of(OpeningState state); // "open", "closing", "closed"

struct BodyPair {
    std::size_t first = 0, second = 0;
};

struct Assembly {
    std::vector<Body> bodies;
    std::vector<Ride> rides;                // rides[0] stands still, rides[1] is the platen
    std::vector<AssembledOpening> openings; // from the bottom up; empty without a mold
    std::vector<BodyPair> by_design; // pairs that touch or nest by design (screw in its jack, sleeve on its post)
    Ride
        by_jacks; // the platen's ride without what the guides let it rock across a line of jacks: pressed, a mold rocks
                  // it level there
    LevelSource level_source = LevelSource::unlinked; // what the platen's ride is made from
    Slope open_slope;                                 // of the plane through the heads at travel 0
    double daylight_mm = 0;                           // head underside less the platen's face, at travel 0, nominal
    double shut_height_mm = 0;                        // of all molds and intermediate platens over one another, closed
    Travel closed;        // nominal travel at which daylight is the shut height; may lie beyond reach
    Travel end_of_stroke; // where the first jack ends
    Travel last;          // the lesser of the two, not below 0: the stroke is swept from 0 to here

    [[nodiscard]] bool may_touch(std::size_t a, std::size_t b) const;
    /// An opening is closing while the platen below it moves against the one above.
    [[nodiscard]] OpeningState state_of(std::size_t opening, Travel at) const;
    /// Where what rides so begins to move: 0 for the moving platen, later for intermediate platens, beyond every travel for
    /// what stands still. None for what does not go with a platen (jacks, shafts).
    [[nodiscard]] std::optional<Travel> picked_up(std::size_t ride) const;
    /// Pairs of swept bodies that move against each other and may not touch, first < second, in order.
    [[nodiscard]] std::vector<BodyPair> moving_pairs() const;
};

/// The lower half's lowest level stands on the platen's face, the upper half's highest hangs at the head's underside. A
/// guide post that stands in the platen's plate is taken to run in a bore of it (by design); in a platen drawn as a mesh
/// the bores are drawn, and checked. Heads of the jacks and the platen ride as scene/motion/lifting.hpp tells. What is swept
/// for the links of a scissor, and for a hose, may reach above its platen, where the true link never is: the mold on it is
/// by design.
/// Of several openings each is closed by the platen below it, the lowest first (stacked.hpp); in each the lower half stands
/// on the platen below and the upper half hangs under the one above. A guided intermediate platen is taken to be bored for
/// the posts that pass through it. What of the frame ends at its rest's height carries it there, by design.
/// Needs: a set-up with its press and molds loaded, at least two jacks that rise, kMostOpenings openings at most, one
/// intermediate platen fewer. Without an opening the platen closes on the head.
/// Faults: std::invalid_argument with the part and what does not fit.   Threads: pure, any.
[[nodiscard]] Assembly assemble(const Setup& setup);

} // namespace evenclose
