// viewer/app/plan_scatter.hpp: the ways of a plan as marks on a diagram: decks against what they cost, ready to be drawn.
// Pure, tested without a screen.
#pragma once

#include "checks/plan/plan.hpp"
#include "scene/units/units.hpp"
#include "viewer/app/planning.hpp"

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace evenclose {

struct ScatterMark {
    std::size_t way = 0;  // into Plan::offered
    double x = 0, y = 0;  // shares of the axes, 0 to 1
    int beside = 0;       // so many marks' widths right of its place it is drawn, so that it covers no other
    std::string openings; // "2", written into the mark
};

struct ScatterAxis {
    std::string words; // "decks a week", "frame height, mm"
    std::vector<std::pair<double, std::string>> ticks;
};

struct PlanScatter {
    ScatterAxis x, y;
    std::vector<ScatterMark> marks; // by way
};

/// Ways of which that number is known for at least one.
[[nodiscard]] std::vector<PlanAgainst> known_against(const Plan& plan);
[[nodiscard]] std::string words_of(PlanAgainst what); // "Frame height"

/// Needs: at least one way on offer. `mark_x`, `mark_y`: how much of each axis a mark takes, so that none covers another.
[[nodiscard]] PlanScatter plan_scatter(const Plan& plan, PlanAgainst against, UnitSystem units, double mark_x,
                                       double mark_y);

/// The numbers of a way, and what it changes against the press as it stands: "frame", "1447 mm, 227 mm more".
struct WayLine {
    std::string what, how_much;
};
[[nodiscard]] std::vector<WayLine> way_lines(const OfferedChoice& way, UnitSystem units);
/// "2 openings, 4 molds, 1 person".
[[nodiscard]] std::string title_of(const OfferedChoice& way);

} // namespace evenclose
