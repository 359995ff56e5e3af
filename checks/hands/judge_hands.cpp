#include "checks/hands/hands.hpp"
#include "checks/phrase.hpp"
#include "checks/report/cautions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace evenclose {
namespace {

// More than so many gaps are not read; the rest are counted.
constexpr std::size_t kMostTold = 3;
// Wider than any least gap: how much wider tells nothing.
constexpr double kWidestTold_mm = 590;

bool below_opening(Part part) {
    return part == Part::platen || part == Part::intermediate_platen || part == Part::mold_lower;
}
bool above_opening(Part part) {
    return part == Part::head || part == Part::intermediate_platen || part == Part::mold_upper;
}

/// "head, hand and finger".
std::string listed(const std::vector<BodyPart>& parts) {
    std::string text;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        text += fmt::format("{}{}", i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ", parts[i].name);
    }
    return text;
}

Finding about(const ClosingGap& gap, const Assembly& assembly, const std::string& between) {
    const std::vector<BodyPart> parts = gap.can_catch();
    Finding finding;
    finding.check = "hands";
    finding.verdict = Verdict::marginal;
    finding.unit = "mm";
    finding.value = gap.closed_mm;
    finding.limit = parts.front().least_gap_mm;
    finding.margin = *finding.value - *finding.limit;
    finding.travel = TravelInterval{gap.open_at, gap.closed_at};
    finding.at_mm = gap.at_mm;
    finding.bodies = {assembly.bodies[gap.moving].name, assembly.bodies[gap.towards].name};
    const std::string open =
        gap.open_mm >= kWidestTold_mm ? "more than " + length_mark(kWidestTold_mm) : length_mark(gap.open_mm);
    finding.title = fmt::format("{} closes from {} to {}: it can catch {}", between, open, length_mark(gap.closed_mm),
                                listed(parts));
    std::string least;
    for (const BodyPart& part : parts) {
        least += fmt::format("{}{} {}", least.empty() ? "" : ", ", part.name, length_mark(part.least_gap_mm));
    }
    finding.why = fmt::format(
        "ISO 13854 asks that a gap never closes below: {}. Whether anybody can reach into it was not looked at.",
        least);
    return finding;
}

} // namespace

std::vector<Finding> judge(const std::vector<ClosingGap>& gaps, const Assembly& assembly) {
    std::vector<Finding> findings;
    const ClosingGap* opening = nullptr;
    std::map<std::size_t, const ClosingGap*> worst; // of each body that something closes on
    std::vector<std::string> unknown;
    for (const ClosingGap& gap : gaps) {
        if (!gap.known) {
            unknown.push_back(gap.why_not);
            continue;
        }
        if (gap.can_catch().empty()) {
            continue;
        }
        if (below_opening(assembly.bodies[gap.moving].part) && above_opening(assembly.bodies[gap.towards].part)) {
            if (opening == nullptr || gap.closed_mm < opening->closed_mm) {
                opening = &gap;
            }
            continue;
        }
        const ClosingGap*& known = worst[gap.towards];
        if (known == nullptr || gap.closed_mm < known->closed_mm) {
            known = &gap;
        }
    }
    if (opening != nullptr) {
        Finding finding = about(*opening, assembly, "The opening between mold halves and platens");
        finding.remedy =
            fmt::format("{} Close it by a control that both hands must hold, or from where nobody reaches in; "
                        "block the platen before anybody does.",
                        cautions().front());
        findings.push_back(std::move(finding));
    }
    std::vector<const ClosingGap*> others;
    for (const auto& [body, gap] : worst) {
        others.push_back(gap);
    }
    std::stable_sort(others.begin(), others.end(),
                     [](const ClosingGap* a, const ClosingGap* b) { return a->closed_mm < b->closed_mm; });
    for (std::size_t i = 0; i < std::min(others.size(), kMostTold); ++i) {
        const ClosingGap& gap = *others[i];
        Finding finding = about(gap, assembly,
                                fmt::format("The gap between {} and {}", assembly.bodies[gap.moving].name,
                                            assembly.bodies[gap.towards].name));
        finding.remedy = "Put a guard before it, or make room there.";
        findings.push_back(std::move(finding));
    }
    Finding rest;
    rest.check = "hands";
    rest.verdict = Verdict::not_checked;
    rest.title =
        others.size() > kMostTold
            ? fmt::format("{} more gaps close on something; and not every danger is a gap", others.size() - kMostTold)
            : "Not every danger is a closing gap: nothing here says that the press is safe";
    rest.why =
        "Looked at: gaps that close over the stroke. Not looked at: edges that shear past each other, what may fall, "
        "burst or spring back, reach round guards.";
    if (!unknown.empty()) {
        rest.why += fmt::format(" Not measured: {}.", unknown.front());
    }
    rest.remedy =
        "Have it assessed by ISO 19085-15 (woodworking presses) and your local rules before others work at it.";
    findings.push_back(std::move(rest));
    return findings;
}

} // namespace evenclose
