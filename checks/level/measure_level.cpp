#include "checks/deck.hpp"
#include "checks/level/level.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace evenclose {
namespace {

double tilt_of(Slope slope) { return std::atan(std::hypot(slope.x, slope.y)); }

std::array<Slope, 4> corners_of(const SlopeRange& range) {
    return {Slope{range.low.x, range.low.y}, Slope{range.low.x, range.high.y}, Slope{range.high.x, range.low.y},
            Slope{range.high.x, range.high.y}};
}

double worst_over_deck_mm(const DeckPlan& deck, const SlopeRange& range) {
    double worst = 0;
    for (const Slope slope : corners_of(range)) {
        worst = std::max(worst, height_difference_mm(deck, slope));
    }
    return worst;
}

/// Greatest tilt by the jacks alone: slopes are straight between the knots of a ride that encloses them, and the tilt is
/// convex in the slope, so it lies at a knot, at a corner of its range; where the sweep ends counts too.
WorstSlope worst_anywhere(const Ride& jacks_alone, Travel last) {
    std::vector<Travel> places{Travel{0}, last};
    for (const RideKnot& knot : jacks_alone.knots) {
        if (knot.at > Travel{0} && knot.at < last) {
            places.push_back(knot.at);
        }
    }
    WorstSlope worst;
    for (const Travel at : places) {
        for (const Slope slope : corners_of(jacks_alone.slope_range(at))) {
            if (const double tilt = tilt_of(slope); tilt > worst.value) {
                worst = {slope, at, tilt};
            }
        }
    }
    return worst;
}

/// The speed at which the drive of the lower jack would bring its head up to the others by the time it closes.
std::optional<SpeedThatLevels> speed_that_levels(const Press& press, const Lifting& lifting, std::size_t jack,
                                                 double lower_by_mm, Travel closed) {
    const auto drive = std::find_if(press.drives.begin(), press.drives.end(), [&](const Drive& d) {
        return std::find(d.jacks.begin(), d.jacks.end(), jack) != d.jacks.end();
    });
    if (drive == press.drives.end() || drive->jacks.size() != 1 || lifting.source() != LevelSource::unlinked) {
        return std::nullopt;
    }
    const HeightLaw law = law_of(press.jacks[jack]);
    const double parked = press.jacks[jack].parked_mm;
    const double out = lifting.out_mm(jack, closed);
    if (!(out + lower_by_mm < std::min(press.jacks[jack].stroke_mm, most_rise_mm(law)))) {
        return std::nullopt;
    }
    const double turned = drive_for(law, out) - drive_for(law, parked);
    const double wanted = drive_for(law, out + lower_by_mm) - drive_for(law, parked);
    return turned > 0 ? std::optional(SpeedThatLevels{drive->name, wanted / turned}) : std::nullopt;
}

/// By the heads as they stand nominally when closed.
std::optional<LevelMeasure::OffPlane> off_plane(const Press& press, const Lifting& lifting, Travel closed) {
    const std::vector<HeadHeight> heads = lifting.heads(closed);
    if (heads.size() <= (lifting.in_line() ? 2U : 3U)) {
        return std::nullopt; // a line, or a plane, goes through all of them
    }
    const std::vector<double> residuals = plane_through(heads).residual_mm;
    const auto worst = std::max_element(residuals.begin(), residuals.end(),
                                        [](double a, double b) { return std::abs(a) < std::abs(b); });
    const auto jack = static_cast<std::size_t>(worst - residuals.begin());
    std::vector<HeadHeight> others = heads;
    others.erase(others.begin() + static_cast<std::ptrdiff_t>(jack));
    return LevelMeasure::OffPlane{press.jacks[jack].name,
                                  heads[jack].height_mm - plane_through(others).height_mm(heads[jack].at_mm)};
}

} // namespace

LevelMeasure measure_level(const Setup& setup, const Assembly& assembly) {
    const Press& press = *setup.press;
    const DeckPlan deck = deck_plan(setup, setup.openings.front());
    const Lifting lifting(press, assembly.level_source);
    const Travel closed = assembly.last;
    LevelMeasure measure;
    measure.source = lifting.source();
    measure.in_line = lifting.in_line();
    measure.anywhere = worst_anywhere(lifting.rides().jacks_alone, closed);

    const SlopeRange at_closed = lifting.jack_slope_range(closed);
    measure.over_deck.at = closed;
    for (const Slope slope : corners_of(at_closed)) {
        if (const double difference = height_difference_mm(deck, slope); difference > measure.over_deck.value) {
            measure.over_deck = {slope, closed, difference};
        }
    }
    const Slope middle = at_closed.middle();
    const Slope at_open = lifting.jack_slope_range({0}).middle();
    measure.nominal_at_closed = middle;
    measure.nominal_over_deck_mm = height_difference_mm(deck, middle);
    measure.nominal_growth_mm = height_difference_mm(deck, {middle.x - at_open.x, middle.y - at_open.y});
    measure.spread_over_deck_mm = height_difference_mm(
        deck, {0.5 * (at_closed.high.x - at_closed.low.x), 0.5 * (at_closed.high.y - at_closed.low.y)});
    const double play = lifting.guide_play(closed);
    const Vec2 across = plane_through(lifting.heads(closed)).across_line;
    measure.rocks_over_deck_mm = height_difference_mm(deck, {play * across.x, play * across.y});

    // How far each head lies below the highest, in the plane of the middle slope: what a shim under it cures.
    const auto height_in_plane = [&](const Jack& jack) {
        return middle.x * jack.foot_mm.x + middle.y * jack.foot_mm.y;
    };
    const auto [lowest, highest] =
        std::minmax_element(press.jacks.begin(), press.jacks.end(),
                            [&](const Jack& a, const Jack& b) { return height_in_plane(a) < height_in_plane(b); });
    measure.lower_jack = lowest->name;
    measure.lower_by_mm = height_in_plane(*highest) - height_in_plane(*lowest);
    for (const Jack& a : press.jacks) {
        for (const Jack& b : press.jacks) {
            measure.jack_span_mm = std::max(measure.jack_span_mm, glm::distance(Vec2{a.foot_mm}, Vec2{b.foot_mm}));
        }
        measure.greatest_tolerance =
            std::max(measure.greatest_tolerance, press.drives.empty() ? a.rate_tolerance : 0.0);
    }
    for (const Drive& drive : press.drives) {
        measure.greatest_tolerance = std::max(measure.greatest_tolerance, drive.tolerance);
    }
    if (measure.nominal_growth_mm > 0 && measure.lower_by_mm > 0) {
        measure.speed = speed_that_levels(press, lifting, static_cast<std::size_t>(lowest - press.jacks.begin()),
                                          measure.lower_by_mm, closed);
    }

    if (!press.link_shafts.empty()) {
        measure.link_unknown = link_unknown(press);
        if (measure.source == LevelSource::linked) {
            measure.unlinked_over_deck_mm =
                worst_over_deck_mm(deck, Lifting(press, LevelSource::unlinked).jack_slope_range(closed));
        }
    }
    if (measure.source != LevelSource::measured && measure.spread_over_deck_mm > setup.limits.level_over_deck_mm) {
        measure.shaft = shaft_that_would_do(setup, assembly, setup.limits.level_over_deck_mm);
    }
    measure.off_plane = off_plane(press, lifting, closed);
    measure.guides = measure_guides(setup, assembly);
    return measure;
}

} // namespace evenclose
