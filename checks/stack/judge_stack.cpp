#include "checks/opening_view.hpp"
#include "checks/phrase.hpp"
#include "checks/stack/lifting_limit.hpp"
#include "checks/stack/stack.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// A gauge is no truer than this (common practice, no source); as in `pressure`.
constexpr double kSheetTrue = 0.9;
// As for the cavity and the level: up to twice a limit a deck may still come out (common practice, no source).
constexpr double kMarginalOverLimit = 2.0;
// As in `pressure`: this much off the mean squeezes glue out unequally, but does not starve it.
constexpr double kEven = 0.3;
// Few can lift three times the limit (NIOSH 94-110).
constexpr double kFewLift = 3.0;
// Smooth dry steel on timber or plastic holds at least this much of what presses it (common practice, no source).
constexpr double kFriction = 0.2;

std::string kg(double mass) { return fmt::format("{:.3g} kg", mass); }

/// "40, 80 and 120 mm".
template <class Of> std::string each(const StackMeasure& measure, Of of) {
    std::vector<std::string> list;
    for (const StackedOpening& opening : measure.openings) {
        list.push_back(of(opening));
    }
    return listed(list);
}

class Judge {
public:
    Judge(const StackMeasure& measure, const Setup& setup, const Assembly& assembly)
        : measure_(measure), setup_(setup), assembly_(assembly) {}

    std::vector<Finding> take() {
        order();
        errors();
        force();
        parallel();
        for (std::size_t k = 0; k < measure_.between.size(); ++k) {
            bend(k);
            askew(k);
        }
        hands();
        return std::move(findings_);
    }

private:
    Finding& add(Verdict verdict, const char* unit, double value, double limit, double margin) {
        Finding finding;
        finding.check = "stack";
        finding.verdict = verdict;
        finding.unit = unit;
        finding.value = value;
        finding.limit = limit;
        finding.margin = margin;
        finding.travel = TravelInterval{assembly_.last, assembly_.last};
        findings_.push_back(std::move(finding));
        return findings_.back();
    }
    /// In the opening's middle, open.
    [[nodiscard]] Vec3 place(std::size_t opening) const {
        const OpenHeights& heights = assembly_.openings[opening].heights;
        const Body& lower = assembly_.bodies[assembly_.openings[opening].lower];
        return {Vec2{lower.placement.translation_mm}, 0.5 * (heights.floor_z_mm + heights.ceiling_z_mm)};
    }
    [[nodiscard]] std::string between(std::size_t k) const {
        return assembly_.bodies[assembly_.openings[k].above].name;
    }

    void order() {
        const double reserve = measure_.stroke_mm - measure_.stroke_needed_mm;
        const auto low = std::max_element(
            measure_.openings.begin(), measure_.openings.end(),
            [](const StackedOpening& a, const StackedOpening& b) { return a.rest_short_mm < b.rest_short_mm; });
        const Verdict verdict = reserve < 0 ? Verdict::no_go : low->rest_short_mm > 0 ? Verdict::marginal : Verdict::go;
        Finding& finding = add(verdict, "mm", measure_.stroke_needed_mm, measure_.stroke_mm, reserve);
        finding.at_mm = place(0);
        finding.why = fmt::format(
            "Pressing from below the lowest opening closes first, as only it gets narrower until it is closed; then it "
            "lifts the platen above off its rest. Gaps tell the order, weights do not. Daylight of the whole press is "
            "{}, the closed stack {}: the stroke must be {}, there is {}.",
            length_mark(measure_.daylight_mm), length_mark(measure_.closed_mm), length_mark(measure_.stroke_needed_mm),
            length_mark(measure_.stroke_mm));
        if (reserve < 0) {
            const auto closed =
                std::count_if(measure_.openings.begin(), measure_.openings.end(),
                              [&](const StackedOpening& opening) { return opening.closes.mm <= measure_.stroke_mm; });
            finding.title = fmt::format("Only {} of {} openings close: the stroke is {} short", closed,
                                        measure_.openings.size(), length_mark(-reserve));
            finding.remedy =
                fmt::format("Take {} from the gaps (rests lower, head lower), or jacks with that much more "
                            "stroke, or press {} openings.",
                            length_mark(-reserve), closed);
            return;
        }
        finding.title = fmt::format("{} openings close from below, after {} of travel", measure_.openings.size(),
                                    each(measure_, [](const StackedOpening& o) { return length_mark(o.closes.mm); }));
        if (low->rest_short_mm > 0) {
            const auto k = static_cast<std::size_t>(low - measure_.openings.begin());
            finding.title = fmt::format("The rest of {} is {} too low: it lies on the closed mold", between(k),
                                        length_mark(low->rest_short_mm));
            finding.bodies = {between(k)};
            finding.at_mm = place(k);
            finding.margin = -low->rest_short_mm;
            finding.value = -low->rest_short_mm;
            finding.limit = 0.0;
            finding.remedy = fmt::format("Raise that rest by {}, and by what it takes to bring the mold in.",
                                         length_mark(low->rest_short_mm));
        }
    }

