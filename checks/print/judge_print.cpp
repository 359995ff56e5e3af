#include "checks/phrase.hpp"
#include "checks/print/print.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace evenclose {
namespace {

// REFERENCE 14: sustained stress under a quarter of the short-time value (common practice); at half of it a print gives
// way over a day of pressing.
constexpr double kSustained = 0.25;
constexpr double kGivesWay = 0.5;
// Below the temperature at which it softens a print should stay by so much (REFERENCE 14, common practice).
constexpr double kBelowGlass_C = 20;

Finding about(const std::vector<std::string>& bodies) {
    Finding finding;
    finding.check = "print";
    finding.bodies = bodies;
    return finding;
}

std::string joints_in_words(const PrintedHalf& half) {
    std::vector<std::string> words;
    constexpr const char* kAxes[] = {"X", "Y", "Z"};
    for (std::size_t axis = 0; axis < 3; ++axis) {
        if (!half.joints_mm[axis].empty()) {
            std::vector<std::string> places;
            // A long row is told by its ends.
            const std::vector<double>& joints = half.joints_mm[axis];
            for (std::size_t i = 0; i < joints.size(); ++i) {
                if (joints.size() <= 6 || i < 2 || i + 1 == joints.size()) {
                    places.push_back(length_mark(joints[i]));
                } else if (i == 2) {
                    places.emplace_back("...");
                }
            }
            words.push_back(fmt::format("{} {}", kAxes[axis], fmt::join(places, ", ")));
        }
    }
    return fmt::format("{}", fmt::join(words, "; "));
}

/// How near a joint runs to where the face is bent tightest, and what to do about it.
void tell_near_joint(Finding& finding, const PrintedHalf& half, Travel closed) {
    if (!half.near) {
        return;
    }
    const NearJoint& near = *half.near;
    const char* axis = near.axis == 0 ? "X" : "Y";
    const std::string radius = length_mark(near.radius_mm);
    if (near.all_over) {
        finding.why += fmt::format(" Its face is bent nearly as tightly all over (radius {}): no place for a joint is "
                                   "better than another.",
                                   radius);
        return;
    }
    const std::string place = fmt::format("the tightest radius of its face ({} at X {}, Y {})", radius,
                                          length_mark(near.tight_mm.x), length_mark(near.tight_mm.y));
    if (!near.too_near() || !half.bent_hard) {
        finding.why += fmt::format(" The nearest keeps {} off {}{}.", length_mark(near.off_mm), place,
                                   half.bent_hard ? "" : ", which asks little of these plies");
        return;
    }
    // Less than the grid that `bend` looks at is no distance.
    const bool through = near.off_mm < 1;
    finding.verdict = Verdict::marginal;
    finding.title += through ? "; a joint runs through its tightest radius"
                             : fmt::format("; a joint runs {} beside its tightest radius", length_mark(near.off_mm));
    finding.why +=
        fmt::format(" That at {} {} runs {} {}; {} off is enough.", axis, length_mark(near.at_mm),
                    through ? "through" : length_mark(near.off_mm) + " beside", place, length_mark(kOffTightest_mm));
    finding.travel = TravelInterval{closed, closed};
    finding.at_mm = half.near_at_mm;
    if (near.shift_mm) {
        finding.remedy = fmt::format("Shift the joints by {} towards {}{}: one end piece is then {} long.",
                                     length_mark(std::abs(*near.shift_mm)), *near.shift_mm > 0 ? "+" : "-", axis,
                                     length_mark(half.pieces->size_mm[near.axis] + std::abs(*near.shift_mm)));
    } else if (near.count) {
        finding.remedy = fmt::format("Cut it into {} equal pieces along {}.", *near.count, axis);
    } else {
        finding.remedy = "No even cut keeps off it: fill that joint and sand it flush before the first pressing.";
    }
}

Finding pieces(const PrintedHalf& half, const Vec3& room_mm, Travel closed) {
    Finding finding = about({half.name});
    finding.verdict = Verdict::go;
    const Pieces& pieces = *half.pieces;
    finding.value = pieces.all();
    const Vec3& size = pieces.size_mm;
    const std::string turned = pieces.as_it_lies ? "" : ", turned on the printer";
    if (pieces.all() == 1) {
        finding.title = fmt::format("{} is printed in one piece{}", half.name, turned);
        finding.why =
            fmt::format("It is {} x {} x {}; the printer takes {} x {} x {}.", length_mark(size.x), length_mark(size.y),
                        length_mark(size.z), length_mark(room_mm.x), length_mark(room_mm.y), length_mark(room_mm.z));
        return finding;
    }
    finding.title = fmt::format("{} is printed in {} pieces ({} x {} x {}) of {} x {} x {}{}", half.name, pieces.all(),
                                pieces.count[0], pieces.count[1], pieces.count[2], length_mark(size.x),
                                length_mark(size.y), length_mark(size.z), turned);
    finding.why =
        fmt::format("Joints at {} in the mold's frame; {} of the upright ones {} the deck. Every joint there "
                    "prints through unless it is filled and sanded.",
                    joints_in_words(half), half.joints_in_deck, half.joints_in_deck == 1 ? "crosses" : "cross");
    tell_near_joint(finding, half, closed);
    return finding;
}

Finding not_told(const std::vector<std::string>& bodies, const std::string& what, const std::string& why,
                 const std::string& remedy) {
    Finding finding = about(bodies);
    finding.verdict = Verdict::not_checked;
    finding.title = what;
    finding.why = why;
    finding.remedy = remedy;
    return finding;
}

/// All at once: what is missing of what weighing and crushing need.
std::string missing(const PrintMeasure& measure, const PrintJob& print, bool for_mass) {
    std::vector<std::string> words;
    if (!print.fill) {
        words.emplace_back("\"print\": \"fill\"");
    }
    if (for_mass && !print.wall_mm) {
        words.emplace_back("\"print\": \"wall\"");
    }
    for (const PrintedHalf& half : measure.halves) {
        if (half.plastic == nullptr) {
            words.push_back(fmt::format("a \"material\" we know for {} (PLA, PETG, ABS)", half.name));
        }
    }
    return fmt::format("{}", fmt::join(words, ", "));
}

Finding mass(const PrintMeasure& measure, const PrintJob& print, const std::vector<std::string>& bodies) {
    const std::string lacks = missing(measure, print, true);
    if (!lacks.empty()) {
        return not_told(bodies, "What the print weighs is not known", "Mass comes from volume, wall, fill and plastic.",
                        fmt::format("State {}.", lacks));
    }
    for (const PrintedHalf& half : measure.halves) {
        if (!half.closed) {
            return not_told({half.name}, "What the print weighs is not known",
                            "A mesh with holes or flipped triangles encloses no volume.",
                            "Close it: see what the mesh check says.");
        }
    }
    Finding finding = about(bodies);
    finding.verdict = Verdict::go;
    double all = 0;
    std::vector<std::string> each;
    for (const PrintedHalf& half : measure.halves) {
        all += half.mass_kg;
        each.push_back(fmt::format("{} {:.2f} kg of {} ({:.2f} dm\u00b3)", half.name, half.mass_kg, half.plastic->name,
                                   half.volume_mm3 * 1e-6));
    }
    finding.value = all;
    finding.unit = "kg";
    finding.title = print.cost_a_kilo ? fmt::format("The print takes {:.2f} kg of plastic and costs {:.2f}", all,
                                                    all * *print.cost_a_kilo)
                                      : fmt::format("The print takes {:.2f} kg of plastic", all);
    finding.why = fmt::format("{}; {:.0f} % fill, walls of {}. The walls along the joints come on top.",
                              fmt::join(each, "; "), 100 * *print.fill, length_mark(*print.wall_mm));
    return finding;
}

Finding crushing(const PrintMeasure& measure, const PrintJob& print, const std::vector<std::string>& bodies) {
    const std::string lacks = missing(measure, print, false);
    if (!lacks.empty()) {
        return not_told(bodies, "Whether the print bears the pressing is not known",
                        "What a fill bears depends on how dense it is and of what.", fmt::format("State {}.", lacks));
    }
    const PrintedHalf* weakest = &measure.halves.front();
    for (const PrintedHalf& half : measure.halves) {
        if (half.plastic->crushes_at_MPa(*print.fill) < weakest->plastic->crushes_at_MPa(*print.fill)) {
            weakest = &half;
        }
    }
    const double strength = weakest->plastic->crushes_at_MPa(*print.fill);
    Finding finding = about({weakest->name});
    finding.unit = "MPa";
    finding.value = measure.pressure_MPa;
    finding.limit = kSustained * strength;
    finding.margin = *finding.limit - *finding.value;
    finding.verdict = *finding.margin >= 0                           ? Verdict::go
                      : measure.pressure_MPa <= kGivesWay * strength ? Verdict::marginal
                                                                     : Verdict::no_go;
    finding.title = fmt::format("{} presses the deck with {}; a {:.0f} % fill of {} bears {} for long",
                                measure.stated ? "The closing force of " + force_mark(measure.force_N)
                                               : "All that the jacks can give, " + force_mark(measure.force_N) + ",",
                                pressure_mark(*finding.value), 100 * *print.fill, weakest->plastic->name,
                                pressure_mark(*finding.limit));
    finding.why =
        fmt::format("It crushes at about {} (weakest pattern), and creeps from a quarter of that: press no "
                    "longer than the glue asks for, and keep the mold under {:.0f} \u00b0C ({} softens from {:.0f}).",
                    pressure_mark(strength), weakest->plastic->glass_C - kBelowGlass_C, weakest->plastic->name,
                    weakest->plastic->glass_C);
    if (finding.verdict != Verdict::go) {
        double fill = *print.fill;
        while (fill < 1 && kSustained * weakest->plastic->crushes_at_MPa(fill) < measure.pressure_MPa) {
            fill += 0.01;
        }
        const double force = *finding.limit * measure.deck_mm2;
        finding.remedy = fill < 1 ? fmt::format("Print with {:.0f} % fill, or press with {} at most.",
                                                std::ceil(100 * fill - 1e-9), force_mark(force))
                                  : fmt::format("Press with {} at most: no fill bears more.", force_mark(force));
    }
    return finding;
}

} // namespace

