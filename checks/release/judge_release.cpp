#include "checks/phrase.hpp"
#include "checks/release/release.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// A lip of a few square millimetres is a burr that breaks or sands off; a larger one holds the deck (common practice, no
// source).
constexpr double kBurr_mm2 = 5.0;
// Less steep area than this is a fillet's end (common practice, no source).
constexpr double kSteepPlace_mm2 = 10.0;

std::string square_cm(double mm2) {
    return mm2 < 100 ? fmt::format("{:.2g} cm\u00b2", mm2 / 100) : fmt::format("{:.0f} cm\u00b2", mm2 / 100);
}

} // namespace

std::vector<Finding> judge(const ReleaseMeasure& measure, const Setup& setup, const Assembly& assembly) {
    std::vector<std::string> names;
    for (const Part part : {Part::mold_lower, Part::mold_upper}) {
        for (const Body& body : assembly.bodies) {
            if (body.part == part) {
                names.push_back(body.name);
            }
        }
    }
    const auto about = [&] {
        Finding finding;
        finding.check = "release";
        finding.travel = TravelInterval{measure.closed, measure.closed};
        return finding;
    };
    if (!measure.not_measured.empty()) {
        Finding finding = about();
        finding.bodies = names;
        finding.title = "Whether the halves come off the deck was not measured";
        finding.why = fmt::format("It cannot be told: {}.", measure.not_measured);
        finding.remedy =
            "Look at the halves' placement in the mold document: \"offset\", \"turn\", \"flip\", \"unit\".";
        return {finding};
    }
    const double wanted_deg = glm::degrees(setup.limits.least_draft_rad);
    std::vector<Finding> findings;
    for (std::size_t i = 0; i < 2; ++i) {
        const HalfRelease& half = measure.halves[i];
        if (half.undercut_mm2 > 0) {
            Finding finding = about();
            finding.bodies = {names[i]};
            finding.at_mm = measure.to_world[i].apply(half.undercut_at_mm);
            finding.verdict = half.undercut_mm2 > kBurr_mm2 ? Verdict::no_go : Verdict::marginal;
            finding.unit = "mm";
            finding.value = half.undercut_high_mm;
            finding.limit = 0.0;
            finding.margin = -half.undercut_high_mm;
            finding.title = fmt::format("{} has an undercut of {}, up to {} high: it cannot be drawn off the deck",
                                        names[i], square_cm(half.undercut_mm2), length_mark(half.undercut_high_mm));
            finding.why = "Seen along the stroke a lip hides what lies under it; the pressed deck is caught there.";
            finding.remedy =
                fmt::format("Fill the {} under the lip, cut the lip back, or turn the face so that it opens "
                            "along the stroke.",
                            length_mark(half.undercut_high_mm));
            findings.push_back(finding);
        }
        if (half.steep_mm2 > kSteepPlace_mm2) {
            Finding finding = about();
            finding.bodies = {names[i]};
            finding.at_mm = measure.to_world[i].apply(half.steep_at_mm);
            finding.verdict = Verdict::marginal;
            finding.unit = "rad";
            finding.value = std::max(0.0, half.least_draft_rad);
            finding.limit = setup.limits.least_draft_rad;
            finding.margin = *finding.value - *finding.limit;
            finding.title = fmt::format("{} stands too steep over {}: {:.1f}\u00b0 of draft, {:.1f}\u00b0 wanted",
                                        names[i], square_cm(half.steep_mm2), glm::degrees(*finding.value), wanted_deg);
            finding.why =
                "A wall along the stroke scrapes over its whole height as the half is drawn off, and glue holds it.";
            finding.remedy = fmt::format("Lean it {:.1f}\u00b0 more.", glm::degrees(-*finding.margin));
            findings.push_back(finding);
        }
    }
    if (findings.empty()) {
        const std::size_t worse = measure.halves[0].least_draft_rad <= measure.halves[1].least_draft_rad ? 0 : 1;
        Finding finding = about();
        finding.bodies = names;
        finding.at_mm = measure.to_world[worse].apply(measure.halves[worse].steep_at_mm);
        finding.verdict = Verdict::go;
        finding.unit = "rad";
        finding.value = measure.halves[worse].least_draft_rad;
        finding.limit = setup.limits.least_draft_rad;
        finding.margin = *finding.value - *finding.limit;
        finding.title = fmt::format(
            "Both halves come off the deck: {:.0f}\u00b0 of draft at the steepest place, {:.1f}\u00b0 wanted",
            glm::degrees(*finding.value), wanted_deg);
        finding.why = "No lip hides anything along the stroke.";
        findings.push_back(finding);
    }
    return findings;
}

} // namespace evenclose
