#include "checks/bend/bend.hpp"

#include "checks/deck.hpp"
#include "checks/phrase.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// At the radius where the mean piece breaks half of them do: half as much again is what a shop can plan on (common
// practice, no source).
constexpr double kSafeRadius = 1.5;
// In its plane a ply buckles and splits long before it breaks by the book (common practice, no source).
constexpr double kSafeStretch = 0.25;

std::string radius_words(double mm) { return mm > 0 ? fmt::format("{}", length_mark(mm)) : "none, it is flat"; }

class Judge {
public:
    Judge(const BendMeasure& measure, const Setup& setup, const Assembly& assembly)
        : measure_(measure), stack_(setup.openings.front().mold->stack),
          outline_(deck_outline(*setup.openings.front().mold)) {
        for (const Body& body : assembly.bodies) {
            if (body.part == Part::mold_lower) {
                lower_ = body.name;
            } else if (body.part == Part::mold_upper) {
                upper_ = body.name;
            }
        }
    }

    [[nodiscard]] Finding about(bool of_upper, const Vec3& at_mm) const {
        Finding finding;
        finding.check = "bend";
        finding.travel = TravelInterval{measure_.closed, measure_.closed};
        finding.bodies = {of_upper ? upper_ : lower_};
        finding.at_mm = (of_upper ? measure_.upper_to_world : measure_.lower_to_world).apply(at_mm);
        return finding;
    }

    [[nodiscard]] std::string name_of_ply(std::size_t ply) const {
        const std::string& species = stack_.plies[ply].species;
        return fmt::format("ply {} of {} ({}{}{})", ply + 1, stack_.plies.size(),
                           length_mark(stack_.plies[ply].thickness_mm), species.empty() ? "" : " ", species);
    }

    [[nodiscard]] Finding bending(const PlyBend& bend, bool with_grain) const {
        Finding finding = about(bend.from_upper, bend.at_mm);
        const double least = bend.least_radius_mm();
        finding.unit = "mm";
        finding.value = bend.radius_mm;
        finding.limit = kSafeRadius * least;
        finding.margin = *finding.value - *finding.limit;
        const bool mere_estimate = !with_grain && !bend.tried;
        finding.verdict = bend.radius_mm >= *finding.limit           ? Verdict::go
                          : bend.radius_mm >= least || mere_estimate ? Verdict::marginal
                                                                     : Verdict::no_go;
        const char* way = with_grain ? "along its grain" : "across its grain";
        finding.title = fmt::format("{} is bent {} to a radius of {}, {} {}", name_of_ply(bend.ply), way,
                                    length_mark(bend.radius_mm), length_mark(*finding.limit),
                                    finding.verdict == Verdict::go ? "is enough" : "wanted");
        finding.title.front() = 'P';
        finding.why = fmt::format(
            "Its outside is strained by {:.2f} %; {} at {:.2f} %, a radius of {}{}. Planned with half as much again.",
            100 * bend.strain, bend.tried ? "it bent in the shop's own trial" : "the mean piece breaks",
            100 * bend.breaks, length_mark(least), mere_estimate ? " (an estimate from plywood: try a strip)" : "");
        if (finding.verdict != Verdict::go) {
            const double thickness = stack_.plies[bend.ply].thickness_mm * bend.radius_mm / *finding.limit;
            finding.remedy =
                fmt::format("Plies of {} at most there (more of them), a face with {} more radius, or veneer "
                            "bent wet or hot; state what it takes with \"{}\".",
                            length_mark(thickness), length_mark(-*finding.margin),
                            with_grain ? "bend_radius" : "bend_radius_across");
        }
        return finding;
    }

    [[nodiscard]] Finding flat() const {
        Finding finding = about(measure_.tightest_of_upper, measure_.tightest_at_mm);
        finding.verdict = Verdict::go;
        finding.title = "The forming faces are flat: nothing is bent";
        finding.why = "No radius below 20 m was found over the deck.";
        return finding;
    }

