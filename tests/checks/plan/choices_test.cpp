// The planner against a slow twin that knows none of its formulas: it builds the press up millimetre by millimetre, tries
// more molds than the planner does, and sorts out what is beaten in its own way.
#include "checks/plan/choices.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <optional>
#include <random>
#include <set>
#include <vector>

using namespace evenclose;
using namespace evenclose::test;

namespace {

/// By whole millimetres: is there room in every opening, one after the other, and does the last jack still close it?
bool works(const std::vector<StackedMold>& molds, const PressRoom& press, const StackLimits& limits, int raise,
           int longer) {
    double left = press.daylight_mm + raise - longer; // it parks higher by what it gained
    double closing = left;
    for (std::size_t i = 0; i < molds.size(); ++i) {
        if (i > 0) {
            left -= limits.platen_mm;
            closing -= limits.platen_mm;
        }
        left -= molds[i].sandwich_mm;
        left -= limits.loading_clearance_mm;
        closing -= molds[i].shut_mm;
    }
    return left >= 0 && closing <= press.stroke_mm + longer - limits.stroke_reserve_mm;
}

/// Least raise, then least lengthening, by trying.
PressChange tried(const std::vector<StackedMold>& molds, const PressRoom& press, const StackLimits& limits) {
    for (int raise = 0;; ++raise) {
        for (int longer = 0; longer <= raise + static_cast<int>(press.daylight_mm); ++longer) {
            if (works(molds, press, limits, raise, longer)) {
                return {static_cast<double>(raise), static_cast<double>(longer)};
            }
        }
    }
}

struct Case {
    ChoiceRequest request;
};

/// Heights are even numbers of mm, so that the twin's whole millimetres hit the exact answer.
ChoiceRequest random_case(std::mt19937& random) {
    const auto pick = [&](int from, int to) { return std::uniform_int_distribution<int>(from, to)(random); };
    ChoiceRequest request;
    const int molds = pick(1, 2);
    for (int i = 0; i < molds; ++i) {
        const int shut = 2 * pick(30, 60);
        const int loose = shut + 2 * pick(2, 20);
        request.molds.push_back({{static_cast<double>(loose), static_cast<double>(shut)},
                                 {pick(2, 12) * 60, pick(1, 3) * 60, pick(1, 3) * 60, pick(1, 2)}});
    }
    request.press = {2.0 * pick(60, 150), 2.0 * pick(20, 80)};
    request.limits = {2.0 * pick(5, 15), 2.0 * pick(0, 10), 2.0 * pick(0, 6)};
    request.most_openings = pick(1, 3);
    request.more_helpers = pick(0, 1);
    request.molds_now = pick(0, 2);
    ShopPlan week;
    week.close = 60;
    week.press = pick(20, 120) * 60;
    week.presses = pick(1, 2);
    week.people = pick(1, 2);
    week.cure = pick(0, 1) * 24 * 3600;
    if (pick(0, 1) == 1) {
        week.racks = pick(4, 12);
    }
    if (pick(0, 1) == 1) {
        week.closed_limit = pick(4, 40) * 60;
    }
    week.day_ends = (8 + pick(2, 4)) * 3600;
    week.days_a_week = pick(1, 3);
    if (pick(0, 4) > 0) {
        request.week = week;
    }
    if (pick(0, 1) == 1) {
        request.costs.mold = pick(0, 300);
        request.costs.frame_a_metre = pick(0, 300);
    }
    if (pick(0, 1) == 1) {
        request.costs.platen = pick(0, 100);
    }
    return request;
}

/// openings, molds, people; decks or decks a week, raise, longer, cost
struct Way {
    std::array<int, 3> what;
    std::array<double, 6> counts; // less is better
};

std::vector<Way> slow_ways(const ChoiceRequest& request) {
    std::vector<Way> ways;
    const int presses = request.week ? request.week->presses : 1;
    const int people = request.week ? request.week->people : 1;
    for (int openings = 1; openings <= request.most_openings; ++openings) {
        std::vector<StackedMold> heights;
        std::vector<MoldWork> work;
        int decks = 0;
        for (int i = 0; i < openings; ++i) {
            const PlannedMold& mold = request.molds[static_cast<std::size_t>(i) % request.molds.size()];
            heights.push_back(mold.height);
            work.push_back(mold.work);
            decks += mold.work.decks;
        }
        const PressChange change = tried(heights, request.press, request.limits);
        const int least = openings * presses;
        // One and a half times as many as the planner looks at: they must bring nothing.
        for (int molds = least; molds <= (request.week ? 3 * least : least); ++molds) {
            for (int more = 0; more <= (request.week ? request.more_helpers : 0); ++more) {
                double rate = decks;
                if (request.week) {
                    ShopPlan shop = *request.week;
                    shop.openings = work;
                    shop.molds = molds;
                    shop.people = people + more;
                    const Schedule week = simulate(shop);
                    if (!week.not_possible.empty() || (shop.closed_limit && week.longest_wait > *shop.closed_limit)) {
                        continue;
                    }
                    rate = week.decks_a_week;
                }
                double cost = 0;
                if (request.costs.mold || request.costs.platen || request.costs.frame_a_metre) {
                    cost = request.costs.mold.value_or(0) * std::max(0, molds - request.molds_now) +
                           request.costs.platen.value_or(0) * (openings - 1) * presses +
                           request.costs.frame_a_metre.value_or(0) * change.raise_head_mm / 1000 * presses;
                }
                ways.push_back({{openings, molds, people + more},
                                {-rate, static_cast<double>(molds), static_cast<double>(people + more),
                                 change.raise_head_mm, change.longer_stroke_mm, cost}});
            }
        }
    }
    return ways;
}

/// By sorting: what is beaten is beaten by something that stands before it.
std::vector<std::array<double, 6>> not_beaten(std::vector<Way> ways) {
    std::sort(ways.begin(), ways.end(), [](const Way& a, const Way& b) { return a.counts < b.counts; });
    std::vector<std::array<double, 6>> front;
    for (const Way& way : ways) {
        bool stays = true;
        for (const auto& before : front) {
            int no_worse = 0;
            for (std::size_t i = 0; i < before.size(); ++i) {
                no_worse += before[i] <= way.counts[i] ? 1 : 0;
            }
            stays = stays && no_worse < 6; // all no worse: alike or beaten
        }
        if (stays) {
            front.push_back(way.counts);
        }
    }
    return front;
}

} // namespace