    void errors() {
        const double reserve = measure_.stroke_mm - measure_.stroke_needed_mm;
        const double left = reserve - measure_.thickness_error_mm;
        Finding& finding = add(left >= 0 ? Verdict::go : Verdict::marginal, "mm", measure_.thickness_error_mm,
                               std::max(0.0, reserve), left);
        finding.title =
            fmt::format("Each mold {} out of thickness adds up to {}: {}",
                        length_mark(setup_.limits.cavity_tolerance_mm), length_mark(measure_.thickness_error_mm),
                        left >= 0 ? fmt::format("{} of stroke are then left", length_mark(left))
                                  : fmt::format("the stroke is then {} short", length_mark(-left)));
        finding.why = "All of the stack's errors come out at the jacks: thinner molds all want more stroke. Taken is "
                      "`cavity_tolerance` for each opening, all one way.";
        if (left < 0) {
            finding.remedy =
                fmt::format("Keep a packer of {} at hand, or take that much from the gaps.", length_mark(-left));
        }
    }

    void force() {
        const StackedOpening& weakest = measure_.openings[measure_.weakest];
        const double share = weakest.share();
        const Verdict verdict = share >= 1                              ? Verdict::go
                                : !weakest.sheet || share >= kSheetTrue ? Verdict::marginal
                                                                        : Verdict::no_go;
        Finding& finding =
            add(verdict, "MPa", weakest.pressure_MPa, weakest.wanted_MPa, weakest.pressure_MPa - weakest.wanted_MPa);
        finding.at_mm = place(measure_.weakest);
        finding.bodies = {assembly_.bodies[assembly_.openings[measure_.weakest].lower].name};
        finding.title = fmt::format("{} is pressed least for its glue: {}, {} {}", called({measure_.weakest}),
                                    pressure_mark(weakest.pressure_MPa), pressure_mark(weakest.wanted_MPa),
                                    weakest.sheet ? "asked by its sheet" : "at least by the handbooks");
        finding.why = fmt::format("With {} at the head, from the bottom up the openings bear {}: each all that lies "
                                  "above it. That is {}. The "
                                  "jacks bear {}.",
                                  force_mark(measure_.head_N),
                                  each(measure_, [](const StackedOpening& o) { return force_mark(o.force_N); }),
                                  each(measure_, [](const StackedOpening& o) { return pressure_mark(o.pressure_MPa); }),
                                  force_mark(measure_.jacks_N));
        if (verdict != Verdict::go) {
            finding.remedy = fmt::format("Close with {} at the head: {} more.",
                                         force_mark(measure_.head_N + weakest.area_mm2 * -*finding.margin),
                                         force_mark(weakest.area_mm2 * -*finding.margin));
        }
    }

