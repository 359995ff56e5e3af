#include "checks/phrase.hpp"
#include "checks/travel/travel.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

double length_of(const ContactSpan& span) { return (span.to - span.from).mm; }

/// "the mold, both halves, 12 mm to the right (+X)".
std::string said(const Shift& shift, const Assembly& assembly) {
    const char* way = shift.by_mm.x > 0   ? "right (+X)"
                      : shift.by_mm.x < 0 ? "left (-X)"
                      : shift.by_mm.y > 0 ? "back (+Y)"
                                          : "front (-Y)";
    // Where a mold stands on its platen is one number for both halves.
    const Part part = assembly.bodies[shift.body].part;
    const bool mold = part == Part::mold_lower || part == Part::mold_upper;
    return fmt::format("{} {} to the {}", mold ? "the mold, both halves," : assembly.bodies[shift.body].name,
                       length_mark(std::abs(shift.by_mm.x) + std::abs(shift.by_mm.y)), way);
}

std::string spans_said(const std::vector<ContactSpan>& spans) {
    std::string text;
    for (std::size_t i = 0; i < spans.size(); ++i) {
        text += fmt::format("{}from {} to {}",
                            i == 0                  ? ""
                            : i + 1 == spans.size() ? " and "
                                                    : ", ",
                            length_mark(spans[i].from.mm), length_mark(spans[i].to.mm));
    }
    return text;
}

Finding judge_pair(const PairProfile& pair, const Setup& setup, const Assembly& assembly, Progress& progress) {
    const Sweep& sweep = pair.sweep;
    const std::string& first = assembly.bodies[pair.first].name;
    const std::string& second = assembly.bodies[pair.second].name;
    const double wanted_mm = wanted_clearance_mm(setup, assembly, pair);
    Finding finding;
    finding.check = "travel";
    finding.bodies = {first, second};
    finding.unit = "mm";
    finding.limit = wanted_mm;
    if (sweep.contact == Contact::not_checked || sweep.contact == Contact::cancelled) {
        finding.verdict = Verdict::not_checked;
        finding.title = fmt::format("{} against {} was not checked", first, second);
        finding.why = sweep.contact == Contact::cancelled ? "The check was stopped before it was done." : sweep.why_not;
        finding.remedy = sweep.contact == Contact::cancelled ? "Run the check again." : "Mend the mesh it names.";
        return finding;
    }
    // What a link or a hose takes over the whole stroke is more than it takes at any one travel: contact with it is no
    // foul yet, and clear of it is clear.
    const bool room_only = !assembly.bodies[pair.first].drawn || !assembly.bodies[pair.second].drawn;
    if (room_only && sweep.contact != Contact::clear) {
        finding.verdict = Verdict::not_checked;
        finding.title = fmt::format("Whether {} clears {} was not told", first, second);
        finding.travel = TravelInterval{sweep.least_at, sweep.least_at};
        finding.at_mm = 0.5 * (sweep.on_first_mm + sweep.on_second_mm);
        finding.why =
            "Swept is the room that it takes over the whole stroke, all of it at once; that room is reached, which "
            "need not mean that the part itself is.";
        finding.remedy = "Look there while it closes slowly, or move one of the two.";
        return finding;
    }
    finding.value = sweep.least_lower_mm;
    finding.margin = sweep.least_lower_mm - wanted_mm;
    finding.bounds = {sweep.least_lower_mm, sweep.least_upper_mm};
    finding.travel = TravelInterval{sweep.least_at, sweep.least_at};
    finding.slope = sweep.least_slope;
    finding.at_mm = 0.5 * (sweep.on_first_mm + sweep.on_second_mm);
    const bool tilted = sweep.least_slope.x != 0 || sweep.least_slope.y != 0;
    if (sweep.contact == Contact::clear) {
        finding.why = fmt::format(
            "Certified over the whole stroke of {}{}: nowhere nearer than {}, at {} of travel{}.",
            length_mark(assembly.last.mm), assembly.rides[1].tilts() ? " and every tilt the jacks may give" : "",
            length_mark(sweep.least_lower_mm), length_mark(sweep.least_at.mm),
            tilted ? fmt::format(", tilted {:.2f} mrad", 1000 * std::hypot(sweep.least_slope.x, sweep.least_slope.y))
                   : "");
        if (*finding.margin >= 0) {
            finding.verdict = Verdict::go;
            finding.title = fmt::format("{} passes {} with {}", first, second, length_mark(sweep.least_lower_mm));
            return finding;
        }
        finding.verdict = Verdict::marginal;
        finding.title = fmt::format("{} passes {} with only {}, {} asked for", first, second,
                                    length_mark(sweep.least_lower_mm), length_mark(wanted_mm));
    } else {
        finding.verdict = Verdict::no_go;
        finding.value = 0.0;
        finding.margin = -wanted_mm;
        if (!sweep.contacts.empty()) {
            finding.travel = TravelInterval{sweep.contacts.front().from, sweep.contacts.back().to};
        }
        double fouled_mm = 0;
        for (const ContactSpan& span : sweep.contacts) {
            fouled_mm += length_of(span);
        }
        const char* how = sweep.contact == Contact::inside     ? "stands inside"
                          : sweep.contact == Contact::touching ? "touches"
                                                               : "fouls";
        finding.title = sweep.contacts.empty() ? fmt::format("{} {} {} when the platen tilts", first, how, second)
                                               : fmt::format("{} {} {} over {} of travel, {}", first, how, second,
                                                             length_mark(fouled_mm), spans_said(sweep.contacts));
        finding.why = fmt::format("They pass each other over {} of stroke and must stay {} apart.",
                                  length_mark(assembly.last.mm), length_mark(wanted_mm));
    }
    const Shift shift = shift_that_frees(setup, assembly, pair, progress);
    finding.remedy = shift.found
                         ? fmt::format("Move {}: tried, and {} clear over the whole stroke.", said(shift, assembly),
                                       length_mark(wanted_mm))
                         : "No shift of up to {mm:128} to any side frees it: make one of the two smaller there.";
    return finding;
}

} // namespace

