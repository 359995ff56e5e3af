#include "checks/mold_half.hpp"
#include "checks/phrase.hpp"
#include "checks/seat/registration.hpp"
#include "checks/seat/seat.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// Up to here glue squeeze-out and a sheet of cork still even it out (common practice, no source).
constexpr double kMarginalFlatness = 3.0;
// A flat back, even a hollow one with ribs, bears on far more than this; a face laid on the platen by mistake touches
// with a few points (derived: a circular arc within 2 mm of its crest covers less than a tenth of a mold's rectangle
// only for the steepest shapes, so the bound for "marginal" is the one that catches gentle ones).
constexpr double kLeastShare = 0.10;
constexpr double kUsualShare = 0.40;

// A printed pin goes into a printed hole with so much round it (common practice, no source).
constexpr double kPinClearance_mm = 0.2;

Finding about(const SeatMeasure& seat) {
    Finding finding;
    finding.check = "seat";
    finding.unit = "mm";
    finding.bodies = {seat.half, seat.on};
    finding.travel = TravelInterval{{0}, {0}};
    return finding;
}

std::vector<Finding> judge_half(const SeatMeasure& seat, const Limits& limits) {
    std::vector<Finding> findings;
    if (seat.share < kUsualShare) {
        Finding finding = about(seat);
        finding.verdict = seat.share < kLeastShare ? Verdict::no_go : Verdict::marginal;
        finding.value = 100 * seat.share;
        finding.limit = 100 * kUsualShare;
        finding.margin = *finding.value - *finding.limit;
        finding.unit = "%";
        finding.at_mm = seat.roughest_at_mm;
        finding.title =
            fmt::format("{} bears on the {} with only {:.0f} % of its back", seat.half, seat.on, 100 * seat.share);
        finding.why = "Only what is flat and level with the outermost point of the back can carry the pressure.";
        finding.remedy = "See that its flat back and not its face lies on the platen: a half exported the other way up "
                         "is put right with \"flip\": true. A hollow back wants a flat board behind it.";
        findings.push_back(finding);
    }
    if (seat.flatness_mm > limits.seat_flatness_mm) {
        Finding finding = about(seat);
        finding.value = seat.flatness_mm;
        finding.limit = limits.seat_flatness_mm;
        finding.margin = limits.seat_flatness_mm - seat.flatness_mm;
        finding.verdict =
            seat.flatness_mm <= kMarginalFlatness * limits.seat_flatness_mm ? Verdict::marginal : Verdict::no_go;
        finding.at_mm = seat.roughest_at_mm;
        finding.title = fmt::format("{}'s back is {} out of flat, {} allowed", seat.half, length_mark(seat.flatness_mm),
                                    length_mark(limits.seat_flatness_mm));
        finding.why = "A back that is not flat rocks or bends under the closing force, and the cavity with it.";
        finding.remedy = fmt::format("Plane or sand {} off the back where it stands proud, or bed it on filler.",
                                     length_mark(seat.flatness_mm - limits.seat_flatness_mm));
        findings.push_back(finding);
    }
    if (seat.overhang_mm > limits.seat_overhang_mm) {
        Finding finding = about(seat);
        finding.verdict = Verdict::no_go;
        finding.value = seat.overhang_mm;
        finding.limit = limits.seat_overhang_mm;
        finding.margin = limits.seat_overhang_mm - seat.overhang_mm;
        finding.at_mm = seat.overhang_at_mm;
        finding.title = fmt::format("{} stands {} over the {}'s edge at the {}", seat.half,
                                    length_mark(seat.overhang_mm), seat.on, seat.overhang_side);
        finding.why = "What stands over the edge is pressed by nothing, and breaks off first.";
        const double shift_mm = seat.overhang_mm - limits.seat_overhang_mm;
        finding.remedy =
            seat.free_shift_mm >= 0
                ? fmt::format("Move the mold {} the other way.", length_mark(shift_mm))
                : fmt::format("The {} is {} too short for this half that way: a longer platen, or the mold turned.",
                              seat.on, length_mark(-seat.free_shift_mm));
        findings.push_back(finding);
    }
    if (findings.empty()) {
        Finding finding = about(seat);
        finding.verdict = Verdict::go;
        finding.value = seat.flatness_mm;
        finding.limit = limits.seat_flatness_mm;
        finding.margin = limits.seat_flatness_mm - seat.flatness_mm;
        finding.at_mm = seat.roughest_at_mm;
        finding.title = fmt::format("{} lies flat on the {}: {:.0f} % of its back bears, {} inside the edge", seat.half,
                                    seat.on, 100 * seat.share, length_mark(-seat.overhang_mm));
        finding.why = fmt::format("Its back is flat within {}.", length_mark(seat.flatness_mm));
        findings.push_back(finding);
    }
    return findings;
}

