#include "checks/level/level.hpp"

#include "checks/deck.hpp"
#include "checks/phrase.hpp"
#include "scene/press/guide_limits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace evenclose {
namespace {

// Marginal up to twice the limit: thin, flexible plies even out a little of a wedge, but nobody should plan on it
// (common practice, no source).
constexpr double kMarginalOverLimit = 2.0;
// A guide that uses more than this share of its play rubs before it binds (common practice, no source).
constexpr double kGuideShare = 0.7;

double tilt_of(Slope slope) { return std::atan(std::hypot(slope.x, slope.y)); }

std::array<Slope, 4> corners_of(const SlopeRange& range) {
    return {Slope{range.low.x, range.low.y}, Slope{range.low.x, range.high.y}, Slope{range.high.x, range.low.y},
            Slope{range.high.x, range.high.y}};
}

/// The rise of each jack's head above its place at travel 0 plus what it stood higher then, nominally.
double head_height_mm(const ScrewJack& jack, Travel at) {
    return jack.foot_mm.z + jack.closed_height_mm + jack.parked_mm + jack.rate * at.mm;
}

} // namespace

LevelMeasure measure_level(const Setup& setup, const Assembly& assembly) {
    const Ride& platen = assembly.rides[1];
    const DeckPlan deck = deck_plan(setup, setup.openings.front());
    LevelMeasure measure;

    // Slopes are linear between knots and both questions are convex in the slope, so the worst lies at a knot, at a
    // corner of its range; within the swept stroke, its end counts too.
    std::vector<Travel> places{Travel{0}, assembly.last};
    for (const RideKnot& knot : platen.knots) {
        if (knot.at > Travel{0} && knot.at < assembly.last) {
            places.push_back(knot.at);
        }
    }
    for (const Travel at : places) {
        for (const Slope slope : corners_of(platen.slope_range(at))) {
            if (const double tilt = tilt_of(slope); tilt > measure.anywhere.value) {
                measure.anywhere = {slope, at, tilt};
            }
        }
    }
    const SlopeRange at_closed = platen.slope_range(assembly.last);
    measure.over_deck.at = assembly.last;
    for (const Slope slope : corners_of(at_closed)) {
        if (const double difference = height_difference_mm(deck, slope); difference > measure.over_deck.value) {
            measure.over_deck = {slope, assembly.last, difference};
        }
    }
    measure.nominal_at_closed = at_closed.middle();
    measure.nominal_over_deck_mm = height_difference_mm(deck, measure.nominal_at_closed);
    measure.spread_over_deck_mm = height_difference_mm(
        deck, {0.5 * (at_closed.high.x - at_closed.low.x), 0.5 * (at_closed.high.y - at_closed.low.y)});

    const std::vector<ScrewJack>& jacks = setup.press->jacks;
    const auto lower = [&](const ScrewJack& a, const ScrewJack& b) {
        return head_height_mm(a, assembly.last) < head_height_mm(b, assembly.last);
    };
    const auto [lowest, highest] = std::minmax_element(jacks.begin(), jacks.end(), lower);
    measure.lower_jack = lowest->name;
    measure.lower_by_mm = head_height_mm(*highest, assembly.last) - head_height_mm(*lowest, assembly.last);
    for (const ScrewJack& a : jacks) {
        measure.greatest_tolerance = std::max(measure.greatest_tolerance, a.rate_tolerance);
        for (const ScrewJack& b : jacks) {
            measure.jack_span_mm =
                std::max(measure.jack_span_mm, std::hypot(a.foot_mm.x - b.foot_mm.x, a.foot_mm.y - b.foot_mm.y));
        }
    }
    for (const Guide& guide : setup.press->guides) {
        measure.guides.push_back(
            {guide.name, tilt_until_contact_rad(guide.bore_diameter_mm, guide.post_diameter_mm, guide.length_mm)});
    }
    return measure;
}

