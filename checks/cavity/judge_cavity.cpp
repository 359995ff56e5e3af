#include "checks/cavity/cavity.hpp"

#include "checks/phrase.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// Veneer and glue give a little: up to twice the tolerance a deck may still come out, but nobody should plan on it
// (common practice, no source).
constexpr double kMarginalOverLimit = 2.0;
// A spot smaller than a hundredth of the deck dents it when it is this far out (common practice, no source).
constexpr double kSpotOverLimit = 3.0;
// Evening explains a fault when less than this share of it (root mean square) remains.
constexpr double kExplained = 0.35;
// So much of the deck may go unmeasured, as rims do, before it is worth a finding.
constexpr double kUnseenShare = 0.02;

bool good(const GapSummary& gaps, double tolerance_mm) {
    return gaps.percentile_mm.front() >= -tolerance_mm && gaps.percentile_mm.back() <= tolerance_mm;
}

double reach_mm(const GapSummary& gaps) { return std::max(-gaps.percentile_mm.front(), gaps.percentile_mm.back()); }

Verdict verdict_of(const GapSummary& gaps, double tolerance_mm, double stack_mm) {
    if (reach_mm(gaps) > kMarginalOverLimit * tolerance_mm || gaps.least_mm < -0.5 * stack_mm) {
        return Verdict::no_go;
    }
    const bool spot =
        gaps.least_mm < -kSpotOverLimit * tolerance_mm || gaps.greatest_mm > kSpotOverLimit * tolerance_mm;
    return spot || !good(gaps, tolerance_mm) ? Verdict::marginal : Verdict::go;
}

std::string way(double mm, const char* plus, const char* minus) {
    return fmt::format("{} {}", length_mark(std::abs(mm)), mm >= 0 ? plus : minus);
}

/// "0.7 mm to the right (+X), turned 0.20 degrees counter-clockwise seen from above"; what is too little to see is left out.
std::string motion_in_words(const RigidShift& by, double lever_mm) {
    std::string words;
    const auto also = [&](const std::string& more) { words += (words.empty() ? "" : ", ") + more; };
    constexpr double kWorthTelling_mm = 0.02;
    if (std::abs(by.shift_mm.x) > kWorthTelling_mm) {
        also(way(by.shift_mm.x, "to the right (+X)", "to the left (-X)"));
    }
    if (std::abs(by.shift_mm.y) > kWorthTelling_mm) {
        also(way(by.shift_mm.y, "to the back (+Y)", "to the front (-Y)"));
    }
    if (std::abs(by.shift_mm.z) > kWorthTelling_mm) {
        also(way(by.shift_mm.z, "up", "down"));
    }
    const char* about[] = {"about X", "about Y", "about the stroke"};
    for (int axis = 0; axis < 3; ++axis) {
        if (std::abs(by.turn_rad[axis]) * lever_mm > kWorthTelling_mm) {
            also(fmt::format("turned {:.2f}\u00b0 {}", glm::degrees(by.turn_rad[axis]), about[axis]));
        }
    }
    return words;
}

Finding about(const CavityMeasure& measure, const GapSummary& gaps, const Setup& setup, const Assembly& assembly) {
    Finding finding;
    finding.check = "cavity";
    finding.unit = "mm";
    finding.limit = setup.limits.cavity_tolerance_mm;
    const bool tight = -gaps.percentile_mm.front() > gaps.percentile_mm.back();
    finding.value = tight ? gaps.percentile_mm.front() : gaps.percentile_mm.back();
    finding.margin = *finding.limit - std::abs(*finding.value);
    finding.travel = TravelInterval{measure.closed, measure.closed};
    finding.at_mm = measure.to_world.apply(-gaps.least_mm > gaps.greatest_mm ? gaps.least_at_mm : gaps.greatest_at_mm);
    for (const Body& body : assembly.bodies) {
        if (body.part == Part::mold_lower || body.part == Part::mold_upper) {
            finding.bodies.push_back(body.name);
        }
    }
    return finding;
}

std::string tells(const GapSummary& gaps) {
    return fmt::format(
        "Gap less stack, along the lower face's normal: least {}, greatest {}; 1, 5, 50, 95 and 99 % of the "
        "area lie below {}, {}, {}, {} and {}. {:.1f} % of the area is too loose, {:.1f} % too tight.",
        length_mark(gaps.least_mm), length_mark(gaps.greatest_mm), length_mark(gaps.percentile_mm[0]),
        length_mark(gaps.percentile_mm[1]), length_mark(gaps.percentile_mm[2]), length_mark(gaps.percentile_mm[3]),
        length_mark(gaps.percentile_mm[4]), 100 * gaps.loose_mm2 / gaps.faced_mm2,
        100 * gaps.crushed_mm2 / gaps.faced_mm2);
}

std::string summed_up(const GapSummary& gaps, double tolerance_mm) {
    const double loose = gaps.percentile_mm.back();
    const double tight = -gaps.percentile_mm.front();
    if (loose > tolerance_mm && tight > tolerance_mm) {
        return fmt::format("up to {} too wide and elsewhere {} too narrow", length_mark(loose), length_mark(tight));
    }
    return loose > tight ? fmt::format("up to {} too wide", length_mark(loose))
                         : fmt::format("up to {} too narrow", length_mark(tight));
}