    [[nodiscard]] Finding unknown() const {
        Finding finding = about(measure_.tightest_of_upper, measure_.tightest_at_mm);
        finding.verdict = Verdict::not_checked;
        finding.unit = "mm";
        finding.value = measure_.tightest_mm;
        finding.title = fmt::format("What {} {} of {} {} when bent is not known", measure_.unknown.size(),
                                    measure_.unknown.size() == 1 ? "ply" : "plies", stack_.plies.size(), "takes");
        finding.why = fmt::format("{} names no species that we know; the tightest radius of the faces is {}.",
                                  name_of_ply(measure_.unknown.front()), radius_words(measure_.tightest_mm));
        finding.why.front() = 'P';
        finding.remedy = "State its \"species\" (maple, birch, beech, oak), or the radius it takes as \"bend_radius\".";
        return finding;
    }

    [[nodiscard]] Finding fold_back() const {
        Finding finding = about(measure_.fold_from_upper, measure_.fold_at_mm);
        const double radius = measure_.stack_mm / measure_.fold;
        finding.verdict = Verdict::no_go;
        finding.unit = "mm";
        finding.value = radius - measure_.stack_mm;
        finding.limit = 0.0;
        finding.margin = *finding.value;
        finding.title =
            fmt::format("A hollow of radius {} is tighter than the stack of {} is thick: it folds back there",
                        length_mark(radius), length_mark(measure_.stack_mm));
        finding.why = "The far side of the stack would have a radius below nothing; no ply lies like that.";
        finding.remedy = fmt::format("Give the hollow {} of radius or more.",
                                     length_mark(measure_.stack_mm + std::max(0.0, tightest_allowed())));
        return finding;
    }

    [[nodiscard]] Finding crease(const BentFace& face, bool of_upper) const {
        Finding finding = about(of_upper, face.crease_mm);
        finding.verdict = outline_.empty() ? Verdict::marginal : Verdict::no_go;
        finding.unit = "mm";
        finding.value = face.creased_mm;
        finding.limit = 0.0;
        finding.margin = -face.creased_mm;
        finding.title =
            fmt::format("{} has {} of sharp edge inside the deck, up to {:.0f}\u00b0", of_upper ? upper_ : lower_,
                        length_mark(face.creased_mm), glm::degrees(face.crease_rad));
        finding.why =
            outline_.empty()
                ? "No ply bends round an edge. The deck's outline is not stated, so it may lie beside the deck."
                : "No ply bends round an edge: the stack bridges it, or breaks.";
        finding.remedy = fmt::format("Round it to a radius of {} or more{}.", length_mark(tightest_allowed()),
                                     outline_.empty() ? ", or state \"deck_size\"" : "");
        return finding;
    }

    [[nodiscard]] Finding doubly(double breaks) const {
        Finding finding = about(false, measure_.stretch_at_mm);
        finding.unit = "%";
        finding.value = 100 * measure_.stretch;
        finding.limit = 100 * kSafeStretch * breaks;
        finding.margin = *finding.limit - *finding.value;
        finding.verdict = *finding.margin >= 0         ? Verdict::go
                          : measure_.stretch <= breaks ? Verdict::marginal
                                                       : Verdict::no_go;
        const double share = 100 * measure_.doubly_mm2 / measure_.whole_mm2;
        finding.title =
            finding.verdict == Verdict::go
                ? fmt::format(
                      "{:.0f} % of the face is curved both ways: {:.2f} % of stretch in the plies, {:.2f} % is fine",
                      share, *finding.value, *finding.limit)
                : fmt::format("The face is curved both ways and stretches the plies by {:.2f} %, {:.2f} % allowed",
                              *finding.value, *finding.limit);
        finding.why =
            fmt::format("Flat veneer cannot lie on a face curved both ways without stretching: {:.0f} cm\u00b2 of it "
                        "are (an estimate: K integrated twice, along the easier way). It breaks at {:.2f} %.",
                        measure_.doubly_mm2 / 100, 100 * breaks);
        if (finding.verdict != Verdict::go) {
            finding.remedy = fmt::format("Let the hollow fade out where the face bends the other way: {:.0f} % less of "
                                         "one of the two curvatures; "
                                         "or slit the plies there.",
                                         100 * (1 - *finding.limit / *finding.value));
        }
        return finding;
    }

