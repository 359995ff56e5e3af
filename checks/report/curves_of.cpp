#include "checks/report/curves_of.hpp"

#include "checks/travel/travel.hpp"
#include "checks/travel/worst_pairs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>

namespace evenclose {
namespace {

// More lines than these cannot be followed in one diagram; which are left out is said.
constexpr std::size_t kMostPairs = 6;

/// Lengths of a diagram: mm, or inches as decimals, since an axis of fractions cannot be read.
struct Lengths {
    UnitSystem units = UnitSystem::metric;
    [[nodiscard]] double of(double mm) const { return units == UnitSystem::inch ? mm / kMmPerInch : mm; }
    [[nodiscard]] const char* word() const { return units == UnitSystem::inch ? "in" : "mm"; }
};

CurveLine line_of(const std::string& name, const Sweep& sweep, double interest, const Lengths& lengths) {
    CurveLine line;
    line.name = name;
    std::vector<Vec2> run;
    const auto end_run = [&] {
        if (!run.empty()) {
            line.runs.push_back(std::move(run));
            run.clear();
        }
    };
    for (const ClearanceSpan& span : sweep.spans) {
        if (span.lower_mm >= interest) {
            end_run();
            continue;
        }
        run.emplace_back(lengths.of(span.from.mm), lengths.of(span.lower_mm));
        run.emplace_back(lengths.of(span.to.mm), lengths.of(span.lower_mm));
    }
    end_run();
    if (fouls(sweep)) {
        std::transform(
            sweep.contacts.begin(), sweep.contacts.end(), std::back_inserter(line.fouls),
            [&](const ContactSpan& span) { return std::pair(lengths.of(span.from.mm), lengths.of(span.to.mm)); });
    }
    return line;
}

Curve clearance_curve(const Setup& setup, const Assembly& assembly, const std::vector<PairProfile>& profiles,
                      const Lengths& lengths) {
    const double interest = interest_mm(setup.limits);
    Curve curve;
    curve.title = "Clearance over the travel";
    curve.x_words = fmt::format("travel, {}", lengths.word());
    curve.y_words = fmt::format("distance, {}", lengths.word());
    std::vector<const Sweep*> sweeps;
    std::transform(profiles.begin(), profiles.end(), std::back_inserter(sweeps),
                   [](const PairProfile& profile) { return &profile.sweep; });
    std::size_t left_out = 0;
    for (const std::size_t which : worst_first(sweeps)) {
        const PairProfile& pair = profiles[which];
        CurveLine line =
            line_of(fmt::format("{} and {}", assembly.bodies[pair.first].name, assembly.bodies[pair.second].name),
                    pair.sweep, interest, lengths);
        if (line.runs.empty() && line.fouls.empty()) {
            continue;
        }
        if (curve.lines.size() == kMostPairs) {
            ++left_out;
            continue;
        }
        curve.lines.push_back(std::move(line));
    }
    curve.reading = fmt::format(
        "The nearest pairs of parts that pass each other, at every travel and every tilt the jacks may give: "
        "certified, they "
        "never come nearer than drawn. A line ends where the pair is farther apart than {}; a heavy bar is a foul.{}",
        show_length(interest, lengths.units),
        left_out > 0 ? fmt::format(" {} more come nearer than that, none as near as these.", left_out) : "");
    curve.limits.push_back({lengths.of(setup.limits.running_clearance_mm),
                            "running clearance " + show_length(setup.limits.running_clearance_mm, lengths.units)});
    return curve;
}

const char* words_of(LevelSource source) {
    switch (source) {
    case LevelSource::unlinked:
        return "each drive by itself";
    case LevelSource::linked:
        return "with the link shafts";
    case LevelSource::measured:
        return "as measured on the press";
    }
    return "";
}

Curve level_curve(const Setup& setup, const std::vector<LevelCurve>& curves, const Lengths& lengths) {
    Curve curve;
    curve.title = "Tilt of the platen over the deck";
    curve.reading =
        "How much higher the deck's far end may lie than its near end: the shaded area is all that the jacks and "
        "guides allow.";
    curve.x_words = fmt::format("travel, {}", lengths.word());
    curve.y_words = fmt::format("difference, {}", lengths.word());
    for (const LevelCurve& level : curves) {
        CurveLine line;
        line.name = fmt::format("{}{}", words_of(level.source), level.counts ? " (what the checks use)" : "");
        line.dashed = !level.counts;
        line.runs.emplace_back();
        for (const LevelPoint& point : level.points) {
            line.runs.front().emplace_back(lengths.of(point.at.mm), lengths.of(point.low_over_deck_mm));
            line.upper_edge.emplace_back(lengths.of(point.at.mm), lengths.of(point.high_over_deck_mm));
        }
        curve.lines.push_back(std::move(line));
    }
    const double limit = setup.limits.level_over_deck_mm;
    curve.limits = {{lengths.of(limit), "allowed " + show_length(limit, lengths.units)},
                    {lengths.of(-limit), "allowed"}};
    return curve;
}

/// Jacks of one kind share a diagram: torque and pressure have no common axis.
Curve effort_curve(const std::vector<JackRun>& jacks, bool pumped, const Lengths& lengths) {
    const bool inch = lengths.units == UnitSystem::inch;
    Curve curve;
    curve.title = pumped ? "Pressure that raises the rated load" : "Torque that raises the rated load";
    curve.reading =
        pumped ? "What the pump must bring for each jack to bear its rated load there."
               : "What must be brought to each jack's screw for it to raise its rated load there, friction as given.";
    curve.x_words = fmt::format("travel, {}", lengths.word());
    curve.y_words = pumped ? (inch ? "pressure, psi" : "pressure, MPa") : (inch ? "torque, lbf ft" : "torque, N m");
    const double unit = pumped ? (inch ? kMPaPerPsi : 1.0) : (inch ? kNmmPerPoundFoot : 1000.0);
    // Jacks that ask the same at every travel are one line with all their names.
    std::map<std::vector<double>, CurveLine> lines;
    std::vector<std::vector<double>> order;
    for (const JackRun& jack : jacks) {
        if (jack.pumped != pumped) {
            continue;
        }
        CurveLine line;
        line.name = fmt::format("{} ({})", jack.jack, show_force(jack.rated_load_N, lengths.units));
        std::vector<double> key{jack.rated_load_N};
        line.runs.emplace_back();
        for (const JackPoint& point : jack.points) {
            if (std::isfinite(point.effort)) {
                line.runs.front().emplace_back(lengths.of(point.at.mm), point.effort / unit);
                key.insert(key.end(), {point.at.mm, point.effort});
            }
        }
        if (line.runs.front().empty()) {
            continue;
        }
        if (const auto same = lines.find(key); same != lines.end()) {
            same->second.name = fmt::format("{}, {}", jack.jack, same->second.name);
        } else {
            lines.emplace(key, std::move(line));
            order.push_back(key);
        }
    }
    std::transform(order.begin(), order.end(), std::back_inserter(curve.lines),
                   [&](const std::vector<double>& key) { return lines.at(key); });
    return curve;
}

} // namespace

std::vector<Curve> curves_of(const Setup& setup, const Assembly& assembly, const CheckResults& results,
                             UnitSystem units) {
    const Lengths lengths{units};
    std::vector<Curve> curves;
    if (!results.profiles.empty()) {
        curves.push_back(clearance_curve(setup, assembly, results.profiles, lengths));
    }
    if (!results.level.empty()) {
        curves.push_back(level_curve(setup, results.level, lengths));
    }
    for (const bool pumped : {false, true}) {
        curves.push_back(effort_curve(results.jacks, pumped, lengths));
    }
    curves.erase(std::remove_if(curves.begin(), curves.end(), [](const Curve& curve) { return curve.lines.empty(); }),
                 curves.end());
    return curves;
}

} // namespace evenclose
