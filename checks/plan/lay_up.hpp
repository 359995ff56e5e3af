// checks/plan/lay_up.hpp: what one deck takes at the bench, and how long its glue is pressed.
//
// All glue lines of a deck are spread, then its plies are stacked and the mold closed on them: the first face that was
// spread lies open for both, and longest. (A shop that joins each ply as soon as it is spread has more time than this.)
#pragma once

#include "scene/mold/glue.hpp"
#include "scene/mold/mold.hpp"
#include "scene/setup/workshop.hpp"

#include <optional>

namespace evenclose {

struct LayUp {
    int glue_lines = 0; // of all decks in the mold
    double spread_s = 0, stack_s = 0;

    [[nodiscard]] double seconds() const { return spread_s + stack_s; }
};

/// One person, one mold.
[[nodiscard]] LayUp lay_up_of(const PlyStack& stack, const CrewPace& crew);

/// Least time under pressure. Between two rows of the sheet in proportion: cure gets slower the colder it is, by a factor
/// a degree (REFERENCE 6: about twice as long each 10 degrees), so the straight line lies above the curve, on the safe
/// side. None beyond the rows: a sheet that stops at 10 C does not say that the glue cures at 5.
/// Needs: rows by rising temperature.
[[nodiscard]] std::optional<double> press_time_s(const Glue& glue, double temperature_C);

} // namespace evenclose
