#include "checks/frame/frame_check.hpp"

#include "checks/frame/amiss.hpp"
#include "checks/frame/mold_bed.hpp"
#include "checks/phrase.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <iterator>

namespace evenclose {
namespace {

// Timber and welds are never quite as drawn: the last tenth is not planned with (common practice, no source).
constexpr double kPlanned = 0.9;
// As for the cavity: up to twice the tolerance a deck may still come out (common practice, no source).
constexpr double kMarginalOverLimit = 2.0;
// So much of a deck may be pressed weakly at its rim.
constexpr double kStarvedShare = 0.02;
// So many of the parts are told with their use.
constexpr std::size_t kTold = 6;

Finding judge_strength(const FrameMeasure& measure, const Assembly& assembly) {
    const PartUse& worst = *measure.worst();
    Finding finding = frame_finding(assembly);
    finding.unit = "%";
    finding.value = 100 * worst.use;
    finding.limit = 100.0;
    finding.margin = 100 - 100 * worst.use;
    finding.bodies = {worst.part};
    finding.at_mm = worst.at_mm;
    finding.verdict = worst.use > 1 ? Verdict::no_go : worst.use > kPlanned ? Verdict::marginal : Verdict::go;
    const auto next = std::find_if(measure.limits.begin(), measure.limits.end(),
                                   [&](const ReachedLimit& limit) { return limit.force_N > measure.breaks_at_N; });
    finding.title = fmt::format(
        "{} on the deck use {} of what {} may bear ({}); the first limit is reached at {}{}",
        force_mark(measure.force_N), percent(worst.use), worst.part, worst.by, force_mark(measure.breaks_at_N),
        next == measure.limits.end() ? "" : fmt::format(", then {} at {}", next->what, force_mark(next->force_N)));
    finding.why =
        fmt::format("{} there, {} allowed (steel: yield over {:.2f}; timber: allowable stress, loaded for "
                    "years in all; from {}). ",
                    pressure_mark(worst.stress_MPa), pressure_mark(worst.allowed_MPa), kYieldFactor, worst.source);
    std::string others;
    for (const ReachedLimit& limit : measure.limits) {
        if (static_cast<std::size_t>(std::count(others.begin(), others.end(), ';')) + 1 < kTold) {
            others += fmt::format("{}{} at {} ({})", others.empty() ? "" : "; ", limit.what, force_mark(limit.force_N),
                                  limit.by);
        }
    }
    finding.why += fmt::format(
        "With more and more force on the deck the limits come in turn: {}. A planning estimate, no certificate: sound "
        "timber and full-size welds are assumed; local codes and a licensed engineer decide.",
        others);
    if (std::any_of(measure.stood.model.members.begin(), measure.stood.model.members.end(),
                    [](const FrameMember& member) { return member.built_up(); })) {
        finding.why += " Built-up members are taken as one piece; bolts make them softer and stress them more.";
    }
    if (finding.verdict != Verdict::go) {
        finding.remedy = fmt::format("Close with at most {} on the deck", force_mark(kPlanned * measure.breaks_at_N));
        if (measure.stronger && measure.stronger->after < measure.stronger->before) {
            finding.remedy += fmt::format(", or {}: tried, that lowers {} to {}", measure.stronger->what, worst.part,
                                          percent(measure.stronger->after));
        } else if (worst.by.starts_with("crushed")) {
            finding.remedy += fmt::format(", or let it bear on {:.1f} times the area: a wider seat, a steel plate",
                                          worst.use / kPlanned);
        }
        finding.remedy +=
            ". Load in steps, look and listen after each, and stand clear: a loaded screw or cylinder holds "
            "energy.";
    }
    return finding;
}

Finding judge_bending(const FrameMeasure& measure, const Setup& setup, const Assembly& assembly) {
    const double tolerance = setup.limits.cavity_tolerance_mm;
    Finding finding = frame_finding(assembly);
    finding.unit = "mm";
    finding.value = measure.spread_mm;
    finding.limit = tolerance;
    finding.margin = tolerance - measure.spread_mm;
    finding.bodies = {"head", "platen"};
    const auto widest = std::max_element(measure.deck.begin(), measure.deck.end(),
                                         [](const auto& a, const auto& b) { return a.opens_mm() < b.opens_mm(); });
    finding.at_mm = Vec3{widest->at_mm, setup.press->head_underside_z_mm};
    finding.verdict = measure.spread_mm <= tolerance                        ? Verdict::go
                      : measure.spread_mm <= kMarginalOverLimit * tolerance ? Verdict::marginal
                                                                            : Verdict::no_go;
    std::string most;
    if (!measure.costs.empty() && measure.costs.front().mm > 0) {
        most = fmt::format("; {} cost{} {} of it", listed(measure.costs.front().parts),
                           measure.costs.front().parts.size() > 1 ? "" : "s", length_mark(measure.costs.front().mm));
    }
    finding.title =
        fmt::format("Under {} head and platen bend apart by {} over the deck, {} allowed{}",
                    force_mark(measure.force_N), length_mark(measure.spread_mm), length_mark(tolerance), most);
    finding.why = fmt::format(
        "Over the deck the head bends by {}, the platen by {}; the cavity's middle opens {} beyond "
        "its ends. Made stiff one by one, the parts would take away: ",
        length_mark(measure.head_sag_mm), length_mark(measure.platen_sag_mm), length_mark(measure.middle_mm));
    for (std::size_t i = 0; i < measure.costs.size(); ++i) {
        finding.why += fmt::format("{}{} {}", i == 0 ? "" : ", ", listed(measure.costs[i].parts),
                                   length_mark(measure.costs[i].mm));
    }
    finding.why += ".";
    std::string tried;
    for (const Remedy& remedy : measure.stiffer) {
        std::string what = remedy.what;
        what[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(what[0])));
        tried += fmt::format("{}{} lowers this to {}, and what the middle opens beyond the ends from {} to {}: tried.",
                             tried.empty() ? "" : " ", what, length_mark(remedy.after), length_mark(measure.middle_mm),
                             length_mark(remedy.middle_mm));
    }
    if (finding.verdict == Verdict::go) {
        finding.why += tried.empty() ? "" : " " + tried;
    } else {
        finding.remedy = tried.empty() ? "" : tried + " ";
        finding.remedy += fmt::format("Or close with {}: bending goes with the force.",
                                      force_mark(measure.force_N * tolerance / measure.spread_mm));
    }
    return finding;
}

Finding judge_pressed(const FrameMeasure& measure, const Setup& setup, const Assembly& assembly) {
    Finding finding = frame_finding(assembly);
    finding.unit = "%";
    finding.value = 100 * measure.starved_share;
    finding.limit = 100 * kStarvedShare;
    finding.margin = *finding.limit - *finding.value;
    finding.bodies = {"head", "platen"};
    const auto least = std::min_element(measure.deck.begin(), measure.deck.end(),
                                        [](const auto& a, const auto& b) { return a.pressure_MPa < b.pressure_MPa; });
    finding.at_mm = Vec3{least->at_mm, setup.press->head_underside_z_mm - 0.5 * assembly.shut_height_mm};
    finding.why = fmt::format("Stack and halves are a bed between head and platen: where those give most, the least "
                              "force goes. {}",
                              half_stiffness_told(*setup.openings.front().mold, setup.press->materials));
    const std::string range =
        fmt::format("with {} to {}", pressure_mark(measure.least_MPa), pressure_mark(measure.greatest_MPa));
    if (measure.starved_share <= kStarvedShare) {
        finding.verdict = Verdict::go;
        finding.title = fmt::format("Bent as they are, head and platen press the deck {}", range);
        return finding;
    }
    finding.verdict = Verdict::marginal;
    finding.title =
        fmt::format("{} of the deck gets less than half of the mean pressure: head and platen bend, and press {}",
                    percent(measure.starved_share), range);
    finding.remedy = fmt::format(
        "Stiffen {}, stand the jacks nearer to each other under the deck, or lay a sheet of cork or rubber that gives "
        "more than they bend.",
        measure.costs.empty() ? "head and platen" : listed(measure.costs.front().parts));
    return finding;
}

Finding judge_joints(const FrameMeasure& measure, const Press& press, const Assembly& assembly) {
    std::array<std::size_t, 4> count{};
    std::string list;
    for (const FoundJoint& joint : measure.joints.found) {
        ++count[static_cast<std::size_t>(joint.kind)];
        list += fmt::format("{}{} - {} {}{}", list.empty() ? "" : "; ", joined_name(press, joint.first),
                            joined_name(press, joint.second), name_of(joint.kind), joint.stated ? " (as told)" : "");
    }
    std::string kinds;
    for (const JointKind kind : {JointKind::welded, JointKind::bolted, JointKind::bearing}) {
        if (const std::size_t n = count[static_cast<std::size_t>(kind)]; n > 0) {
            kinds += fmt::format("{}{} {}", kinds.empty() ? "" : ", ", n, name_of(kind));
        }
    }
    return frame_finding(assembly, Verdict::go, {},
                         fmt::format("{} joints were found where members touch{}{}", measure.joints.found.size(),
                                     kinds.empty() ? "" : ": ", kinds),
                         list + ". State others under \"joints\" in the press." + bolts_not_checked(measure), "");
}

} // namespace

