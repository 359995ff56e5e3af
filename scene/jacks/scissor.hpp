// scene/jacks/scissor.hpp: linkages that turn a screw's pull into lift: the rhombus jack and the X stage lift.
//
// Both by virtual work, frictionless joints: W dh = P db. The rate falls and the screw gets easier as they rise: a press
// that closes high closes slowly and hard, one that closes low asks most of the screw.
#pragma once

namespace evenclose {

/// Four equal links, the screw along the level diagonal; its nuts draw the two side corners together.
struct RhombusJack {
    double arm_mm = 0;              // each link, pin to pin
    double closed_span_mm = 0;      // side corner to side corner when closed (lowest)
    double lead_mm = 0;             // of the screw
    bool both_ends_threaded = true; // right- and left-hand: the span shrinks by two leads a turn, else by one
};

/// n crossed stages, one atop the other; the screw draws one foot of the lowest along the base.
struct StageLift {
    int stages = 1;
    double arm_mm = 0;         // each arm, end to end
    double closed_base_mm = 0; // between the lowest feet when closed
    double lead_mm = 0;
};

// Needs: 0 < span < 2 arm, 0 < base < arm.   Threads: pure, any.

[[nodiscard]] double height_at_span_mm(const RhombusJack& jack, double span_mm);
[[nodiscard]] double span_at_height_mm(const RhombusJack& jack, double height_mm);
[[nodiscard]] double span_after_mm(const RhombusJack& jack, double turns); // turns from closed
[[nodiscard]] double height_after_mm(const RhombusJack& jack, double turns);
[[nodiscard]] double rise_a_turn_mm(const RhombusJack& jack, double span_mm);    // dh/dn, there
[[nodiscard]] double screw_pull_a_load(const RhombusJack& jack, double span_mm); // P / W

[[nodiscard]] double height_at_base_mm(const StageLift& lift, double base_mm);
[[nodiscard]] double base_at_height_mm(const StageLift& lift, double height_mm);
[[nodiscard]] double base_after_mm(const StageLift& lift, double turns); // turns from closed
[[nodiscard]] double rise_a_turn_mm(const StageLift& lift, double base_mm);
[[nodiscard]] double base_pull_a_load(const StageLift& lift, double base_mm); // P / W = n cot(theta)

} // namespace evenclose