namespace {

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
    finding.at_mm = Vec3{deck.centre_mm.x, deck.centre_mm.y,
                         setup.press->head_underside_z_mm - assembly.daylight_mm + assembly.last.mm};
    finding.why = fmt::format(
        "At closed the platen may stand {:.2f} mrad ({:.3f}\u00b0) out of level, jacks {} apart. Over the deck of {} x "
        "{} "
        "that is {}: {} from jacks that are unequal as built, {} from how far their rates may stray.",
        1000 * tilt_of(measure.over_deck.slope), glm::degrees(tilt_of(measure.over_deck.slope)),
        length_mark(measure.jack_span_mm), length_mark(deck.size_mm.x), length_mark(deck.size_mm.y),
        length_mark(value_mm), length_mark(measure.nominal_over_deck_mm), length_mark(measure.spread_over_deck_mm));
    if (setup.press->jacks.size() == 2) {
        finding.why += " Two jacks hold the platen level only along their own line; across it the guides do.";
    }
    if (value_mm <= limit_mm) {
        finding.verdict = Verdict::go;
        finding.title = fmt::format("The platen closes level within {} over the deck", length_mark(value_mm));
        return finding;
    }
    finding.verdict = value_mm <= kMarginalOverLimit * limit_mm ? Verdict::marginal : Verdict::no_go;
    finding.title = fmt::format("One end of the deck may close {} after the other, {} allowed", length_mark(value_mm),
                                length_mark(limit_mm));
    std::string remedy;
    if (measure.nominal_over_deck_mm > 0.25 * limit_mm && measure.lower_by_mm > 0) {
        remedy = fmt::format("Shim {} under {}'s foot", length_mark(measure.lower_by_mm), measure.lower_jack);
    }
    if (measure.spread_over_deck_mm > limit_mm) {
        const double would_do = measure.greatest_tolerance * limit_mm / measure.spread_over_deck_mm;
        remedy += fmt::format("{} the jacks' rates to within {:.2f} % of each other, or couple their screws",
                              remedy.empty() ? "Match" : "; and match", 100 * would_do);
    }
    finding.remedy = remedy.empty() ? "Match the jacks' rates more closely." : remedy + ".";
    return finding;
}

Finding judge_guides(const LevelMeasure& measure) {
    Finding finding;
    finding.check = "level";
    finding.unit = "rad";
    finding.value = measure.anywhere.value;
    finding.travel = TravelInterval{measure.anywhere.at, measure.anywhere.at};
    finding.slope = measure.anywhere.slope;
    if (measure.guides.empty()) {
        finding.verdict = Verdict::not_checked;
        finding.title = "Whether the guides bind was not checked";
        finding.why = "The press document has no \"guides\": post, bore and sleeve length are missing.";
        finding.remedy = "Add the guides, or hold the platen level across the jacks' line by other means.";
        return finding;
    }
    const auto tightest =
        std::min_element(measure.guides.begin(), measure.guides.end(),
                         [](const GuideTilt& a, const GuideTilt& b) { return a.allowed_rad < b.allowed_rad; });
    finding.limit = tightest->allowed_rad;
    finding.margin = tightest->allowed_rad - measure.anywhere.value;
    finding.bodies = {tightest->guide};
    const std::string numbers =
        fmt::format("{:.2f} of {:.2f} mrad", 1000 * measure.anywhere.value, 1000 * tightest->allowed_rad);
    finding.why = fmt::format("{} lets its sleeve tilt until both ends touch the post; the platen tilts most after {} "
                              "of travel.",
                              tightest->guide, length_mark(measure.anywhere.at.mm));
    if (measure.anywhere.value >= tightest->allowed_rad) {
        finding.verdict = Verdict::no_go;
        finding.title = fmt::format("{} binds: the platen tilts {} that its play allows", tightest->guide, numbers);
        finding.remedy = fmt::format("Level the jacks to within {} of each other, or give the sleeve more play.",
                                     length_mark(tightest->allowed_rad * measure.jack_span_mm));
    } else if (measure.anywhere.value > kGuideShare * tightest->allowed_rad) {
        finding.verdict = Verdict::marginal;
        finding.title = fmt::format("{} will rub: the platen tilts {} that its play allows", tightest->guide, numbers);
        finding.remedy = fmt::format("Level the jacks to within {} of each other.",
                                     length_mark(kGuideShare * tightest->allowed_rad * measure.jack_span_mm));
    } else {
        finding.verdict = Verdict::go;
        finding.title = fmt::format("Guides run free: the platen tilts {} that {} allows", numbers, tightest->guide);
    }
    return finding;
}

} // namespace

std::vector<Finding> judge(const LevelMeasure& measure, const Setup& setup, const Assembly& assembly) {
    return {judge_cavity(measure, setup, assembly), judge_guides(measure)};
}

} // namespace evenclose
