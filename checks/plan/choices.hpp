// checks/plan/choices.hpp: every way to press more in a press, and those of them that no other beats in every way.
//
// A choice is a number of openings, of molds and of helpers; what the press must become for it follows (stacking.hpp), and so
// do the decks a week (schedule.hpp). The list is exhaustive, no search that could miss something:
//
// - openings from 1 to `most_openings`, every number;
// - helpers from those there are to `more_helpers` more, every number;
// - molds from one for each opening of each press to twice that, every number. More are never in use at once: what a press
//   holds and what is laid up ahead for it is at most two for each opening, so a shop with more has the very same week.
//
// Of all these stay the ones that no other is at least as good as in decks (a week; a pressing where no week is known),
// molds, people, height, stroke, and cost where costs are known, and better in one. Proven by comparing each with each.
#pragma once

#include "checks/plan/schedule.hpp"
#include "checks/plan/stacking.hpp"
#include "scene/setup/workshop.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace evenclose {

/// A mold that is at hand; opening k takes molds[k % size].
struct PlannedMold {
    StackedMold height;
    MoldWork work; // its times, 0 where they are not known
};

struct ChoiceRequest {
    std::vector<PlannedMold> molds;
    PressRoom press;
    StackLimits limits;
    int openings_now = 1;
    int molds_now = 0;            // that the shop has already; they cost nothing
    std::optional<ShopPlan> week; // its openings, molds and people are set anew for each choice; none: no times known
    Costs costs;
    int most_openings = 1;
    int more_helpers = 0;
};

struct Choice {
    int openings = 1, molds = 1, people = 1;
    int decks = 1; // a pressing of one press
    PressChange change;
    double stroke_mm = 0; // needed, with the reserve
    std::optional<double> decks_a_week;
    std::optional<double> longest_wait_s; // laid up until under pressure
    std::optional<double> cost;           // to get there, in the shop's money
    std::optional<double> wages_a_deck;
};

struct Choices {
    std::vector<Choice> best; // by openings, molds, people
    std::size_t looked_at = 0;
    std::size_t not_possible = 0; // of them: no week can be planned, or the glue does not wait that long
};

/// All of them, in order; those that are not possible left out.
/// Needs: a mold, a week that simulate() takes.   Threads: pure, any; uses all there are, the same answer for any number.
[[nodiscard]] std::vector<Choice> all_choices(const ChoiceRequest& request, std::size_t& looked_at);

/// At least as good in everything, and better in something.
[[nodiscard]] bool beats(const Choice& one, const Choice& other);

[[nodiscard]] Choices best_choices(const ChoiceRequest& request);

/// What is asked of a plan.
struct Target {
    std::optional<int> decks; // a pressing of one press
    std::optional<double> decks_a_week;
};
[[nodiscard]] bool meets(const Choice& choice, const Target& target);

/// Of all that meet the target: the head raised the least; then the shortest stroke, the fewest molds, people, openings.
/// None: none does.
[[nodiscard]] std::optional<Choice> least_press(const std::vector<Choice>& all, const Target& target);

} // namespace evenclose
