#include "checks/deck.hpp"
#include "checks/level/level.hpp"
#include "checks/phrase.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// Marginal up to twice the limit: thin, flexible plies even out a little of a wedge, but nobody should plan on it
// (common practice, no source).
constexpr double kMarginalOverLimit = 2.0;
// Less than this share of the limit is not worth a shim or another speed.
constexpr double kWorthCuring = 0.25;

double tilt_of(Slope slope) { return std::atan(std::hypot(slope.x, slope.y)); }

const char* where_the_spread_comes_from(LevelSource source) {
    switch (source) {
    case LevelSource::unlinked:
        return "from how far their rates may stray";
    case LevelSource::linked:
        return "from twist and play of the link shafts";
    case LevelSource::measured:
        return "from how far the readings may be off";
    }
    return "";
}

std::string shaft_remedy(const ShaftFound& shaft) {
    if (!shaft.screws) {
        return "share the flow by a flow divider that is that true";
    }
    if (!shaft.found) {
        return shaft.shafts_there ? "make the shafts stiffer and take the play out of their couplings"
                                  : "couple their screws";
    }
    std::string text = fmt::format("couple their screws by a {} (tried: {} over the deck, couplings without play",
                                   shaft.section, length_mark(shaft.over_deck_mm));
    text += shaft.most_play_rad > 0
                ? fmt::format("; at most {:.1f}\u00b0 of play a shaft)", glm::degrees(shaft.most_play_rad))
                : ")";
    return text;
}

std::string remedy_of(const LevelMeasure& measure, double limit_mm) {
    std::vector<std::string> steps;
    if (measure.nominal_over_deck_mm > kWorthCuring * limit_mm && measure.lower_by_mm > 0) {
        if (measure.speed && measure.nominal_growth_mm > 0.5 * measure.nominal_over_deck_mm) {
            steps.push_back(fmt::format("run {} at {:.4f} times its speed, or shim {} under {}'s foot",
                                        measure.speed->drive, measure.speed->ratio, length_mark(measure.lower_by_mm),
                                        measure.lower_jack));
        } else {
            steps.push_back(
                fmt::format("shim {} under {}'s foot", length_mark(measure.lower_by_mm), measure.lower_jack));
        }
    }
    if (measure.spread_over_deck_mm > limit_mm) {
        if (measure.source == LevelSource::unlinked) {
            const double would_do = measure.greatest_tolerance * limit_mm / measure.spread_over_deck_mm;
            steps.push_back(fmt::format("match the jacks' rates to within {:.2f} % of each other, or {}",
                                        100 * would_do,
                                        measure.shaft ? shaft_remedy(*measure.shaft) : "couple their screws"));
        } else if (measure.source == LevelSource::linked) {
            steps.push_back(measure.shaft ? shaft_remedy(*measure.shaft) : "make the shafts stiffer");
        } else {
            steps.push_back("read the heights more closely: their spread alone costs that much");
        }
    }
    if (steps.empty()) {
        return "Match the jacks' rates more closely.";
    }
    std::string text = fmt::format("{}{}.", steps.front(), steps.size() > 1 ? "; and " + steps[1] : "");
    text.front() = static_cast<char>(text.front() - 'a' + 'A');
    return text;
}

Finding judge_cavity(const LevelMeasure& measure, const Setup& setup, const Assembly& assembly) {
    const double limit_mm = setup.limits.level_over_deck_mm;
    const double value_mm = measure.over_deck.value;
    Finding finding;
    finding.check = "level";
    finding.value = value_mm;
    finding.limit = limit_mm;
    finding.margin = limit_mm - value_mm;
    finding.unit = "mm";
    finding.travel = TravelInterval{measure.over_deck.at, measure.over_deck.at};
    finding.slope = measure.over_deck.slope;
    finding.bodies = {"platen"};
    const DeckPlan deck = deck_plan(setup, setup.openings.front());
    finding.at_mm =
        Vec3{deck.centre_mm.x, deck.centre_mm.y,
             setup.press->head_underside_z_mm - assembly.daylight_mm + assembly.rides[1].lift_mm(assembly.last)};
    finding.why = fmt::format(
        "At closed the platen may stand {:.2f} mrad ({:.3f}\u00b0) out of level, jacks {} apart. Over the deck of {} x "
        "{} that is {}: {} from jacks that are unequal as built, {} {}.",
        1000 * tilt_of(measure.over_deck.slope), glm::degrees(tilt_of(measure.over_deck.slope)),
        length_mark(measure.jack_span_mm), length_mark(deck.size_mm.x), length_mark(deck.size_mm.y),
        length_mark(value_mm), length_mark(measure.nominal_over_deck_mm), length_mark(measure.spread_over_deck_mm),
        where_the_spread_comes_from(measure.source));
    constexpr double kWorthTelling = 1.02; // the ride that encloses the slopes is a hair wider than they are
    if (measure.anywhere.value > kWorthTelling * tilt_of(measure.over_deck.slope) &&
        measure.anywhere.at < measure.over_deck.at) {
        finding.why += fmt::format(" Before that it may tilt more: {:.2f} mrad after {} of travel.",
                                   1000 * measure.anywhere.value, length_mark(measure.anywhere.at.mm));
    }
    if (measure.in_line) {
        finding.why += " Jacks in one line hold the platen level only along it; across it the guides do.";
    }
    if (value_mm <= limit_mm) {
        finding.verdict = Verdict::go;
        finding.title = fmt::format("The platen closes level within {} over the deck", length_mark(value_mm));
        return finding;
    }
    finding.verdict = value_mm <= kMarginalOverLimit * limit_mm ? Verdict::marginal : Verdict::no_go;
    finding.title = fmt::format("One end of the deck may close {} after the other, {} allowed", length_mark(value_mm),
                                length_mark(limit_mm));
    finding.remedy = remedy_of(measure, limit_mm);
    return finding;
}

