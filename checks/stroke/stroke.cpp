#include "checks/stroke/stroke.hpp"

#include "checks/daylight/daylight.hpp"
#include "checks/opening_view.hpp"
#include "checks/phrase.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

namespace evenclose {

StrokeMeasure measure_stroke(const Setup& setup, const Assembly& assembly) {
    StrokeMeasure measure;
    measure.daylight_mm = assembly.daylight_mm;
    measure.shut_height_mm = assembly.shut_height_mm;
    measure.closed = assembly.closed;
    measure.end_of_stroke = assembly.end_of_stroke;
    const Lifting lifting(*setup.press, assembly.level_source);
    measure.first_to_end =
        lifting.table_ends_first() ? "the table of measured heights" : setup.press->jacks[lifting.first_to_end()].name;
    measure.reserve_mm = (measure.end_of_stroke - measure.closed).mm;
    measure.openings = setup.openings.size();
    measure.daylight_room_mm = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < setup.openings.size(); ++i) {
        const OpeningView view = view_of(setup, assembly, i);
        measure.daylight_room_mm =
            std::min(measure.daylight_room_mm, measure_daylight(view.setup, view.assembly).room_mm);
    }
    return measure;
}

Finding judge(const StrokeMeasure& measure, const Setup& setup) {
    const double wanted_mm = setup.limits.stroke_reserve_mm;
    Finding finding;
    finding.check = "stroke";
    finding.value = measure.reserve_mm;
    finding.limit = wanted_mm;
    finding.margin = measure.reserve_mm - wanted_mm;
    finding.unit = "mm";
    finding.bodies = {measure.first_to_end};
    const Travel reached{std::clamp(measure.closed.mm, 0.0, std::max(0.0, measure.end_of_stroke.mm))};
    finding.travel = TravelInterval{reached, reached};
    finding.why = fmt::format(
        "Daylight {} less {} {} asks for a travel of {}; {} ends after {}.", length_mark(measure.daylight_mm),
        measure.openings > 1 ? fmt::format("{} closed molds and the platens between them,", measure.openings)
                             : "shut height",
        length_mark(measure.shut_height_mm), length_mark(measure.closed.mm), measure.first_to_end,
        length_mark(measure.end_of_stroke.mm));
    if (measure.closed.mm < 0) {
        finding.verdict = Verdict::no_go;
        finding.value = measure.closed.mm;
        finding.limit = 0.0;
        finding.margin = measure.closed.mm;
        finding.title = fmt::format("The platen parks {} too high: the closed {} taller than the daylight",
                                    length_mark(-measure.closed.mm),
                                    measure.openings > 1 ? "molds and the platens between them are" : "mold alone is");
        finding.remedy = fmt::format("Park the platen at least {} lower, or raise the head by that much.",
                                     length_mark(-measure.closed.mm));
        return finding;
    }
    if (*finding.margin >= 0) {
        finding.verdict = Verdict::go;
        finding.title = fmt::format("Closes after {} of travel with {} of stroke left", length_mark(measure.closed.mm),
                                    length_mark(measure.reserve_mm));
        return finding;
    }
    const double packer_mm = -*finding.margin;
    finding.verdict = measure.reserve_mm < 0 ? Verdict::no_go : Verdict::marginal;
    finding.title = measure.reserve_mm < 0 ? fmt::format("{} ends {} before {} closed", measure.first_to_end,
                                                         length_mark(-measure.reserve_mm),
                                                         measure.openings > 1 ? "the last opening is" : "the cavity is")
                                           : fmt::format("Closes with only {} of stroke left, {} asked for",
                                                         length_mark(measure.reserve_mm), length_mark(wanted_mm));
    finding.remedy = fmt::format("Put a packer of {} under {} seat", length_mark(packer_mm),
                                 measure.openings > 1 ? "one lower half's" : "the lower half's");
    const double room_after_mm = measure.daylight_room_mm - packer_mm;
    if (room_after_mm < 0) {
        finding.remedy += fmt::format("; but the loose sandwich would then be {} too tall for the daylight, so put the "
                                      "packer in after the mold, or take a jack with more stroke.",
                                      length_mark(-room_after_mm));
    } else {
        finding.remedy +=
            fmt::format("; {} of room over the sandwich is then left when open.", length_mark(room_after_mm));
    }
    return finding;
}

} // namespace evenclose
