#include "checks/level/level_curves.hpp"

#include "checks/deck.hpp"

#include <algorithm>

namespace evenclose {
namespace {

// A curve on a screen or in a report is drawn from so many places; the checks ask the lifting itself.
constexpr int kPlaces = 60;

double over_length_mm(const DeckPlan& deck, Slope slope) {
    return (slope.x * deck.length_axis.x + slope.y * deck.length_axis.y) * deck.size_mm.x;
}

LevelCurve curve_of(const Lifting& lifting, const Assembly& assembly, const DeckPlan& deck) {
    LevelCurve curve;
    curve.source = lifting.source();
    curve.counts = lifting.source() == assembly.level_source;
    const double last = std::min(assembly.last.mm, std::max(0.0, lifting.end_of_stroke().mm));
    for (int i = 0; i <= kPlaces; ++i) {
        LevelPoint point;
        point.at = {last * i / kPlaces};
        point.nominal = lifting.nominal_slope(point.at);
        point.range = lifting.slope_range(point.at);
        point.nominal_over_deck_mm = over_length_mm(deck, point.nominal);
        const SlopeRange& r = point.range;
        const auto [low, high] = std::minmax({over_length_mm(deck, r.low), over_length_mm(deck, {r.low.x, r.high.y}),
                                              over_length_mm(deck, {r.high.x, r.low.y}), over_length_mm(deck, r.high)});
        point.low_over_deck_mm = low;
        point.high_over_deck_mm = high;
        curve.points.push_back(point);
    }
    return curve;
}

} // namespace

std::vector<LevelCurve> level_curves(const Setup& setup, const Assembly& assembly) {
    const Press& press = *setup.press;
    const DeckPlan deck = deck_plan(setup, setup.openings.front());
    std::vector<LevelCurve> curves{curve_of(Lifting(press, LevelSource::unlinked), assembly, deck)};
    if (!press.link_shafts.empty() && link_unknown(press).empty()) {
        curves.push_back(curve_of(Lifting(press, LevelSource::linked), assembly, deck));
    }
    if (press.measured_heights) {
        curves.push_back(curve_of(Lifting(press, LevelSource::measured), assembly, deck));
    }
    return curves;
}

} // namespace evenclose