    [[nodiscard]] Finding springs() const {
        const SpringBack& back = *measure_.spring_back;
        Finding finding = about(measure_.tightest_of_upper, measure_.tightest_at_mm);
        finding.verdict = Verdict::go;
        finding.unit = "%";
        finding.value = 100 * back.along;
        finding.title = fmt::format("The deck springs back by about {:.1f} % lengthwise and {:.1f} % crosswise",
                                    100 * back.along, 100 * back.across);
        finding.why =
            fmt::format("Share of its curvature that a stack glued bent loses when the press opens: sum E t\u00b3/12 "
                        "of the plies over the "
                        "bonded stiffness; elastic, an estimate. The tightest radius of {} opens to {} lengthwise; a "
                        "mold for {} wants "
                        "a radius of {}.",
                        length_mark(measure_.tightest_mm), length_mark(measure_.tightest_mm / (1 - back.along)),
                        length_mark(measure_.tightest_mm), length_mark(measure_.tightest_mm * (1 - back.along)));
        return finding;
    }

    /// Of the plies' own: the largest safe radius of any.
    [[nodiscard]] double tightest_allowed() const {
        double radius = 0;
        for (const Ply& ply : stack_.plies) {
            const PlyWood wood = wood_of(ply);
            if (wood.breaks_along) {
                radius = std::max(radius, kSafeRadius * ply.thickness_mm / (2 * *wood.breaks_along));
            }
        }
        return radius;
    }

private:
    const BendMeasure& measure_;
    const PlyStack& stack_;
    std::vector<Vec2> outline_;
    std::string lower_, upper_;
};

} // namespace

std::vector<Finding> judge(const BendMeasure& measure, const Setup& setup, const Assembly& assembly) {
    const Judge judge(measure, setup, assembly);
    if (!measure.not_measured.empty()) {
        Finding finding = judge.about(false, {});
        finding.verdict = Verdict::not_checked;
        finding.at_mm.reset();
        finding.title = "What the plies are bent to was not measured";
        finding.why = fmt::format("The faces' curvature has no value: {}.", measure.not_measured);
        finding.remedy =
            "Look at the halves' placement in the mold document: \"offset\", \"turn\", \"flip\", \"unit\".";
        return {finding};
    }
    std::vector<Finding> findings;
    for (const bool of_upper : {false, true}) {
        const BentFace& face = of_upper ? measure.upper : measure.lower;
        if (face.creased_mm > 0) {
            findings.push_back(judge.crease(face, of_upper));
        }
    }
    if (measure.fold >= 1) {
        findings.push_back(judge.fold_back());
    }
    if (measure.with_grain) {
        findings.push_back(judge.bending(*measure.with_grain, true));
    }
    if (measure.across_grain) {
        findings.push_back(judge.bending(*measure.across_grain, false));
    }
    if (!measure.unknown.empty()) {
        findings.push_back(judge.unknown());
    } else if (findings.empty()) {
        findings.push_back(judge.flat());
    }
    double breaks = 1;
    for (const Ply& ply : setup.openings.front().mold->stack.plies) {
        breaks = std::min(breaks, wood_of(ply).breaks_along.value_or(1));
    }
    if (measure.doubly_mm2 > 0 && breaks < 1) {
        findings.push_back(judge.doubly(breaks));
    }
    if (measure.spring_back && measure.tightest_mm > 0) {
        findings.push_back(judge.springs());
    }
    return findings;
}

} // namespace evenclose
