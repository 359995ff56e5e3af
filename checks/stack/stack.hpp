// checks/stack/stack.hpp: `stack`: do several openings over one another work together?
//
// Each opening bears the head's force and the weight of all above it (REFERENCE 15); the jacks bear everything. The lowest
// closes first and feels the most; the topmost feels the least. What molds and platens are out of thickness and out of
// parallel adds up, and the stroke and the last opening to close take it. Between unlike decks an intermediate platen is
// bent (platen_bend.hpp); where decks stand beside one another the force goes through the stack askew. And somebody has
// to lift the mold into the topmost (lifting_limit.hpp).
//
// Nothing is said of one opening: the other checks do. Not covered: platens that hang on springs or a linkage that closes
// all at once; stacks that slide off each other while they tip (guides and friction hold them, see the finding's why).
#pragma once

#include "checks/finding.hpp"
#include "scene/motion/assembly.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

struct StackedOpening {
    std::string mold;
    Travel closes;
    double floor_z_mm = 0;    // of the platen's face below, open
    double gap_mm = 0;        // to close
    double rest_short_mm = 0; // see OpenHeights
    double force_N = 0;       // through its stack
    double area_mm2 = 0;
    double pressure_MPa = 0;
    double wanted_MPa = 0; // the glue's sheet, else the least of the handbook's band
    bool sheet = false;    // the sheet says so
    double lifted_kg = 0;  // the heaviest that goes in at once; 0: not known
    double limit_kg = 0;   // that is fit to be lifted there
    [[nodiscard]] double share() const { return wanted_MPa > 0 ? pressure_MPa / wanted_MPa : 1; }
};

/// Between opening `k` and the next.
struct BetweenOpenings {
    bool alike = true;             // the decks on both sides: it does not bend
    std::optional<double> bend_mm; // none: its material is not known
    double thickness_mm = 0;
    Vec2 off_mm{0.0}; // from the middle of the deck below to that of the deck above
    double kern = 0;  // kern_use of that in the smaller deck
};

struct StackMeasure {
    std::vector<StackedOpening> openings; // from the bottom up
    std::vector<BetweenOpenings> between;
    double head_N = 0, jacks_N = 0;        // what the head feels, and what the jacks bear
    double daylight_mm = 0, closed_mm = 0; // of the press open; of all that is in it closed
    double stroke_needed_mm = 0, stroke_mm = 0;
    double thickness_error_mm = 0; // of all openings at worst
    double tilt_mm = 0;            // over the longest deck, by the jacks when closed
    double parallel_error_mm = 0;  // of the other openings, root of the sum of squares
    std::size_t weakest = 0;
};

/// Needs: a set-up of one opening or more with everything loaded, and its assembly.   Threads: pure, any.
[[nodiscard]] StackMeasure measure_stack(const Setup& setup, const Assembly& assembly);

/// Nothing for one opening. Order: go; no-go where the stroke ends before the last has closed, marginal where a platen has
/// no room on its rest. Thickness: go while the stroke's reserve covers all errors together. Pressure of the weakest opening:
/// as in `pressure`. Parallel: go within `level_over_deck`, marginal up to twice that. Bend of a platen: go within
/// `cavity_tolerance`, marginal up to twice that; not checked where its material is unknown. Askew: go up to 30 % of the
/// kern, marginal within it, no-go beyond: the edge opens. Hands: go up to the lifting limit, marginal up to three
/// times it, no-go above or where nobody should lift.
[[nodiscard]] std::vector<Finding> judge(const StackMeasure& measure, const Setup& setup, const Assembly& assembly);

} // namespace evenclose
