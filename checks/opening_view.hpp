// checks/opening_view.hpp: one opening of several, as if it were a press of its own.
//
// While an opening closes, the platen above it still lies on its rest: so it is a press whose platen is the one below, whose
// head is the one above, at the heights of travel 0, and it closes after its own gap. What a check asks of one mold it asks
// of this view. Bodies keep their names and places; those of other openings are only what stands around. Travels are the
// press's own: where this opening closes.
//
// The tilt of the platen when all is closed may fall on any one opening (a rigid stack shares it in no known way), so each
// is judged under all of it.
#pragma once

#include "checks/finding.hpp"
#include "scene/motion/assembly.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace evenclose {

struct OpeningView {
    Setup setup;       // that opening alone, its platens for platen and head
    Assembly assembly; // the same bodies
};

/// With one opening: set-up and assembly as they are.   Needs: an opening that is there.   Threads: pure, any.
[[nodiscard]] OpeningView view_of(const Setup& setup, const Assembly& assembly, std::size_t opening);

/// The whole press as if the closed stack were one mold with this opening's deck in it: for what is asked of the press as
/// a whole (level, pressure, frame), with the assembly as it is.
[[nodiscard]] Setup stack_as_one(const Setup& setup, const Assembly& assembly, std::size_t opening);

/// Openings that a check finds alike, the first of each told to measure: the same mold, in the same place on platens that
/// are alike if `with_platens`.
[[nodiscard]] std::vector<std::vector<std::size_t>> alike(const Setup& setup, bool with_platens);

/// "Opening 2", "Openings 1 and 3", "Openings 1 to 12".   Needs: one or more, in order.
[[nodiscard]] std::string called(const std::vector<std::size_t>& openings);

/// Findings of a press with several openings, those put into one that say the same of several and differ in their
/// numbers at most; of these the worst is told, and which it is. `openings` is filled from the bodies where it is empty.
/// Order is kept.   Threads: pure, any.
[[nodiscard]] std::vector<Finding> put_together(std::vector<Finding> findings);

/// What a check said of a view, as said of that opening: "the platen" is then the one below, "the head" the one above.
void tell_of(std::vector<Finding>& findings, const Assembly& assembly, const std::vector<std::size_t>& openings);

} // namespace evenclose