Finding judge(const StandingFoul& foul, const Assembly& assembly) {
    const std::string& half = assembly.bodies[foul.half].name;
    const std::string& other = assembly.bodies[foul.other].name;
    Finding finding;
    finding.check = "travel";
    finding.verdict = Verdict::no_go;
    finding.unit = "mm";
    finding.value = 0.0;
    finding.limit = 0.0;
    finding.margin = 0.0;
    finding.travel = TravelInterval{{0}, {0}};
    finding.bodies = {half, other};
    finding.at_mm = foul.at_mm;
    finding.title = fmt::format("{} cannot stand where it is: {} is {} it", half, other,
                                foul.contact == Contact::inside ? "inside" : "in the way of");
    finding.why = "These two do not move against each other; they would have to be in the same place all the time.";
    finding.remedy = "Move the mold on its platen, turn it, or take away what is in its way.";
    return finding;
}

std::vector<Finding> judge(const std::vector<PairProfile>& profiles, const Setup& setup, const Assembly& assembly,
                           Progress& progress) {
    std::vector<Finding> findings;
    std::size_t far = 0;
    const double farther_than_mm = interest_mm(setup.limits);
    for (const PairProfile& pair : profiles) {
        if (pair.sweep.contact == Contact::clear && pair.sweep.least_lower_mm >= farther_than_mm) {
            ++far;
        } else {
            findings.push_back(judge_pair(pair, setup, assembly, progress));
        }
    }
    std::stable_sort(findings.begin(), findings.end(), [](const Finding& a, const Finding& b) {
        return a.verdict != b.verdict ? a.verdict > b.verdict : a.margin.value_or(0) < b.margin.value_or(0);
    });
    if (far > 0 || profiles.empty()) {
        Finding finding;
        finding.check = "travel";
        finding.verdict = Verdict::go;
        finding.unit = "mm";
        finding.value = farther_than_mm;
        finding.limit = setup.limits.running_clearance_mm;
        finding.margin = farther_than_mm - setup.limits.running_clearance_mm;
        finding.travel = TravelInterval{{0}, assembly.last};
        finding.title = fmt::format("{} other pair{} of bodies stay farther than {} apart over the stroke", far,
                                    far == 1 ? "" : "s", length_mark(farther_than_mm));
        finding.why = "Certified over the whole travel and the tilt envelope.";
        findings.push_back(finding);
    }
    return findings;
}

} // namespace evenclose
