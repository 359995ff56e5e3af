#include "checks/daylight/daylight.hpp"

#include "checks/deck.hpp"
#include "checks/mold_half.hpp"
#include "checks/phrase.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace evenclose {

DaylightMeasure measure_daylight(const Setup& setup, const Assembly& assembly) {
    const Opening& opening = setup.openings.front();
    const Mold& mold = *opening.mold;
    DaylightMeasure measure;
    measure.lower_mm = bounds_of(*mold.lower.mesh).size_mm().z;
    measure.upper_mm = bounds_of(*mold.upper.mesh).size_mm().z;
    measure.loose_stack_mm = mold.stack.loose_thickness_mm();
    measure.sandwich_mm = measure.lower_mm + measure.loose_stack_mm + measure.upper_mm;

    // A tilted platen takes half of the difference over the mold from the middle's daylight.
    Box footprint = bounds_of(*mold.lower.mesh);
    footprint.add(bounds_of(*mold.upper.mesh));
    DeckPlan mold_plan = deck_plan(setup, opening);
    mold_plan.size_mm = {footprint.size_mm().x, footprint.size_mm().y};
    const Body* lower = half_of(assembly, Part::mold_lower);
    const SlopeRange slopes = assembly.rides[lower == nullptr ? 1 : lower->ride].slope_range(Travel{0});
    double lost_mm = 0;
    for (const double x : {slopes.low.x, slopes.high.x}) {
        for (const double y : {slopes.low.y, slopes.high.y}) {
            lost_mm = std::max(lost_mm, 0.5 * height_difference_mm(mold_plan, {x, y}));
        }
    }
    measure.daylight_mm = assembly.daylight_mm - lost_mm;
    measure.room_mm = measure.daylight_mm - measure.sandwich_mm;
    measure.at_mm = {mold_plan.centre_mm.x, mold_plan.centre_mm.y,
                     setup.press->head_underside_z_mm - 0.5 * std::abs(measure.room_mm)};
    return measure;
}

Finding judge(const DaylightMeasure& measure, const Setup& setup) {
    const double wanted_mm = setup.limits.loading_clearance_mm;
    Finding finding;
    finding.check = "daylight";
    finding.value = measure.room_mm;
    finding.limit = wanted_mm;
    finding.margin = measure.room_mm - wanted_mm;
    finding.unit = "mm";
    finding.travel = TravelInterval{{0}, {0}};
    finding.at_mm = measure.at_mm;
    finding.bodies = {"head", "platen"};
    finding.why =
        fmt::format("Daylight is {}; the loose sandwich stands {} high: lower half {}, flat stack {}, upper "
                    "half {}. {} of room over it is asked for, for hands and for lifting the mold in.",
                    length_mark(measure.daylight_mm), length_mark(measure.sandwich_mm), length_mark(measure.lower_mm),
                    length_mark(measure.loose_stack_mm), length_mark(measure.upper_mm), length_mark(wanted_mm));
    const bool halves = setup.openings.front().mold->loading == Loading::halves;
    if (halves) {
        finding.why =
            fmt::format("Daylight is {}; lower half {} and upper half {} in their places leave {} for the flat "
                        "stack, which is {} thick. {} of room over it is asked for, for hands.",
                        length_mark(measure.daylight_mm), length_mark(measure.lower_mm), length_mark(measure.upper_mm),
                        length_mark(measure.daylight_mm - measure.lower_mm - measure.upper_mm),
                        length_mark(measure.loose_stack_mm), length_mark(wanted_mm));
    }
    const std::string mend =
        fmt::format("Raise the head or park the platen {} lower, or take that much off the mold's flat backs.",
                    length_mark(-*finding.margin));
    if (measure.room_mm < 0) {
        finding.verdict = Verdict::no_go;
        finding.title =
            halves ? fmt::format("Between the halves the flat stack lacks {} of room", length_mark(-measure.room_mm))
                   : fmt::format("The mold with its flat stack is {} too tall for the daylight",
                                 length_mark(-measure.room_mm));
        finding.remedy = mend;
    } else if (*finding.margin < 0) {
        finding.verdict = Verdict::marginal;
        finding.title = fmt::format("Only {} of room over {} when open, {} asked for", length_mark(measure.room_mm),
                                    halves ? "the flat stack between the halves" : "the mold", length_mark(wanted_mm));
        finding.remedy = mend;
    } else {
        finding.verdict = Verdict::go;
        finding.title = fmt::format("{} of room over {} when open", length_mark(measure.room_mm),
                                    halves ? "the flat stack between the halves" : "the mold");
    }
    return finding;
}

} // namespace evenclose