/// More jacks than a plane needs.
Finding judge_off_plane(const LevelMeasure::OffPlane& off, const LevelMeasure& measure, const Setup& setup) {
    const double limit_mm = setup.limits.level_over_deck_mm;
    const double by_mm = std::abs(off.above_mm);
    Finding finding;
    finding.check = "level";
    finding.unit = "mm";
    finding.value = by_mm;
    finding.limit = limit_mm;
    finding.margin = limit_mm - by_mm;
    finding.travel = TravelInterval{measure.over_deck.at, measure.over_deck.at};
    finding.bodies = {off.jack};
    const char* side = off.above_mm > 0 ? "above" : "below";
    if (by_mm <= limit_mm) {
        finding.verdict = Verdict::go;
        finding.title = fmt::format("All {} jacks bear: {} stands {} {} the plane of the others",
                                    setup.press->jacks.size(), off.jack, length_mark(by_mm), side);
        return finding;
    }
    finding.verdict = Verdict::marginal;
    finding.title =
        fmt::format("{} stands {} {} the plane of the other jacks when closed", off.jack, length_mark(by_mm), side);
    finding.why =
        fmt::format("A platen lies on three jacks; on more it is bent until all bear, or {} carries {} than its "
                    "share.",
                    off.jack, off.above_mm > 0 ? "more" : "less");
    finding.remedy = off.above_mm > 0 ? fmt::format("Take {} from under {}'s foot, or shim the others up.",
                                                    length_mark(by_mm), off.jack)
                                      : fmt::format("Shim {} under {}'s foot.", length_mark(by_mm), off.jack);
    return finding;
}

/// Across a line of jacks.
Finding judge_rocking(const LevelMeasure& measure, const Setup& setup) {
    const double limit_mm = setup.limits.level_over_deck_mm;
    Finding finding;
    finding.check = "level";
    finding.unit = "mm";
    finding.value = measure.rocks_over_deck_mm;
    finding.limit = limit_mm;
    finding.margin = limit_mm - measure.rocks_over_deck_mm;
    finding.travel = TravelInterval{measure.over_deck.at, measure.over_deck.at};
    finding.bodies = {"platen"};
    const bool within = measure.rocks_over_deck_mm <= limit_mm;
    finding.verdict = within ? Verdict::go : Verdict::marginal;
    finding.title = fmt::format("Across the jacks' line the guides let the platen rock {} over the deck{}",
                                length_mark(measure.rocks_over_deck_mm),
                                within ? "" : fmt::format(", {} allowed", length_mark(limit_mm)));
    finding.why =
        "The jacks stand in one line: across it nothing but the sleeves on their posts holds the platen. The mold "
        "rocks it level as it closes on the stack; until then one side is nearer, and plies may creep.";
    if (!within) {
        finding.remedy =
            fmt::format("Take sleeves with {:.0f} % of the play, or as much longer, or a third jack out of the "
                        "line.",
                        100 * limit_mm / measure.rocks_over_deck_mm);
    }
    return finding;
}

/// What the shafts buy, or why they are not counted.
Finding judge_shafts(const LevelMeasure& measure, const Setup& setup) {
    Finding finding;
    finding.check = "level";
    finding.unit = "mm";
    finding.travel = TravelInterval{measure.over_deck.at, measure.over_deck.at};
    for (const ShaftLink& link : setup.press->link_shafts) {
        finding.bodies.push_back(link.name);
    }
    if (!measure.unlinked_over_deck_mm) {
        finding.verdict = Verdict::not_checked;
        finding.title = "The link shafts are not counted: the platen is judged as without them";
        finding.why = measure.link_unknown;
        finding.remedy = "Give the jack's \"thread\" with its friction, or the drive's \"torque_limit\".";
        return finding;
    }
    const double with = measure.over_deck.value;
    const double without = *measure.unlinked_over_deck_mm;
    finding.value = with;
    finding.limit = without;
    finding.margin = without - with;
    finding.verdict = with < without ? Verdict::go : Verdict::marginal;
    finding.title =
        with < without
            ? fmt::format("The link shafts hold the deck's ends within {} at closed; without them it could be {}",
                          length_mark(with), length_mark(without))
            : fmt::format("The link shafts buy nothing: {} over the deck at closed with them, {} without",
                          length_mark(with), length_mark(without));
    finding.why =
        "Without shafts the drives run apart by their tolerance, and more with every millimetre of travel; with "
        "them the jacks can only be apart by the shafts' twist and the couplings' play.";
    if (with >= without) {
        finding.remedy = "Take the play out of the couplings, or take a stiffer shaft.";
    }
    return finding;
}

} // namespace

std::vector<Finding> judge(const LevelMeasure& measure, const Setup& setup, const Assembly& assembly) {
    std::vector<Finding> findings{judge_cavity(measure, setup, assembly)};
    if (measure.off_plane) {
        findings.push_back(judge_off_plane(*measure.off_plane, measure, setup));
    }
    if (measure.in_line && !measure.guides.empty()) {
        findings.push_back(judge_rocking(measure, setup));
    }
    if (measure.unlinked_over_deck_mm || (!measure.link_unknown.empty() && measure.source != LevelSource::measured)) {
        findings.push_back(judge_shafts(measure, setup));
    }
    for (Finding& finding : judge(measure.guides, setup)) {
        findings.push_back(std::move(finding));
    }
    return findings;
}

} // namespace evenclose