    void parallel() {
        const double limit = setup_.limits.level_over_deck_mm;
        const double value = measure_.tilt_mm + measure_.parallel_error_mm;
        const auto n = static_cast<double>(measure_.openings.size());
        Finding& finding = add(value <= limit                        ? Verdict::go
                               : value <= kMarginalOverLimit * limit ? Verdict::marginal
                                                                     : Verdict::no_go,
                               "mm", value, limit, limit - value);
        finding.at_mm = place(measure_.openings.size() - 1);
        finding.slope = assembly_.by_jacks.slope_range(assembly_.last).high;
        finding.title = fmt::format("{} closes last, over all errors below it: its deck's ends may close {} apart{}",
                                    called({measure_.openings.size() - 1}), length_mark(value),
                                    value <= limit ? "" : fmt::format(", {} allowed", length_mark(limit)));
        finding.why = fmt::format(
            "The jacks may stand {} out of level over the deck; once picked up every platen takes that tilt, and the "
            "last opening shows it whole (shared evenly it would be {} each). The other {} molds may each be out of "
            "parallel by `cavity_tolerance`, {}: by chance that adds up to {}, all one way to {}.",
            length_mark(measure_.tilt_mm), length_mark(measure_.tilt_mm / n), measure_.openings.size() - 1,
            length_mark(setup_.limits.cavity_tolerance_mm), length_mark(measure_.parallel_error_mm),
            length_mark((n - 1) * setup_.limits.cavity_tolerance_mm));
        if (value > limit) {
            finding.remedy = "Turn every other mold end for end, so that what is thick lies over what is thin; measure "
                             "the closed molds at their four corners and shim the platens between by the difference.";
        }
    }

    void bend(std::size_t k) {
        const BetweenOpenings& here = measure_.between[k];
        if (here.alike) {
            return;
        }
        const double limit = setup_.limits.cavity_tolerance_mm;
        const double value = here.bend_mm.value_or(0);
        Finding& finding = add(!here.bend_mm                         ? Verdict::not_checked
                               : value <= limit                      ? Verdict::go
                               : value <= kMarginalOverLimit * limit ? Verdict::marginal
                                                                     : Verdict::no_go,
                               "mm", value, limit, limit - value);
        finding.bodies = {between(k)};
        finding.at_mm = place(k + 1);
        finding.why = "The decks above and below are not alike: where one ends before the other the platen bears one "
                      "pressure alone, and bends like a beam. The halves stiffen it; that is not counted.";
        if (!here.bend_mm) {
            finding.value.reset();
            finding.margin.reset();
            finding.title = fmt::format("How far {} bends between unlike molds is not known", between(k));
            finding.why += " Its stiffness is not known.";
            finding.remedy = "Give its \"material\" (and a plate, not a mesh).";
            return;
        }
        finding.title = fmt::format("Between unlike molds {} bends {}{}", between(k), length_mark(value),
                                    value <= limit ? "" : fmt::format(", {} allowed", length_mark(limit)));
        if (value > limit) {
            finding.remedy = fmt::format(
                "Take it {} thick (it bends with the cube), or put molds that are alike next to each other.",
                length_mark(std::ceil(here.thickness_mm * std::cbrt(value / limit))));
        }
    }

    void askew(std::size_t k) {
        const BetweenOpenings& here = measure_.between[k];
        constexpr double kOver_mm = 0.01; // over one another
        const double off = glm::length(here.off_mm);
        if (off < kOver_mm) {
            return;
        }
        Finding& finding = add(here.kern <= kEven ? Verdict::go
                               : here.kern <= 1   ? Verdict::marginal
                                                  : Verdict::no_go,
                               "%", 100 * here.kern, 100 * kEven, 100 * (kEven - here.kern));
        finding.bodies = {assembly_.bodies[assembly_.openings[k].lower].name,
                          assembly_.bodies[assembly_.openings[k + 1].lower].name};
        finding.openings = {k, k + 1};
        finding.at_mm = place(k + 1);
        finding.title = fmt::format("{} stands {} beside the mold below it: {:.0f} % more pressure at one edge{}",
                                    assembly_.bodies[assembly_.openings[k + 1].lower].name, length_mark(off),
                                    100 * here.kern, here.kern > 1 ? ", and the other edge opens" : "");
        const SlopeRange range = assembly_.by_jacks.slope_range(assembly_.last);
        const double steep = std::hypot(std::max(std::abs(range.low.x), std::abs(range.high.x)),
                                        std::max(std::abs(range.low.y), std::abs(range.high.y)));
        finding.why = fmt::format(
            "The force goes from one deck to the next askew, so the smaller one is pressed as by a force beside its "
            "middle; what is loose between the platens would tip that way, and only the guides hold it. The platen's "
            "own tilt pushes sideways with {}; friction holds up to some {}.",
            force_mark(steep * measure_.openings[k].force_N), force_mark(kFriction * measure_.openings[k].force_N));
        if (here.kern > kEven) {
            finding.remedy = fmt::format("Move one of the two molds so that they stand within {} of each other.",
                                         length_mark(off * kEven / here.kern));
        }
    }

