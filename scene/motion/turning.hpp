// scene/motion/turning.hpp: a screw or a shaft that turns as the press closes: about which line, and how far.
//
// Right-handed about its axis. A screw jack's screw turns in a nut that stands still, so its thread stays where it is in
// space while the screw climbs out of it. A rhombus' screw stays where it is along its axis and draws both nuts inward:
// right-hand thread on the half its axis points to, left-hand on the other.
#pragma once

#include "scene/jacks/height_law.hpp"
#include "scene/vec.hpp"

#include <cstddef>

namespace evenclose {

enum class ThreadHand { none, right, right_and_left };

struct Turning {
    Vec3 from_mm{0.0}, to_mm{0.0}; // ends of its axis, where it is placed at travel 0
    double radius_mm = 0;
    double lead_mm = 0;
    ThreadHand hand = ThreadHand::none;
    bool backwards = false;    // a shaft that runs against the axis of the screw that it is coupled to
    HeightLaw law;             // of the jack whose drive turns it
    double parked_mm = 0;      // of that jack
    std::size_t head_ride = 0; // into Assembly::rides: of its head
};

/// How far it has turned when the head of its jack has risen so far above parked; a linkage at its end turns no further.
/// Needs: a law whose drive turns.   Threads: pure, any.
[[nodiscard]] double turned_rad(const Turning& turning, double risen_mm);

} // namespace evenclose
