// checks/hands/hands.hpp: `hands`: where can a closing press catch somebody?
//
// Gaps between what moves and what it moves towards, over the closing travel, against the least gaps by body part of
// ISO 13854:2017 (EN 349 before): body 500, head 300, leg 180, foot and arm 120, hand 100, toes 50, finger 25 mm. A gap
// can catch a part that goes into it when it is widest, if it then closes below that part's least gap.
//
// Measured as distances at places along the stroke; how far it can be less in between is known from how far the platen
// goes from one to the next, and taken off. Not looked at: what shears, draws in or falls, reach over guards, and anything
// but closing. Nothing here ever says that a press is safe: it is never "go".
#pragma once

#include "checks/finding.hpp"
#include "checks/progress.hpp"
#include "scene/motion/assembly.hpp"

#include <string>
#include <vector>

namespace evenclose {

struct BodyPart {
    const char* name;
    double least_gap_mm;
    double goes_in_mm; // a narrower gap it does not get into (from memory: a flat hand is 30 thick, a forearm 60)
};
/// From the widest least gap down.
[[nodiscard]] const std::vector<BodyPart>& body_parts();

struct ClosingGap {
    std::size_t moving = 0, towards = 0; // into Assembly::bodies
    double open_mm = 0;                  // widest before it closes
    double closed_mm = 0;                // narrowest after that; certified from below
    Travel open_at, closed_at;
    Vec3 at_mm{0.0};   // world, where it is narrowest
    bool known = true; // false: a mesh could not be used
    std::string why_not;

    /// Widest first.
    [[nodiscard]] std::vector<BodyPart> can_catch() const;
};

/// Of all swept pairs that move against each other, in order, but for what lies behind the head's plate, and what lifts
/// the platen from below against what hangs above it.
/// Threads: works on several at once; the answer does not depend on how many.
[[nodiscard]] std::vector<ClosingGap> measure_hands(const Assembly& assembly, Progress& progress);

/// One finding for the opening that the mold is pressed in, one for each other body that something closes on (the narrowest
/// of those first), marginal each; and one that says what was not looked at, not checked.
[[nodiscard]] std::vector<Finding> judge(const std::vector<ClosingGap>& gaps, const Assembly& assembly);

} // namespace evenclose
