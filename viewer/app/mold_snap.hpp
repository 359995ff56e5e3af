// viewer/app/mold_snap.hpp: the places along its platen that a mold in the hand is meant to stand in, and how it is drawn to
// them.
//
// Where platen or head are drawn as meshes with pins or holes (checks/seat/registration.hpp), and the mold's half has some in
// its back that go with them, those places where as many as can line up: that is its registration, and both ways are drawn
// at once. Else each way by itself: to the middle of its platen, to the middle of the jacks, to another opening's mold, to
// where it stood.
//
// Not told: holes that only a bolt's thread ends in, slots, square pins. Pure, tested without a window.
#pragma once

#include "checks/seat/registration.hpp"
#include "scene/setup/setup.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace evenclose {

struct SnapTargets {
    struct Place {
        Vec2 at_mm{0.0};   // of the mold's frame, from the middle of its platen
        std::string words; // "at the platen's pins"
    };
    struct Line {
        bool across = false; // where it stands front to back; else along the deck
        double at_mm = 0;
        std::string words; // "over the jacks' middle"
    };
    std::vector<Place> places;
    std::vector<Line> lines; // the first of several at one place is meant
};

/// Needs: a set-up with its meshes loaded; `opening` is one of its.   Threads: pure, any. A mesh of millions of triangles
/// takes a moment the first time.
[[nodiscard]] SnapTargets snap_targets(const Setup& setup, std::size_t opening);

struct SnappedMold {
    Vec2 at_mm{0.0};
    std::string words; // what it was drawn to; empty: nothing
};

/// The nearest place within `pull_mm`; else each way by itself to the nearest line within half of it, and to whole millimetres
/// where there is none.
[[nodiscard]] SnappedMold snapped_mold(Vec2 at_mm, const SnapTargets& targets, double pull_mm);

/// The places of a mold's frame, from `plate`'s middle, where most of its features line up with those of the plate; none
/// where none goes with any. A pin goes with a hole that takes it and is little wider; a hole with a hole of its width, for a
/// loose dowel or a bolt. Needs: features of the plate from its middle, the mold's in its own frame.
[[nodiscard]] std::vector<SnapTargets::Place> registered_places(const std::vector<RoundFeature>& plate,
                                                                const std::vector<RoundFeature>& mold, double turn_rad,
                                                                const std::string& whose);

} // namespace evenclose