TEST_CASE("REFERENCE 15.1: three gaps of 40 between 90 closed, platens of 25") {
    // Stroke 120; closed stack 3 x 90 + 2 x 25 = 320.
    const std::vector<StackedMold> molds(3, {115, 90}); // and 15 to load by: 40 to close
    const StackLimits limits{25, 15, 0};
    CHECK(closed_height_mm(molds, limits) == 320);
    CHECK(daylight_needed_mm(molds, limits) == 440);
    const PressChange none = least_change(molds, {440, 120}, limits);
    CHECK(none.raise_head_mm == 0);
    CHECK(none.longer_stroke_mm == 0);
    // 40 too low: the head rises by 40. A stroke of 100 only: 20 longer, 20 higher when parked, so the head rises by 60.
    CHECK(least_change(molds, {400, 120}, limits).raise_head_mm == 40);
    const PressChange both = least_change(molds, {400, 100}, limits);
    CHECK(both.longer_stroke_mm == 20);
    CHECK(both.raise_head_mm == 60);
}

TEST_CASE("the planner's list and its least press equal brute force on 500 random small cases") {
    std::mt19937 random(150);
    int with_week = 0;
    int several = 0;
    int reached = 0;
    for (int trial = 0; trial < 500; ++trial) {
        CAPTURE(trial);
        const ChoiceRequest request = random_case(random);
        const Choices choices = best_choices(request);
        const std::vector<Way> ways = slow_ways(request);
        const std::vector<std::array<double, 6>> front = not_beaten(ways);
        std::vector<std::array<double, 6>> ours;
        for (const Choice& choice : choices.best) {
            ours.push_back({-choice.decks_a_week.value_or(choice.decks), static_cast<double>(choice.molds),
                            static_cast<double>(choice.people), choice.change.raise_head_mm,
                            choice.change.longer_stroke_mm, choice.cost.value_or(0)});
        }
        std::sort(ours.begin(), ours.end());
        CHECK(ours == front);
        with_week += request.week ? 1 : 0;
        several += front.size() > 2 ? 1 : 0;

        // The least frame for a target, over all ways.
        Target target;
        const int wanted = std::uniform_int_distribution<int>(1, 6)(random);
        if (request.week) {
            target.decks_a_week = 3.0 * wanted;
        } else {
            target.decks = wanted;
        }
        std::optional<double> least;
        for (const Way& way : ways) {
            if (-way.counts[0] >= (request.week ? 3.0 * wanted : wanted)) {
                least = std::min(least.value_or(way.counts[3]), way.counts[3]);
            }
        }
        std::size_t looked_at = 0;
        const std::optional<Choice> found = least_press(all_choices(request, looked_at), target);
        REQUIRE(found.has_value() == least.has_value());
        if (found) {
            ++reached;
            CHECK(found->change.raise_head_mm == *least);
            CHECK(meets(*found, target));
        }
    }
    CHECK(with_week > 300);
    CHECK(several > 100);
    CHECK(reached > 200);
}

TEST_CASE("nothing in the list beats another of it, and everything left out is beaten or alike") {
    std::mt19937 random(2);
    for (int trial = 0; trial < 40; ++trial) {
        const ChoiceRequest request = random_case(random);
        const Choices choices = best_choices(request);
        std::size_t looked_at = 0;
        for (const Choice& choice : choices.best) {
            for (const Choice& other : choices.best) {
                CHECK_FALSE(beats(choice, other));
            }
        }
        for (const Choice& any : all_choices(request, looked_at)) {
            CHECK(std::any_of(choices.best.begin(), choices.best.end(),
                              [&](const Choice& best) { return beats(best, any) || !beats(any, best); }));
        }
        CHECK(looked_at == choices.looked_at);
    }
}