/// The platen below the mold, when it is closed.
double risen_mm(const Assembly& assembly) {
    const Body* lower = half_of(assembly, Part::mold_lower);
    return lower == nullptr ? assembly.last.mm : assembly.rides[lower->ride].lift_mm(assembly.last);
}

Finding judge_pressed(const PressedMeasure& pressed, const Setup& setup, const Assembly& assembly) {
    Finding finding;
    finding.check = "seat";
    finding.unit = "mm";
    finding.bodies = {"platen"};
    finding.travel = TravelInterval{assembly.last, assembly.last};
    finding.at_mm = Vec3{pressed.centre_mm.x, pressed.centre_mm.y,
                         setup.press->head_underside_z_mm - assembly.daylight_mm + risen_mm(assembly)};
    finding.value = pressed.inside_mm;
    finding.limit = 0.0;
    finding.margin = pressed.inside_mm;
    finding.why = "The platen tips where it is pressed outside the jacks that carry it.";
    if (pressed.inside_mm < 0) {
        finding.verdict = Verdict::no_go;
        finding.title = fmt::format("The deck is pressed {} outside the jacks' base: the platen would tip",
                                    length_mark(-pressed.inside_mm));
        finding.remedy = fmt::format("Move the mold at least {} towards the middle.", length_mark(-pressed.inside_mm));
    } else if (pressed.one_line && pressed.beside_mm > pressed.jack_head_mm) {
        finding.verdict = Verdict::marginal;
        finding.value = pressed.beside_mm;
        finding.limit = pressed.jack_head_mm;
        finding.margin = pressed.jack_head_mm - pressed.beside_mm;
        finding.title =
            fmt::format("The deck is pressed {} beside the line of the jacks", length_mark(pressed.beside_mm));
        finding.why += " Jacks in one line hold nothing across it: only the guides do.";
        finding.remedy = fmt::format("Move the mold {} towards the jacks' line.",
                                     length_mark(pressed.beside_mm - pressed.jack_head_mm));
    } else {
        finding.verdict = Verdict::go;
        finding.title = fmt::format("The deck is pressed between the jacks, {} from the nearest end of their base",
                                    length_mark(pressed.inside_mm));
    }
    return finding;
}