std::vector<Finding> judge(const FrameMeasure& measure, const Setup& setup, const Assembly& assembly) {
    const Press& press = *setup.press;
    std::vector<Finding> findings;
    if (measure.mechanism()) {
        findings.push_back(judge_joints(measure, press, assembly)); // what moves is named below
    } else if (!measure.computed()) {
        findings.push_back(frame_finding(
            assembly, Verdict::not_checked, {}, "The frame was not computed",
            fmt::format("{}{}.",
                        static_cast<char>(std::toupper(static_cast<unsigned char>(measure.not_computed.front()))),
                        measure.not_computed.substr(1)),
            "Draw the members that hold the head, touching it and each other, down to the floor."));
    } else {
        if (measure.worst() != nullptr) {
            findings.push_back(judge_strength(measure, assembly));
        }
        findings.push_back(judge_bending(measure, setup, assembly));
        findings.push_back(judge_pressed(measure, setup, assembly));
        findings.push_back(judge_joints(measure, press, assembly));
        std::ranges::move(judge_hints(measure, assembly), std::back_inserter(findings));
    }
    std::ranges::move(name_what_is_amiss(measure, press, assembly), std::back_inserter(findings));
    return findings;
}

Finding judge_level(const FrameMeasure& measure, const Setup& setup, const Assembly& assembly) {
    const double limit = setup.limits.level_over_deck_mm;
    Finding finding = frame_finding(assembly);
    finding.check = "level";
    finding.unit = "mm";
    finding.value = height_difference_mm(deck_plan(setup, setup.openings.front()), measure.tilt);
    finding.limit = limit;
    finding.margin = limit - *finding.value;
    finding.slope = measure.tilt;
    finding.bodies = {"head", "platen"};
    finding.verdict = *finding.value <= limit                        ? Verdict::go
                      : *finding.value <= kMarginalOverLimit * limit ? Verdict::marginal
                                                                     : Verdict::no_go;
    finding.title = fmt::format("Under {} the frame gives unequally by {} over the deck", force_mark(measure.force_N),
                                length_mark(*finding.value));
    finding.why =
        "Head against platen, as the `frame` check bends them: what remains when the bend itself is taken off.";
    if (finding.verdict != Verdict::go) {
        finding.remedy =
            fmt::format("Bring the deck nearer to the middle of frame and jacks, or shim {} on the side that "
                        "opens.",
                        length_mark(*finding.value));
    }
    return finding;
}

} // namespace evenclose
