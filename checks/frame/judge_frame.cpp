#include "checks/frame/frame_check.hpp"

#include "checks/phrase.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

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

Finding about(const Assembly& assembly) {
    Finding finding;
    finding.check = "frame";
    finding.travel = TravelInterval{assembly.last, assembly.last};
    return finding;
}

Finding named(const Assembly& assembly, Verdict verdict, std::vector<std::string> bodies, std::string title,
              std::string why, std::string remedy) {
    Finding finding = about(assembly);
    finding.verdict = verdict;
    finding.bodies = std::move(bodies);
    finding.title = std::move(title);
    finding.why = std::move(why);
    finding.remedy = std::move(remedy);
    return finding;
}

std::string percent(double share) { return fmt::format("{:.0f} %", 100 * share); }

Finding judge_strength(const FrameMeasure& measure, const Assembly& assembly) {
    const PartUse& worst = *measure.worst();
    Finding finding = about(assembly);
    finding.unit = "%";
    finding.value = 100 * worst.use;
    finding.limit = 100.0;
    finding.margin = 100 - 100 * worst.use;
    finding.bodies = {worst.part};
    finding.at_mm = worst.at_mm;
    finding.verdict = worst.use > 1 ? Verdict::no_go : worst.use > kPlanned ? Verdict::marginal : Verdict::go;
    finding.title = fmt::format("{} on the deck use {} of what {} may bear ({}); the first limit is reached at {}",
                                force_mark(measure.force_N), percent(worst.use), worst.part, worst.by,
                                force_mark(measure.breaks_at_N));
    finding.why = fmt::format("{} there, {} allowed (steel: yield over {:.2f}; timber: allowable stress, loaded for "
                              "years in all). Then come: ",
                              pressure_mark(worst.stress_MPa), pressure_mark(worst.allowed_MPa), kYieldFactor);
    std::string others;
    std::size_t told = 0;
    for (const PartUse& use : measure.uses) {
        if (&use != &worst && use.known && told < kTold) {
            others += fmt::format("{}{} {} ({})", others.empty() ? "" : ", ", use.part, percent(use.use), use.by);
            ++told;
        }
    }
    finding.why +=
        others +
        ". A planning estimate, no certificate: sound timber and full-size welds are assumed; local codes and a "
        "licensed engineer decide.";
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
    Finding finding = about(assembly);
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
    if (finding.verdict != Verdict::go) {
        if (measure.stiffer) {
            finding.remedy = fmt::format("{} lowers this to {}: tried. ", measure.stiffer->what,
                                         length_mark(measure.stiffer->after));
            finding.remedy[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(finding.remedy[0])));
        }
        finding.remedy += fmt::format("Or close with {}: bending goes with the force.",
                                      force_mark(measure.force_N * tolerance / measure.spread_mm));
    }
    return finding;
}

Finding judge_pressed(const FrameMeasure& measure, const Setup& setup, const Assembly& assembly) {
    Finding finding = about(assembly);
    finding.unit = "%";
    finding.value = 100 * measure.starved_share;
    finding.limit = 100 * kStarvedShare;
    finding.margin = *finding.limit - *finding.value;
    finding.bodies = {"head", "platen"};
    const auto least = std::min_element(measure.deck.begin(), measure.deck.end(),
                                        [](const auto& a, const auto& b) { return a.pressure_MPa < b.pressure_MPa; });
    finding.at_mm = Vec3{least->at_mm, setup.press->head_underside_z_mm - 0.5 * assembly.shut_height_mm};
    finding.why = fmt::format("Stack and halves are a bed between head and platen: where those give most, the least "
                              "force goes. A printed half is taken as giving like {} along the stroke.",
                              pressure_mark(kPrintedHalf_MPa));
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
    return named(assembly, Verdict::go, {},
                 fmt::format("{} joints were found where members touch{}{}", measure.joints.found.size(),
                             kinds.empty() ? "" : ": ", kinds),
                 list + ". State others under \"joints\" in the press.", "");
}