/// Which of stand, travel, stack or shape is at fault, and what cures it.
void explain(Finding& finding, const CavityMeasure& measure, const Setup& setup, const Assembly& assembly) {
    const double tolerance_mm = setup.limits.cavity_tolerance_mm;
    const GapSummary& gaps = measure.normal;
    const double lower_by = -measure.by_travel.by.shift_mm.z;
    const double stack_mm = measure.map.stack_mm;
    const double after_standing = measure.by_standing.rms_after_mm;
    if (good(measure.travelled, tolerance_mm)) {
        finding.why += fmt::format(" The faces are even: closed {} {} all would be within tolerance.",
                                   length_mark(std::abs(lower_by)), lower_by > 0 ? "further" : "less far");
        finding.remedy = fmt::format("Close the press to a shut height of {} ({} {}).",
                                     length_mark(assembly.shut_height_mm - lower_by), length_mark(std::abs(lower_by)),
                                     lower_by > 0 ? "less" : "more");
        return;
    }
    if (gaps.spread_mm <= 0.5 * tolerance_mm) {
        finding.why += fmt::format(" The gap is even along the normal, but it is that of a stack of {}, not {}.",
                                   length_mark(stack_mm + gaps.mean_mm), length_mark(stack_mm));
        finding.remedy = gaps.mean_mm > 0
                             ? fmt::format("Add {} of veneer to the stack, or make the faces anew for this one.",
                                           length_mark(gaps.mean_mm))
                             : fmt::format("Take {} of veneer out of the stack, or make the faces anew for this one.",
                                           length_mark(-gaps.mean_mm));
        return;
    }
    const std::string motion = motion_in_words(measure.by_standing.by, 300);
    if (!motion.empty() &&
        (good(measure.stood, tolerance_mm) || after_standing < kExplained * measure.by_standing.rms_before_mm)) {
        finding.why +=
            " The faces match when the upper half is moved: it stands wrong against the lower, or was exported "
            "from another place.";
        finding.remedy = fmt::format("Move the upper half {}; then {} remains.", motion,
                                     length_mark(std::max(0.0, reach_mm(measure.stood))));
        return;
    }
    finding.why +=
        fmt::format(" No other stand or travel evens it: at best the cavity stays {}. The faces were not made "
                    "for each other with this stack between them.",
                    summed_up(measure.stood, tolerance_mm));
    finding.remedy = fmt::format("Make the upper face anew, offset by {} along the lower face's normal; or take {} off "
                                 "where it is too narrow and "
                                 "face it with {} where it is too wide.",
                                 length_mark(stack_mm), length_mark(std::max(0.0, -gaps.percentile_mm.front())),
                                 length_mark(std::max(0.0, gaps.percentile_mm.back())));
}

Finding judge_shape(const CavityMeasure& measure, const Setup& setup, const Assembly& assembly) {
    const double tolerance_mm = setup.limits.cavity_tolerance_mm;
    Finding finding = about(measure, measure.normal, setup, assembly);
    finding.verdict = verdict_of(measure.normal, tolerance_mm, measure.map.stack_mm);
    finding.why = tells(measure.normal);
    if (finding.verdict == Verdict::go) {
        finding.title = fmt::format("The cavity closes on the stack within {}, {} allowed",
                                    length_mark(reach_mm(measure.normal)), length_mark(tolerance_mm));
        return finding;
    }
    if (good(measure.normal, tolerance_mm)) {
        const bool tight = -measure.normal.least_mm > measure.normal.greatest_mm;
        finding.value = tight ? measure.normal.least_mm : measure.normal.greatest_mm;
        finding.margin = tolerance_mm - std::abs(*finding.value);
        finding.title =
            fmt::format("The cavity is {} too {} at one spot, else within {}", length_mark(std::abs(*finding.value)),
                        tight ? "narrow" : "wide", length_mark(tolerance_mm));
        finding.remedy = tight ? fmt::format("Take {} off the face there.", length_mark(-*finding.margin))
                               : fmt::format("Fill the face there by {}.", length_mark(-*finding.margin));
        return finding;
    }
    finding.title = fmt::format("The cavity is {} for the stack, {} allowed", summed_up(measure.normal, tolerance_mm),
                                length_mark(tolerance_mm));
    explain(finding, measure, setup, assembly);
    return finding;
}

