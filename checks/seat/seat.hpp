// checks/seat/seat.hpp: `seat`: does each half lie flat and wholly on its platen, and is it pressed between the jacks?
//
// A half's seat is what of its back lies near the level it stands on: the triangles that face the platen and lie within
// a band above the outermost point. Its flatness is the spread about the best plane through it (least squares), the
// usual meaning of flatness in gauging (ISO 1101 asks for the least zone; the least-squares one is never smaller).
#pragma once

#include "checks/finding.hpp"
#include "scene/motion/assembly.hpp"

#include <string>
#include <vector>

namespace evenclose {

struct SeatMeasure {
    std::string half;         // the body's name
    std::string on;           // "platen" or "head"
    double area_mm2 = 0;      // of the seat
    double share = 0;         // of the half's rectangle as seen from above, 0 to 1
    double flatness_mm = 0;   // highest less lowest about the best plane
    Vec3 roughest_at_mm{0.0}; // world, at travel 0
    double overhang_mm = 0;   // farthest that the seat stands over the platen's edge; negative: how far inside
    Vec3 overhang_at_mm{0.0};
    std::string overhang_side; // "left (-X)", ...
    double free_shift_mm = 0;  // how far the half may be pushed back the other way before it overhangs there
};

/// Needs: a body that is a mold half; the press' platen it lies on. Mesh may be anything; an empty seat has area 0.
[[nodiscard]] SeatMeasure measure_seat(const Body& half, const Platen& platen, double flatness_limit_mm);

struct PressedMeasure {
    Vec2 centre_mm{0.0};     // of the pressed deck
    double inside_mm = 0;    // distance from the centre to the edge of the jacks' base; negative: outside it
    double beside_mm = 0;    // with all jacks in one line: distance from that line
    double jack_head_mm = 0; // then: half a jack head, within which a head holds it by itself
    bool one_line = false;
};
/// Needs: two or more jacks.
[[nodiscard]] PressedMeasure measure_pressed(const Setup& setup);

/// For each half: flatness (go within the limit, marginal within three times it), how much of the back bears (no-go below
/// 10 %, marginal below 40 %) and overhang, as one finding where all is well. Registration pins (registration.hpp): no-go
/// where one meets no hole, stands beside it or grounds in it. Then where the deck is pressed.
[[nodiscard]] std::vector<Finding> check_seat(const Setup& setup, const Assembly& assembly);

} // namespace evenclose