std::vector<Finding> judge(const PrintMeasure& measure, const Setup& setup, const Assembly& assembly) {
    std::vector<std::string> all;
    for (const Body& body : assembly.bodies) {
        if (body.part == Part::mold_lower || body.part == Part::mold_upper) {
            all.push_back(body.name);
        }
    }
    if (measure.halves.empty()) {
        Finding finding = about(all);
        finding.verdict = Verdict::go;
        finding.title = "Neither half is a mesh: nothing is printed";
        finding.why = "Both halves are blocks, stand-ins until there is a mold.";
        return {finding};
    }
    std::vector<std::string> bodies;
    for (const PrintedHalf& half : measure.halves) {
        bodies.push_back(half.name);
    }
    const std::optional<PrintJob>& print = setup.openings.front().mold->print;
    if (!print) {
        return {
            not_told(bodies, "How the mold is printed is not stated",
                     "Pieces, mass and what the fill bears need the printer and the fill.",
                     "Add to the mold document: \"print\": { \"build_volume\": [250, 210, 220], \"fill\": \"20 %\", "
                     "\"wall\": 1.2 }.")};
    }
    std::vector<Finding> findings;
    findings.push_back(crushing(measure, *print, bodies));
    if (!print->build_volume_mm) {
        findings.push_back(not_told(bodies, "In how many pieces the mold is printed is not known",
                                    "The printer's build volume is not stated.", "State \"print\": \"build_volume\"."));
    } else {
        for (const PrintedHalf& half : measure.halves) {
            findings.push_back(pieces(half, *print->build_volume_mm, measure.closed));
        }
    }
    findings.push_back(mass(measure, *print, bodies));
    return findings;
}

} // namespace evenclose