/// Pins against holes, closed. Nothing if the mold has no pins.
std::vector<Finding> judge_registration(const Setup& setup, const Assembly& assembly) {
    const Mold& mold = *setup.openings.front().mold;
    const Body* halves[2] = {nullptr, nullptr};
    for (const Body& body : assembly.bodies) {
        if (body.part == Part::mold_lower || body.part == Part::mold_upper) {
            halves[body.part == Part::mold_upper ? 1 : 0] = &body;
        }
    }
    const double drawn = bounds_of(*mold.upper.mesh).high_mm.z - bounds_of(*mold.lower.mesh).low_mm.z;
    const Vec3 lift{0, 0, assembly.shut_height_mm - drawn};
    const TriangleMesh upper = placed(*mold.upper.mesh, Pose{Mat3{1.0}, lift});
    std::vector<Finding> findings;
    double tightest = 1e300;
    std::size_t pins = 0;
    Finding best;
    for (const PinMeeting& meeting : meetings(*mold.lower.mesh, upper)) {
        ++pins;
        const Body& own = *halves[meeting.of_upper ? 1 : 0];
        const Body& other = *halves[meeting.of_upper ? 0 : 1];
        const Vec3 at{meeting.pin.centre_mm, meeting.of_upper ? meeting.pin.from_z_mm : meeting.pin.to_z_mm};
        const double rise = meeting.of_upper ? 0 : closing_lift_mm(assembly);
        Finding finding;
        finding.check = "seat";
        finding.unit = "mm";
        finding.bodies = {own.name, other.name};
        finding.travel = TravelInterval{assembly.closed, assembly.closed};
        finding.at_mm = own.placement.apply(meeting.of_upper ? at - lift : at) + Vec3{0, 0, rise};
        finding.why = "Pins bring the halves together; one that meets wood or plastic holds the mold open.";
        const std::string pin =
            fmt::format("A registration pin of {} on {}", length_mark(meeting.pin.diameter_mm), own.name);
        if (!meeting.met) {
            finding.verdict = Verdict::no_go;
            finding.title = fmt::format("{} meets no hole in {}", pin, other.name);
            finding.remedy = fmt::format("Give {} a hole of {} there, or take the pin off.", other.name,
                                         length_mark(meeting.pin.diameter_mm + 2 * kPinClearance_mm));
        } else if (meeting.off_mm > meeting.clearance_mm) {
            finding.verdict = Verdict::no_go;
            finding.value = meeting.off_mm;
            finding.limit = std::max(0.0, meeting.clearance_mm);
            finding.margin = meeting.clearance_mm - meeting.off_mm;
            finding.title =
                meeting.clearance_mm <= 0
                    ? fmt::format("{} is no thinner than its hole of {}", pin, length_mark(meeting.hole.diameter_mm))
                    : fmt::format("{} stands {} beside its hole, {} would pass", pin, length_mark(meeting.off_mm),
                                  length_mark(meeting.clearance_mm));
            finding.remedy = fmt::format(
                "Bore the hole to {}.", length_mark(meeting.pin.diameter_mm + 2 * (meeting.off_mm + kPinClearance_mm)));
        } else if (meeting.room_mm < 0) {
            finding.verdict = Verdict::no_go;
            finding.value = meeting.room_mm;
            finding.limit = 0.0;
            finding.margin = meeting.room_mm;
            finding.title =
                fmt::format("{} grounds in its hole {} before the mold is closed", pin, length_mark(-meeting.room_mm));
            finding.remedy = fmt::format("Shorten the pin by {}, or deepen the hole.",
                                         length_mark(-meeting.room_mm + kPinClearance_mm));
        } else if (meeting.clearance_mm - meeting.off_mm < tightest) {
            tightest = meeting.clearance_mm - meeting.off_mm;
            best = finding;
            best.verdict = Verdict::go;
            best.value = tightest;
            best.limit = 0.0;
            best.margin = tightest;
            continue;
        } else {
            continue;
        }
        findings.push_back(std::move(finding));
    }
    if (findings.empty() && pins > 0) {
        best.title = fmt::format("{} registration {} met by {}, the tightest with {} to spare", pins,
                                 pins == 1 ? "pin is" : "pins are", pins == 1 ? "its hole" : "their holes",
                                 length_mark(tightest));
        findings.push_back(best);
    }
    return findings;
}

} // namespace

std::vector<Finding> check_seat(const Setup& setup, const Assembly& assembly) {
    std::vector<Finding> findings;
    for (const Body& body : assembly.bodies) {
        if (body.part == Part::mold_lower || body.part == Part::mold_upper) {
            const Platen& platen = body.part == Part::mold_lower ? setup.press->platen : setup.press->head;
            const SeatMeasure seat = measure_seat(body, platen, setup.limits.seat_flatness_mm);
            for (Finding& finding : judge_half(seat, setup.limits)) {
                findings.push_back(std::move(finding));
            }
        }
    }
    if (!setup.openings.empty() && setup.openings.front().mold) {
        for (Finding& finding : judge_registration(setup, assembly)) {
            findings.push_back(std::move(finding));
        }
    }
    findings.push_back(judge_pressed(measure_pressed(setup), setup, assembly));
    return findings;
}

} // namespace evenclose