void name_what_is_amiss(std::vector<Finding>& findings, const FrameMeasure& measure, const Press& press,
                        const Assembly& assembly) {
    for (const std::string& apart : measure.joints.apart) {
        findings.push_back(named(assembly, Verdict::marginal, {}, fmt::format("A joint that nothing meets: {}", apart),
                                 "It was left out of the frame; all else was computed.",
                                 "Bring the members together, or take the joint out of \"joints\"."));
    }
    for (const std::string& part : measure.computed() ? measure.stand_ins : std::vector<std::string>{}) {
        const bool plate = part == "head" || part == "platen";
        const auto member =
            std::find_if(press.members.begin(), press.members.end(), [&](const Member& m) { return m.name == part; });
        const std::string& word = part == "head"     ? press.head.material
                                  : part == "platen" ? press.platen.material
                                                     : member->material;
        std::string near = word.empty() ? "" : nearest_material({}, word);
        findings.push_back(named(
            assembly, Verdict::not_checked, {part},
            word.empty() ? fmt::format("{} has no material: its strength was not checked", part)
                         : fmt::format("{} is of \"{}\", which is not known: its strength was not checked", part, word),
            fmt::format("It bends as {} would.",
                        !plate && std::holds_alternative<TimberSection>(member->section) ? "C24 timber" : "S235 steel"),
            near.empty() ? "State its material: \"S235\", \"C24\", \"Douglas-fir\" ..."
                         : fmt::format("State its material: did you mean \"{}\"?", near)));
    }
    const PressFrame& model = measure.stood.model;
    if (!model.afloat.empty() && model.head_held) {
        findings.push_back(named(assembly, Verdict::marginal, model.afloat,
                                 fmt::format("{} hang{} on nothing that stands on the floor", listed(model.afloat),
                                             model.afloat.size() > 1 ? "" : "s"),
                                 fmt::format("No face of it comes within {} of a member that does; it bears nothing.",
                                             length_mark(kJointGap_mm)),
                                 "Draw what holds it, or mend its place."));
    }
    for (const Mechanism& mechanism : measure.stood.mechanisms) {
        std::vector<std::string> moving;
        for (std::size_t i = 0; i < press.members.size(); ++i) {
            const std::vector<std::size_t>& nodes = model.members[i].nodes;
            if (std::any_of(mechanism.nodes.begin(), mechanism.nodes.end(),
                            [&](std::size_t n) { return std::find(nodes.begin(), nodes.end(), n) != nodes.end(); })) {
                moving.push_back(press.members[i].name);
            }
        }
        findings.push_back(
            named(assembly, Verdict::no_go, moving,
                  fmt::format("The frame is a mechanism: {} move{} without resistance",
                              moving.empty() ? "platen or head" : listed(moving), moving.size() == 1 ? "s" : ""),
                  "Its joints let it move under the closing force.", "Brace it, or state a joint that holds."));
    }
    if (!model.meshes.empty()) {
        findings.push_back(named(assembly, Verdict::not_checked, model.meshes,
                                 fmt::format("{} {} drawn as a mesh and left out of the frame", listed(model.meshes),
                                             model.meshes.size() > 1 ? "are" : "is"),
                                 "A mesh has no section to compute from.",
                                 "Draw it as a member with a section if it bears load."));
    }
}

} // namespace

std::vector<Finding> judge(const FrameMeasure& measure, const Setup& setup, const Assembly& assembly) {
    const Press& press = *setup.press;
    std::vector<Finding> findings;
    if (!measure.computed()) {
        findings.push_back(
            named(assembly, Verdict::not_checked, {}, "The frame was not computed",
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
    }
    name_what_is_amiss(findings, measure, press, assembly);
    return findings;
}

Finding judge_level(const FrameMeasure& measure, const Setup& setup, const Assembly& assembly) {
    const double limit = setup.limits.level_over_deck_mm;
    Finding finding = about(assembly);
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
