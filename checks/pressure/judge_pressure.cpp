#include "checks/phrase.hpp"
#include "checks/pressure/pressure.hpp"
#include "scene/jacks/cylinder.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace evenclose {
namespace {

// A hand-driven jack and a pressure gauge are no truer than this (common practice, no source).
constexpr double kSheetTrue = 0.9;
// A deck's place may cost so much of the jacks' force before it is worth telling (common practice, no source).
constexpr double kLostToPlace = 0.1;
// Pressure this much off the mean squeezes glue out unequally, but does not starve it (common practice, no source).
constexpr double kEven = 0.3;
// Bores of the 16 MPa compact series, ISO 6020-2 (REFERENCE 2), at half of their rated pressure: what a shop's pump gives.
constexpr std::array<double, 10> kBores_mm = {25, 32, 40, 50, 63, 80, 100, 125, 160, 200};
constexpr double kShopPump_MPa = 8;

Finding about(const PressureMeasure& measure, const Setup& setup, const Assembly& assembly) {
    Finding finding;
    finding.check = "pressure";
    finding.unit = "MPa";
    finding.travel = TravelInterval{assembly.last, assembly.last};
    const double face_z = setup.press->head_underside_z_mm - assembly.daylight_mm + assembly.last.mm;
    finding.at_mm = Vec3{measure.deck.centre_mm, face_z};
    return finding;
}

/// "2 jacks rated 24 kN each, or 2 cylinders of 63 mm bore at 7.5 MPa, or an air bag over the whole deck at 0.3 MPa".
std::string what_gives(const PressureMeasure& measure, double pressure_MPa) {
    const double total = measure.total_for_N(pressure_MPa);
    double most = 0;
    for (const JackLoad& jack : measure.jacks) {
        most = std::max(most, jack.share * total);
    }
    // Rated loads are told in whole kN above what is needed.
    const double rated = 1000 * std::ceil(most / 1000 - 1e-9);
    const std::size_t count = measure.jacks.size();
    std::string text = fmt::format("{} jacks rated {} each", count, force_mark(rated));
    const auto bore = std::find_if(kBores_mm.begin(), kBores_mm.end(),
                                   [&](double d) { return 0.25 * std::numbers::pi * d * d * kShopPump_MPa >= most; });
    if (bore != kBores_mm.end()) {
        text += fmt::format(", or {} cylinders of {} bore at {}", count, length_mark(*bore),
                            pressure_mark(most / (0.25 * std::numbers::pi * *bore * *bore)));
    }
    return text + fmt::format(", or an air bag that bears on the whole deck at {}", pressure_mark(pressure_MPa));
}

std::string force_told(const PressureMeasure& measure) {
    const std::string weights =
        fmt::format("{} of theirs lift {}", force_mark(measure.weights.all_N()),
                    measure.weights.above_N > 0 ? "the platens and the molds between them" : "platen and lower half");
    std::string text = measure.stated ? fmt::format("The set-up states {} on the deck; the jacks can give {} there",
                                                    force_mark(measure.force_N), force_mark(measure.available_N))
                                      : fmt::format("The jacks can give {} on the deck at the closing height",
                                                    force_mark(measure.available_N));
    text += fmt::format(", as far as {} allows ({}).",
                        measure.limit.drive ? fmt::format("the limit of {}", measure.limit.by)
                                            : fmt::format("the rated load of {}", measure.limit.by),
                        weights);
    for (const std::string& body : measure.weights.left_out) {
        text += fmt::format(" The weight of {} is left out: its material has no known density.", body);
    }
    return text;
}

std::string band_told(const PressureMeasure& measure) {
    return fmt::format("{} to {} for {}", pressure_mark(measure.band.least_MPa), pressure_mark(measure.band.most_MPa),
                       measure.band.species.empty() ? "woods from light to dense" : measure.band.species);
}

Finding judge_glue(const PressureMeasure& measure, const Setup& setup, const Assembly& assembly) {
    Finding finding = about(measure, setup, assembly);
    const double wanted = measure.asked_MPa.value_or(measure.band.least_MPa);
    finding.value = measure.mean_MPa;
    finding.limit = wanted;
    finding.margin = measure.mean_MPa - wanted;
    finding.bodies = {"platen"};
    finding.why =
        fmt::format("{} Over the deck of {} x {} that is {}.", force_told(measure), length_mark(measure.deck.size_mm.x),
                    length_mark(measure.deck.size_mm.y), pressure_mark(measure.mean_MPa));
    if (!measure.deck.stated) {
        finding.why += " No deck size is stated: the plan that both halves share is taken for it.";
    }
    const std::string presses =
        fmt::format("{} press the deck with {}", force_mark(measure.force_N), pressure_mark(measure.mean_MPa));
    if (measure.asked_MPa) {
        finding.verdict = measure.mean_MPa >= wanted                ? Verdict::go
                          : measure.mean_MPa >= kSheetTrue * wanted ? Verdict::marginal
                                                                    : Verdict::no_go;
        finding.title =
            fmt::format("{}, {} the glue's sheet asks for {} (handbooks: {})", presses,
                        finding.verdict == Verdict::go ? "and" : "but", pressure_mark(wanted), band_told(measure));
    } else {
        finding.verdict = measure.mean_MPa >= wanted ? Verdict::go : Verdict::marginal;
        finding.title = fmt::format("{}; handbooks ask for {}", presses, band_told(measure));
        finding.why += " What counts is the glue's data sheet, which the mold does not state (\"glue_pressure\" of the "
                       "stack). The handbook's band is contested: shops press good decks of thin, flexible veneers far "
                       "below it.";
    }
    if (finding.verdict != Verdict::go) {
        const double need = wanted * measure.area_mm2;
        const bool enough = measure.stated && need <= measure.available_N;
        finding.remedy = enough ? fmt::format("Close with {}: the jacks can give it.", force_mark(need))
                                : fmt::format("{} takes {} on the deck: {}.", pressure_mark(wanted), force_mark(need),
                                              what_gives(measure, wanted));
        if (!enough) {
            finding.remedy += fmt::format(" Or press a deck of at most {} cm\u00b2 with what there is.",
                                          std::lround(measure.available_N / wanted / 100));
        }
        if (!measure.asked_MPa) {
            finding.remedy = "Look up the pressure in the glue's data sheet and state it. " + finding.remedy;
        }
    }
    return finding;
}

Finding judge_jacks(const PressureMeasure& measure, const Setup& setup, const Assembly& assembly) {
    Finding finding = about(measure, setup, assembly);
    finding.unit = "N";
    const auto use = [](const JackLoad& jack) { return jack.load_N / jack.rated_N; };
    const auto worst = std::max_element(measure.jacks.begin(), measure.jacks.end(),
                                        [&](const JackLoad& a, const JackLoad& b) { return use(a) < use(b); });
    const auto idle = std::min_element(measure.jacks.begin(), measure.jacks.end(),
                                       [](const JackLoad& a, const JackLoad& b) { return a.share < b.share; });
    finding.value = worst->load_N;
    finding.limit = worst->rated_N;
    finding.margin = worst->rated_N - worst->load_N;
    finding.bodies = {worst->jack};
    for (const JackLoad& jack : measure.jacks) {
        finding.why += fmt::format("{} bears {} of its {} ({:.0f} % of all). ", jack.jack, force_mark(jack.load_N),
                                   force_mark(jack.rated_N), 100 * jack.share);
    }
    finding.why += "That is with the platen held level; by lever, from the deck's place.";
    if (idle->share < -1e-9) {
        finding.verdict = Verdict::no_go;
        finding.bodies = {idle->jack};
        finding.title = fmt::format("{} would have to pull: the deck is pressed outside the jacks", idle->jack);
        finding.remedy = "Move the mold between the jacks.";
        return finding;
    }
    const double over = worst->load_N / worst->rated_N;
    if (over > 1 + 1e-9) {
        finding.verdict = Verdict::no_go;
        finding.title = fmt::format("{} is overloaded: {} of its {}", worst->jack, force_mark(worst->load_N),
                                    force_mark(worst->rated_N));
        finding.remedy = fmt::format("Close with at most {}, or take a jack rated {}.", force_mark(measure.available_N),
                                     force_mark(1000 * std::ceil(worst->load_N / 1000)));
        return finding;
    }
    if (measure.limit.drive && measure.stated && measure.force_N > measure.available_N) {
        finding.verdict = Verdict::no_go;
        finding.title = fmt::format("{} cannot drive the jacks to {}", measure.limit.by, force_mark(measure.force_N));
        finding.remedy = fmt::format("Close with at most {}, or take a drive with {:.2f} times its limit.",
                                     force_mark(measure.available_N),
                                     (measure.force_N + measure.weights.all_N()) / measure.limit.total_N);
        return finding;
    }
    const double lost = 1 - measure.limit.total_N / measure.rated_all_N;
    if (!measure.limit.drive && !measure.stated && lost > kLostToPlace) {
        finding.verdict = Verdict::marginal;
        finding.title =
            fmt::format("{} is at its rated {} when the jacks give {} of {} together", worst->jack,
                        force_mark(worst->rated_N), force_mark(measure.limit.total_N), force_mark(measure.rated_all_N));
        finding.remedy = fmt::format("Move the mold {} towards the jacks' middle, or take a jack rated {} there.",
                                     length_mark(std::abs(measure.eccentricity_mm.x)),
                                     force_mark(1000 * std::ceil(worst->share * measure.rated_all_N / 1000)));
        return finding;
    }
    finding.verdict = Verdict::go;
    finding.title =
        fmt::format("{} bears most: {} of its {}", worst->jack, force_mark(worst->load_N), force_mark(worst->rated_N));
    return finding;
}

Finding judge_evenness(const PressureMeasure& measure, const Setup& setup, const Assembly& assembly) {
    Finding finding = about(measure, setup, assembly);
    const double off = std::hypot(measure.eccentricity_mm.x, measure.eccentricity_mm.y);
    finding.limit = (1 - kEven) * measure.mean_MPa;
    finding.value = measure.map ? measure.least_MPa : 0.0;
    finding.margin = *finding.value - *finding.limit;
    finding.bodies = {"platen"};
    finding.why = fmt::format("The deck's middle lies {} along the deck and {} across it from the jacks' middle. Jacks "
                              "held level press evenly all the same; jacks driven to one and the same force press at "
                              "their own middle, and where nothing can pull the far end gets less.",
                              length_mark(measure.eccentricity_mm.x), length_mark(measure.eccentricity_mm.y));
    if (measure.map && measure.least_MPa >= *finding.limit - 1e-12) {
        finding.verdict = Verdict::go;
        finding.title =
            off < 0.5
                ? fmt::format("The deck stands in the jacks' middle: rigid platens press evenly with {}",
                              pressure_mark(measure.mean_MPa))
                : fmt::format("The deck stands {} off the jacks' middle: driven alike they press with {} to {}",
                              length_mark(off), pressure_mark(measure.least_MPa), pressure_mark(measure.greatest_MPa));
        return finding;
    }
    finding.verdict = Verdict::marginal;
    // Along the line to the jacks' middle the pressure's lean is in proportion to the distance, inside the kern.
    const double would_do = measure.kern > 0 ? off * kEven / measure.kern : 0;
    finding.remedy = fmt::format("Move the mold {} towards the jacks' middle, or drive the jacks to one height, not to "
                                 "one force.",
                                 length_mark(off - would_do));
    if (!measure.map) {
        finding.title = fmt::format("The deck stands {} off the jacks' middle: driven alike they would tip the platen",
                                    length_mark(off));
    } else if (measure.map->contact_share < 1 - 1e-9) {
        finding.title =
            fmt::format("The deck stands {} off the jacks' middle: driven alike they leave {:.0f} % of it "
                        "without pressure, and press with {} at the other end",
                        length_mark(off), 100 * (1 - measure.map->contact_share), pressure_mark(measure.greatest_MPa));
    } else {
        finding.title =
            fmt::format("The deck stands {} off the jacks' middle: driven alike they press with only {} at "
                        "one end and {} at the other",
                        length_mark(off), pressure_mark(measure.least_MPa), pressure_mark(measure.greatest_MPa));
    }
    return finding;
}

} // namespace

std::vector<Finding> judge(const PressureMeasure& measure, const Setup& setup, const Assembly& assembly) {
    if (!(measure.area_mm2 > 0)) {
        Finding finding = about(measure, setup, assembly);
        finding.verdict = Verdict::not_checked;
        finding.title = "The pressure is not known: the two halves share no plan";
        finding.why = "Force over area needs an area.";
        finding.remedy = "State the deck's size (\"deck_size\") in the mold.";
        return {finding};
    }
    return {judge_glue(measure, setup, assembly), judge_jacks(measure, setup, assembly),
            judge_evenness(measure, setup, assembly)};
}

} // namespace evenclose
