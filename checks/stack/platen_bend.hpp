// checks/stack/platen_bend.hpp: how far an intermediate platen bends when the molds above and below it are not alike.
//
// Both press it with the same force, each evenly over its own deck: where one deck ends before the other the platen is
// bent. Taken as a free beam along one side, as wide as the platen; the difference of the two line loads is integrated
// twice to the moment and twice to the deflection (Euler-Bernoulli; a platen that is cut into no holes). Where the decks'
// middles are not over one another, the lower pressure leans until the moments balance.
//
// Too much rather than too little: the mold halves on both sides stiffen the platen, and a soft stack evens out.
#pragma once

namespace evenclose {

/// A deck along the beam.
struct PressedLength {
    double from_mm = 0, to_mm = 0;
    [[nodiscard]] double length_mm() const { return to_mm - from_mm; }
    [[nodiscard]] double middle_mm() const { return 0.5 * (from_mm + to_mm); }
};

/// Highest less lowest off its best straight line, over all that either deck presses, mm.
/// Needs: lengths and EI above 0, force of 0 or more.   Threads: pure, any.
[[nodiscard]] double free_beam_bend_mm(const PressedLength& below, const PressedLength& above, double force_N,
                                       double EI_Nmm2);

} // namespace evenclose
