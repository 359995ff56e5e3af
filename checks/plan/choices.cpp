#include "checks/plan/choices.hpp"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <tuple>

namespace evenclose {
namespace {

std::vector<PlannedMold> in_openings(const ChoiceRequest& request, int openings) {
    std::vector<PlannedMold> molds;
    for (int i = 0; i < openings; ++i) {
        molds.push_back(request.molds[static_cast<std::size_t>(i) % request.molds.size()]);
    }
    return molds;
}

std::optional<double> cost_of(const ChoiceRequest& request, const Choice& choice) {
    const Costs& costs = request.costs;
    if (!costs.mold && !costs.platen && !costs.frame_a_metre) {
        return std::nullopt;
    }
    const int presses = request.week ? request.week->presses : 1;
    return costs.mold.value_or(0) * std::max(0, choice.molds - request.molds_now) +
           costs.platen.value_or(0) * std::max(0, choice.openings - request.openings_now) * presses +
           costs.frame_a_metre.value_or(0) * choice.change.raise_head_mm / 1000 * presses;
}

/// Fills in what follows from openings, molds and people. False if there is no such week.
bool complete(Choice& choice, const ChoiceRequest& request) {
    const std::vector<PlannedMold> molds = in_openings(request, choice.openings);
    std::vector<StackedMold> heights;
    choice.decks = 0;
    for (const PlannedMold& mold : molds) {
        heights.push_back(mold.height);
        choice.decks += mold.work.decks;
    }
    choice.change = least_change(heights, request.press, request.limits);
    const double daylight = request.press.daylight_mm + choice.change.raise_head_mm - choice.change.longer_stroke_mm;
    choice.stroke_mm = daylight - closed_height_mm(heights, request.limits) + request.limits.stroke_reserve_mm;
    if (request.week) {
        ShopPlan shop = *request.week;
        shop.openings.clear();
        for (const PlannedMold& mold : molds) {
            shop.openings.push_back(mold.work);
        }
        shop.molds = choice.molds;
        shop.people = choice.people;
        const Schedule week = simulate(shop);
        if (!week.not_possible.empty() || (shop.closed_limit && week.longest_wait > *shop.closed_limit)) {
            return false;
        }
        choice.decks_a_week = week.decks_a_week;
        choice.longest_wait_s = static_cast<double>(week.longest_wait);
        if (request.costs.hour && week.decks_a_week > 0) {
            const double hours = static_cast<double>(shop.day_ends - shop.day_begins) / 3600 * shop.days_a_week;
            choice.wages_a_deck = *request.costs.hour * hours * shop.people / week.decks_a_week;
        }
    }
    choice.cost = cost_of(request, choice);
    return true;
}

/// What counts, less is better.
std::vector<double> measures(const Choice& choice) {
    return {-choice.decks_a_week.value_or(choice.decks),
            static_cast<double>(choice.molds),
            static_cast<double>(choice.people),
            choice.change.raise_head_mm,
            choice.change.longer_stroke_mm,
            choice.cost.value_or(0)};
}

} // namespace

std::vector<Choice> all_choices(const ChoiceRequest& request, std::size_t& looked_at) {
    std::vector<Choice> tried;
    const int presses = request.week ? request.week->presses : 1;
    const int people = request.week ? request.week->people : 1;
    for (int openings = 1; openings <= request.most_openings; ++openings) {
        // Without a week, molds to spare and helpers bring nothing that could be told.
        const int most_molds = openings * presses * (request.week ? 2 : 1);
        for (int molds = openings * presses; molds <= most_molds; ++molds) {
            for (int more = 0; more <= (request.week ? request.more_helpers : 0); ++more) {
                Choice choice;
                choice.openings = openings;
                choice.molds = molds;
                choice.people = people + more;
                tried.push_back(choice);
            }
        }
    }
    looked_at = tried.size();
    std::vector<char> possible(tried.size());
    tbb::parallel_for(std::size_t{0}, tried.size(),
                      [&](std::size_t i) { possible[i] = complete(tried[i], request) ? 1 : 0; });
    std::vector<Choice> list;
    for (std::size_t i = 0; i < tried.size(); ++i) {
        if (possible[i] != 0) {
            list.push_back(tried[i]);
        }
    }
    return list;
}

bool beats(const Choice& one, const Choice& other) {
    const std::vector<double> a = measures(one);
    const std::vector<double> b = measures(other);
    bool better = false;
    for (std::size_t i = 0; i < a.size(); ++i) {
        if (a[i] > b[i]) {
            return false;
        }
        better = better || a[i] < b[i];
    }
    return better;
}

Choices best_choices(const ChoiceRequest& request) {
    Choices choices;
    const std::vector<Choice> all = all_choices(request, choices.looked_at);
    choices.not_possible = choices.looked_at - all.size();
    for (const Choice& choice : all) {
        const bool beaten =
            std::any_of(all.begin(), all.end(), [&](const Choice& other) { return beats(other, choice); });
        // Two that are alike in all that counts are one choice: the first of them, with fewer openings.
        const bool again = std::any_of(choices.best.begin(), choices.best.end(),
                                       [&](const Choice& before) { return measures(before) == measures(choice); });
        if (!beaten && !again) {
            choices.best.push_back(choice);
        }
    }
    return choices;
}

bool meets(const Choice& choice, const Target& target) {
    return (!target.decks || choice.decks >= *target.decks) &&
           (!target.decks_a_week || (choice.decks_a_week && *choice.decks_a_week >= *target.decks_a_week));
}

std::optional<Choice> least_press(const std::vector<Choice>& all, const Target& target) {
    std::optional<Choice> least;
    const auto order = [](const Choice& choice) {
        return std::tuple(choice.change.raise_head_mm, choice.stroke_mm, choice.molds, choice.people, choice.openings);
    };
    for (const Choice& choice : all) {
        if (meets(choice, target) && (!least || order(choice) < order(*least))) {
            least = choice;
        }
    }
    return least;
}

} // namespace evenclose
