// checks/plan/stacking.hpp: what height and stroke it takes to press molds over one another, in closed form.
//
// Open, every opening wants its loose sandwich and the loading clearance over it; closed, each is as high as its mold's shut
// height; between two lies an intermediate platen. So with n openings (REFERENCE 15)
//
//     daylight needed = sum of (sandwich + clearance) + (n - 1) platens + tilt
//     closed height   = sum of shut heights           + (n - 1) platens
//     stroke needed   = daylight - closed height + reserve
//
// A longer screw or cylinder is longer by as much when it is closed, so the platen parks higher by what the stroke gains:
// that is taken from the daylight, and the head must rise once more.
//
// Not covered: what the checks find besides (fouls, tilt, bending). They are run on what this proposes.
#pragma once

#include <vector>

namespace evenclose {

struct StackedMold {
    double sandwich_mm = 0; // both halves and the loose stack over one another
    double shut_mm = 0;     // seat to seat, closed
};

struct PressRoom {
    double daylight_mm = 0; // platen to head, open, as the press stands
    double stroke_mm = 0;   // to the end of the first jack
};

struct StackLimits {
    double platen_mm = 0; // thickness of an intermediate platen
    double loading_clearance_mm = 0;
    double stroke_reserve_mm = 0;
    double tilt_mm = 0; // what the tilt of the moving platen takes from the lowest opening; the others lie level
};

/// What a press must become, at least.
struct PressChange {
    double raise_head_mm = 0;    // 0 or more
    double longer_stroke_mm = 0; // of every jack, 0 or more; it parks higher by as much
};

/// Needs: one mold at least.
[[nodiscard]] double daylight_needed_mm(const std::vector<StackedMold>& molds, const StackLimits& limits);
[[nodiscard]] double closed_height_mm(const std::vector<StackedMold>& molds, const StackLimits& limits);

/// The least change with which the molds, from the bottom up, go in and close: the head raised the least, and then the
/// jacks lengthened the least.
/// Proof: let d be the daylight then, D and S the press as it is, N and C needed daylight and closed height, R the reserve,
/// x and y raise and lengthening. d = D + x - y >= N, and d - C + R <= S + y. For a given y the least x is max(0, N - D + y),
/// which grows with y; so first the least y with x = 0: y >= (D - C + R - S) / 2, possible if y <= D - N. Otherwise x > 0, the
/// first is an equality, d = N, and the least y that closes, N - C + R - S, gives the least x too.
[[nodiscard]] PressChange least_change(const std::vector<StackedMold>& molds, const PressRoom& press,
                                       const StackLimits& limits);

} // namespace evenclose