Finding judge_tilt(const CavityMeasure& measure, const Setup& setup, const Assembly& assembly) {
    const double tolerance_mm = setup.limits.cavity_tolerance_mm;
    Finding finding = about(measure, measure.tilted, setup, assembly);
    finding.slope = measure.worst_slope;
    finding.verdict = verdict_of(measure.tilted, tolerance_mm, measure.map.stack_mm);
    finding.why = "At the worst corner of what the jacks may do to the platen. " + tells(measure.tilted);
    const double tilt_mrad = 1000 * std::hypot(measure.worst_slope.x, measure.worst_slope.y);
    if (finding.verdict == Verdict::go) {
        finding.title = fmt::format("Tilted by {:.2f} mrad the cavity still closes within {}", tilt_mrad,
                                    length_mark(reach_mm(measure.tilted)));
        return finding;
    }
    finding.title = fmt::format("Tilted by {:.2f} mrad the cavity is {} for the stack", tilt_mrad,
                                summed_up(measure.tilted, tolerance_mm));
    const double level = reach_mm(measure.normal);
    const double added = reach_mm(measure.tilted) - level;
    if (level < tolerance_mm && added > 0) {
        finding.remedy = fmt::format("Hold the platen level within {:.2f} mrad: match or couple the jacks.",
                                     tilt_mrad * (tolerance_mm - level) / added);
    } else {
        finding.remedy = fmt::format("Of that, {} is there with a level platen: mend that first.", length_mark(level));
    }
    return finding;
}

} // namespace

std::vector<Finding> judge(const CavityMeasure& measure, const Setup& setup, const Assembly& assembly) {
    if (measure.halves.slip != HalfSlip::none) {
        Finding finding = about(measure, measure.normal, setup, assembly);
        finding.verdict = Verdict::no_go;
        finding.value = measure.halves.as_is_mm;
        finding.margin = *finding.limit - measure.halves.as_is_mm;
        finding.at_mm.reset();
        finding.title = told(measure.halves);
        finding.why = fmt::format(
            "As they are the gap between the faces changes by {} over the {:.0f} % of the plan that "
            "they share; put right, by {}.",
            length_mark(measure.halves.as_is_mm), 100 * measure.halves.share, length_mark(measure.halves.undone_mm));
        finding.remedy = remedy(measure.halves);
        return {finding};
    }
    if (!measure.not_measured.empty()) {
        Finding finding = about(measure, measure.normal, setup, assembly);
        finding.verdict = Verdict::not_checked;
        finding.value.reset();
        finding.margin.reset();
        finding.at_mm.reset();
        finding.title = "The cavity was not measured";
        finding.why = fmt::format("The gap has no value: {}.", measure.not_measured);
        finding.remedy =
            "Look at the halves' placement in the mold document: \"offset\", \"turn\", \"flip\", \"unit\".";
        return {finding};
    }
    std::vector<Finding> findings{judge_shape(measure, setup, assembly)};
    if (measure.tilts) {
        findings.push_back(judge_tilt(measure, setup, assembly));
    }
    const double whole = measure.normal.faced_mm2 + measure.normal.unseen_mm2;
    if (measure.normal.unseen_mm2 > kUnseenShare * whole) {
        Finding finding = about(measure, measure.normal, setup, assembly);
        finding.verdict = Verdict::marginal;
        finding.unit = "%";
        finding.value = 100 * measure.normal.unseen_mm2 / whole;
        finding.limit = 100 * kUnseenShare;
        finding.margin = *finding.limit - *finding.value;
        finding.title =
            fmt::format("Over {:.1f} % of the deck the two faces do not look at each other", *finding.value);
        finding.why =
            "The lower face's normal meets no forming face of the upper half there, or there is no lower face: "
            "no gap can be told, and nothing presses.";
        finding.remedy =
            "State the deck's size (\"deck_size\") if the mold is larger than the deck; else widen the half "
            "that is too small.";
        findings.push_back(finding);
    }
    return findings;
}

GapSummary bent(const CavityMeasure& measure, const DisplacementField& lower, const DisplacementField& upper,
                double tolerance_mm) {
    return summarise(displaced(measure.map, lower, upper), tolerance_mm);
}

Finding judge_bent(const CavityMeasure& measure, const GapSummary& gaps, double force_N,
                   const std::vector<std::string>& costs_most, double cost_mm, const Setup& setup,
                   const Assembly& assembly) {
    const double tolerance_mm = setup.limits.cavity_tolerance_mm;
    Finding finding = about(measure, gaps, setup, assembly);
    finding.verdict = verdict_of(gaps, tolerance_mm, measure.map.stack_mm);
    const std::string most = costs_most.empty() ? ""
                                                : fmt::format("; {} cost{} {} of the bending", listed(costs_most),
                                                              costs_most.size() > 1 ? "" : "s", length_mark(cost_mm));
    finding.title = fmt::format("Head and platen bent by {}, the cavity is {} for the stack, {} allowed{}",
                                force_mark(force_N), summed_up(gaps, tolerance_mm), length_mark(tolerance_mm), most);
    finding.why =
        fmt::format("With the bent frame of the `frame` check, closed as far on the whole; as made the cavity "
                    "is within {}. {}",
                    length_mark(reach_mm(measure.normal)), tells(gaps));
    if (finding.verdict != Verdict::go) {
        const double level = reach_mm(measure.normal);
        const double added = reach_mm(gaps) - level;
        finding.remedy =
            level < tolerance_mm && added > 0
                ? fmt::format("Close with {}, or stiffen as the `frame` check tells: it tried what helps.",
                              force_mark(force_N * (tolerance_mm - level) / added))
                : fmt::format("Of that, {} is there in a rigid press: mend that first.", length_mark(level));
    }
    return finding;
}

} // namespace evenclose
