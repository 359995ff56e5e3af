#include "viewer/app/plan_scatter.hpp"

#include "checks/report/curve.hpp"
#include "scene/units/duration.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>

namespace evenclose {
namespace {

constexpr int kMostSteps = 6;

double decks_of(const OfferedChoice& way) {
    return way.choice.decks_a_week.value_or(static_cast<double>(way.choice.decks));
}

std::optional<double> number_of(const OfferedChoice& way, PlanAgainst what) {
    switch (what) {
    case PlanAgainst::frame_height:
        return way.frame_height_mm;
    case PlanAgainst::cost:
        return way.choice.cost;
    case PlanAgainst::people:
        return way.choice.decks_a_week ? std::optional(static_cast<double>(way.choice.people)) : std::nullopt;
    case PlanAgainst::molds:
        return static_cast<double>(way.choice.molds);
    case PlanAgainst::stroke:
        return way.stroke_mm;
    }
    return std::nullopt;
}

bool is_length(PlanAgainst what) { return what == PlanAgainst::frame_height || what == PlanAgainst::stroke; }
bool is_count(PlanAgainst what) { return what == PlanAgainst::people || what == PlanAgainst::molds; }

struct Range {
    double from = 0, to = 1, step = 1;
    [[nodiscard]] double share(double value) const { return (value - from) / (to - from); }
};

/// From a round number below the least to one above the greatest.
Range range_of(const std::vector<double>& values, bool whole) {
    const auto [least, most] = std::minmax_element(values.begin(), values.end());
    const double span = std::max(*most - *least, whole ? 1.0 : 1e-3 * std::max(std::abs(*most), 1.0));
    Range range;
    range.step = scale_step(span, kMostSteps - 1);
    range.step = whole ? std::max(std::round(range.step), 1.0) : range.step;
    range.from = (std::floor(*least / range.step + 1e-9) - (std::fmod(*least, range.step) == 0 ? 1 : 0)) * range.step;
    range.to = (std::ceil(*most / range.step - 1e-9) + (std::fmod(*most, range.step) == 0 ? 1 : 0)) * range.step;
    range.from = std::max(range.from, 0.0);
    return range;
}

ScatterAxis axis_of(const Range& range, std::string words) {
    ScatterAxis axis{std::move(words), {}};
    for (double value = range.from; value <= range.to + 1e-6 * range.step; value += range.step) {
        axis.ticks.emplace_back(range.share(value), fmt::format("{:.6g}", value));
    }
    return axis;
}

std::string with_more(double all_mm, double more_mm, UnitSystem units) {
    return show_length(all_mm, units, 0) + (more_mm > 0 ? ", " + show_length(more_mm, units, 0) + " more" : "");
}

/// How many marks' widths to the right of its place it is drawn, so that it covers none of those that are there.
int free_beside(const std::vector<ScatterMark>& there, const ScatterMark& mark, double mark_x, double mark_y) {
    int beside = 0;
    const auto covers = [&](const ScatterMark& other) {
        const double apart = other.x + other.beside * mark_x - mark.x - beside * mark_x;
        return std::abs(other.y - mark.y) < mark_y && std::abs(apart) < 0.999 * mark_x;
    };
    while (std::any_of(there.begin(), there.end(), covers)) {
        ++beside;
    }
    return beside;
}

} // namespace

std::string words_of(PlanAgainst what) {
    constexpr std::array<const char*, 5> words{"Frame height", "Cost", "People", "Molds", "Stroke"};
    return words[static_cast<std::size_t>(what)];
}

std::vector<PlanAgainst> known_against(const Plan& plan) {
    std::vector<PlanAgainst> known;
    for (const PlanAgainst what :
         {PlanAgainst::frame_height, PlanAgainst::cost, PlanAgainst::people, PlanAgainst::molds, PlanAgainst::stroke}) {
        if (std::any_of(plan.offered.begin(), plan.offered.end(),
                        [&](const OfferedChoice& way) { return number_of(way, what).has_value(); })) {
            known.push_back(what);
        }
    }
    return known;
}

PlanScatter plan_scatter(const Plan& plan, PlanAgainst against, UnitSystem units, double mark_x, double mark_y) {
    const bool inch = is_length(against) && units == UnitSystem::inch;
    std::vector<double> xs, ys;
    std::vector<std::size_t> ways;
    for (std::size_t i = 0; i < plan.offered.size(); ++i) {
        if (const auto y = number_of(plan.offered[i], against)) {
            ways.push_back(i);
            xs.push_back(decks_of(plan.offered[i]));
            ys.push_back(inch ? *y / kMmPerInch : *y);
        }
    }
    PlanScatter scatter;
    if (ways.empty()) {
        return scatter;
    }
    const bool week = std::any_of(plan.offered.begin(), plan.offered.end(),
                                  [](const OfferedChoice& way) { return way.choice.decks_a_week.has_value(); });
    const Range across = range_of(xs, true);
    const Range up = range_of(ys, is_count(against));
    scatter.x = axis_of(across, week ? "decks a week" : "decks a pressing");
    std::string words = words_of(against);
    words.front() = static_cast<char>(words.front() - 'A' + 'a');
    scatter.y = axis_of(up, words + (!is_length(against) ? "" : inch ? ", in" : ", mm"));
    for (std::size_t i = 0; i < ways.size(); ++i) {
        ScatterMark mark{ways[i], across.share(xs[i]), up.share(ys[i]), 0,
                         fmt::format("{}", plan.offered[ways[i]].choice.openings)};
        mark.beside = free_beside(scatter.marks, mark, mark_x, mark_y);
        scatter.marks.push_back(std::move(mark));
    }
    return scatter;
}

std::string title_of(const OfferedChoice& way) {
    const auto count = [](int n, const char* one, const char* many) {
        return fmt::format("{} {}", n, n == 1 ? one : many);
    };
    std::string title =
        count(way.choice.openings, "opening", "openings") + ", " + count(way.choice.molds, "mold", "molds");
    if (way.choice.decks_a_week) {
        title += ", " + count(way.choice.people, "person", "people");
    }
    return title;
}

std::vector<WayLine> way_lines(const OfferedChoice& way, UnitSystem units) {
    const Choice& choice = way.choice;
    std::vector<WayLine> lines;
    if (choice.decks_a_week) {
        lines.push_back({"decks a week", fmt::format("{:.4g}", *choice.decks_a_week)});
    }
    lines.push_back({"decks a pressing", fmt::format("{}", choice.decks)});
    lines.push_back({"frame", with_more(way.frame_height_mm, choice.change.raise_head_mm, units)});
    lines.push_back({"stroke", with_more(way.stroke_mm, choice.change.longer_stroke_mm, units)});
    lines.push_back({"jacks bear", show_force(way.force_N, units) +
                                       (way.stronger > 1 ? fmt::format(", rated {:.3g} times", way.stronger) : "")});
    if (way.platen_mm > 0) {
        lines.push_back({"platens between", show_length(way.platen_mm, units)});
    }
    if (choice.longest_wait_s) {
        lines.push_back({"glue waits", show_duration(*choice.longest_wait_s)});
    }
    if (choice.cost) {
        lines.push_back({"cost", fmt::format("{:.0f}", *choice.cost)});
    }
    if (choice.wages_a_deck) {
        lines.push_back({"wages a deck", fmt::format("{:.2f}", *choice.wages_a_deck)});
    }
    return lines;
}

} // namespace evenclose