    void hands() {
        std::size_t worst = 0;
        const auto load = [&](std::size_t i) {
            const StackedOpening& o = measure_.openings[i];
            return o.limit_kg > 0 ? o.lifted_kg / o.limit_kg : 1e9;
        };
        for (std::size_t i = 1; i < measure_.openings.size(); ++i) {
            worst = load(i) > load(worst) ? i : worst;
        }
        const StackedOpening& here = measure_.openings[worst];
        const StackedOpening& top = measure_.openings.back();
        const bool known = here.lifted_kg > 0 || here.limit_kg <= 0;
        Finding& finding = add(!known                                       ? Verdict::not_checked
                               : here.limit_kg <= 0                         ? Verdict::no_go
                               : here.lifted_kg <= here.limit_kg            ? Verdict::go
                               : here.lifted_kg <= kFewLift * here.limit_kg ? Verdict::marginal
                                                                            : Verdict::no_go,
                               "kg", here.lifted_kg, here.limit_kg, here.limit_kg - here.lifted_kg);
        finding.travel = TravelInterval{{0}, {0}};
        finding.at_mm = place(worst);
        finding.bodies = {assembly_.bodies[assembly_.openings[worst].below].name};
        finding.why = fmt::format(
            "From the bottom up molds go in at {} above the floor. What nearly everybody may lift there now and then, "
            "arms "
            "out {} over the platen's edge, is {} (NIOSH lifting equation, 94-110: best at knuckle height, nothing "
            "above "
            "{}).",
            each(measure_, [](const StackedOpening& o) { return length_mark(o.floor_z_mm); }), length_mark(kArmsOut_mm),
            each(measure_, [](const StackedOpening& o) { return kg(o.limit_kg); }), length_mark(kHighestLift_mm));
        if (!known) {
            finding.value.reset();
            finding.margin.reset();
            finding.title =
                fmt::format("The topmost opening stands {} above the floor; what is lifted there is not known",
                            length_mark(top.floor_z_mm));
            finding.why += " The mold's weight is not known.";
            finding.remedy = "Give the halves' \"material\".";
        } else if (here.limit_kg <= 0) {
            finding.openings = {worst};
            finding.title = fmt::format("It stands {} above the floor: nobody should lift a mold there",
                                        length_mark(here.floor_z_mm));
            finding.remedy =
                fmt::format("A platform of {} in front of the press, a lifting table, or one opening fewer.",
                            length_mark(here.floor_z_mm - kHighestLift_mm));
        } else if (here.lifted_kg <= here.limit_kg) {
            finding.title = fmt::format("Molds of {} can be lifted into every opening, the topmost {} above the floor",
                                        kg(here.lifted_kg), length_mark(top.floor_z_mm));
        } else {
            finding.openings = {worst};
            finding.title = fmt::format("A mold of {} is lifted {} above the floor, where {} is fit for one person",
                                        kg(here.lifted_kg), length_mark(here.floor_z_mm), kg(here.limit_kg));
            finding.remedy = setup_.openings[worst].mold->loading == Loading::sandwich
                                 ? "Lift it by two, slide it from a lifting table, or bring each half in by itself."
                                 : "Lift it by two, or slide it from a lifting table.";
        }
    }

    const StackMeasure& measure_;
    const Setup& setup_;
    const Assembly& assembly_;
    std::vector<Finding> findings_;
};

} // namespace

std::vector<Finding> judge(const StackMeasure& measure, const Setup& setup, const Assembly& assembly) {
    if (measure.openings.size() < 2) {
        return {};
    }
    return Judge(measure, setup, assembly).take();
}

} // namespace evenclose
