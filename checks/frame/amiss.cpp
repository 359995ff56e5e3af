#include "checks/frame/amiss.hpp"

#include "checks/phrase.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace evenclose {

Finding frame_finding(const Assembly& assembly) {
    Finding finding;
    finding.check = "frame";
    finding.travel = TravelInterval{assembly.last, assembly.last};
    return finding;
}

Finding frame_finding(const Assembly& assembly, Verdict verdict, std::vector<std::string> bodies, std::string title,
                      std::string why, std::string remedy) {
    Finding finding = frame_finding(assembly);
    finding.verdict = verdict;
    finding.bodies = std::move(bodies);
    finding.title = std::move(title);
    finding.why = std::move(why);
    finding.remedy = std::move(remedy);
    return finding;
}

std::string percent(double share) { return fmt::format("{:.0f} %", 100 * share); }

std::string bolts_not_checked(const FrameMeasure& measure) {
    const FrameHint* most = nullptr;
    std::size_t count = 0;
    for (const FrameHint& hint : measure.hints) {
        if (hint.kind == FrameHint::Kind::bolts) {
            most = most == nullptr || hint.value > most->value ? &hint : most;
            ++count;
        }
    }
    return most == nullptr
               ? std::string{}
               : fmt::format(" Not checked: shear in the bolts of {} of them, which are not told; it is greatest, {}, "
                             "between {} and {}. State \"bolts\" in the joint.",
                             count, force_mark(most->value), most->part, most->other);
}

std::vector<Finding> judge_hints(const FrameMeasure& measure, const Assembly& assembly) {
    std::vector<Finding> findings;
    for (const FrameHint& hint : measure.hints) {
        if (hint.use <= 1) {
            continue;
        }
        Finding finding =
            hint.kind == FrameHint::Kind::tips
                ? frame_finding(assembly, Verdict::marginal, {hint.part},
                                fmt::format("{} may tip sideways: {} of the moment at which it buckles", hint.part,
                                            percent(hint.use)),
                                "A hint: lateral-torsional buckling at pi/L sqrt(E I G J) over 1.67 (Timoshenko "
                                "and Gere), between its ends, as if nothing held it in between.",
                                "Hold its edge sideways at mid-length, or take a tube.")
                : frame_finding(assembly, Verdict::marginal, {hint.part, hint.other},
                                fmt::format("{} presses on a leg of {} beside its heel: {} bend it, {} allowed",
                                            hint.other, hint.part, pressure_mark(hint.value),
                                            pressure_mark(hint.allowed)),
                                "A hint: the leg as a cantilever plate from its root, 6 F e / (b t\u00b2), as long "
                                "as what presses and twice the lever.",
                                "Let it press over the heel, weld a stiffener into the angle there, or lay a thick "
                                "plate under.");
        finding.unit = "%";
        finding.value = 100 * hint.use;
        finding.limit = 100.0;
        finding.margin = 100 - 100 * hint.use;
        finding.at_mm = hint.at_mm;
        findings.push_back(std::move(finding));
    }
    return findings;
}

std::vector<Finding> name_what_is_amiss(const FrameMeasure& measure, const Press& press, const Assembly& assembly) {
    std::vector<Finding> findings;
    for (const std::string& apart : measure.joints.apart) {
        findings.push_back(frame_finding(assembly, Verdict::marginal, {},
                                         fmt::format("A joint that nothing meets: {}", apart),
                                         "It was left out of the frame; all else was computed.",
                                         "Bring the members together, or take the joint out of \"joints\"."));
    }
    for (const StandIn& part : measure.computed() || measure.mechanism() ? measure.stand_ins : std::vector<StandIn>{}) {
        const std::string near = part.word.empty() ? "" : nearest_material(press.materials, part.word);
        findings.push_back(frame_finding(
            assembly, Verdict::not_checked, {part.part},
            part.word.empty() ? fmt::format("{} has no material: its strength was not checked", part.part)
                              : fmt::format("{} is of \"{}\", which is not known: its strength was not checked",
                                            part.part, part.word),
            fmt::format("It bends as {} would.", part.taken),
            near.empty() ? "State its material: \"S235\", \"C24\", \"Douglas-fir\" ..., or list your own under "
                           "\"materials\" in the press."
                         : fmt::format("State its material: did you mean \"{}\"?", near)));
    }
    const PressFrame& model = measure.stood.model;
    if (!model.afloat.empty() && model.head_held) {
        findings.push_back(
            frame_finding(assembly, Verdict::marginal, model.afloat,
                          fmt::format("{} hang{} on nothing that stands on the floor", listed(model.afloat),
                                      model.afloat.size() > 1 ? "" : "s"),
                          fmt::format("No face of it comes within {} of a member that does; it bears nothing.",
                                      length_mark(kJointGap_mm)),
                          "Draw what holds it, or mend its place."));
    }
    if (!measure.stood.let_go.empty()) {
        std::vector<std::string> pairs;
        std::vector<std::string> bodies;
        for (const std::size_t c : measure.stood.let_go) {
            const FrameContact& contact = model.contacts[c];
            if (contact.on != FrameContact::On::joint) {
                continue;
            }
            const FoundJoint& joint = measure.joints.found[contact.joint];
            for (const std::size_t member : {joint.first, joint.second}) {
                const std::string name = joined_name(press, member);
                if (std::find(bodies.begin(), bodies.end(), name) == bodies.end()) {
                    bodies.push_back(name);
                }
            }
            const std::string pair =
                fmt::format("{} from {}", joined_name(press, joint.first), joined_name(press, joint.second));
            if (std::find(pairs.begin(), pairs.end(), pair) == pairs.end()) {
                pairs.push_back(pair);
            }
        }
        Finding finding = frame_finding(
            assembly, Verdict::no_go, bodies,
            pairs.empty() ? "The frame is a mechanism: it lifts off the floor"
                          : fmt::format("The frame is a mechanism: it comes apart, {}", listed(pairs)),
            "Joints told to be \"bearing\" only push, and nothing else holds there. Its strength and bending were not "
            "computed.",
            "Tie it: rods through both, bolts or welds; or tell the joint as it is.");
        finding.at_mm = model.contacts[measure.stood.let_go.front()].at_mm;
        findings.push_back(std::move(finding));
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
        findings.push_back(frame_finding(
            assembly, Verdict::no_go, moving,
            fmt::format("The frame is a mechanism: {} move{} without resistance",
                        moving.empty() ? "platen or head" : listed(moving), moving.size() == 1 ? "s" : ""),
            "Its joints let it move under the closing force.", "Brace it, or state a joint that holds."));
    }
    if (!model.meshes.empty()) {
        findings.push_back(frame_finding(assembly, Verdict::not_checked, model.meshes,
                                         fmt::format("{} {} drawn as a mesh and left out of the frame",
                                                     listed(model.meshes), model.meshes.size() > 1 ? "are" : "is"),
                                         "A mesh has no section to compute from.",
                                         "Draw it as a member with a section if it bears load."));
    }
    return findings;
}

} // namespace evenclose
