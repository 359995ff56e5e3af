#include "checks/load_in/load_in.hpp"
#include "checks/phrase.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

Finding about(const LoadInMeasure& measure) {
    Finding finding;
    finding.check = "load-in";
    finding.unit = "mm";
    finding.travel = TravelInterval{{0}, {0}}; // the press is open
    finding.why = fmt::format("Slid in from the {} over {}, straight and level; certified over the whole way.",
                              name_of(measure.path.from), length_mark(measure.path.distance_mm));
    return finding;
}

std::string other_sides(const LoadInMeasure& measure) {
    std::string text;
    for (const PressSide side : measure.goes_from) {
        text += fmt::format("{}{}", text.empty() ? " From the " : " or the ", name_of(side));
    }
    return text.empty() ? "" : text + " it would go in (tried).";
}

/// Left and right as the world has them, whoever pushes.
std::string towards(const Vec3& shift) {
    if (std::abs(shift.x) >= std::abs(shift.y)) {
        return shift.x > 0 ? "right (+X)" : "left (-X)";
    }
    return shift.y > 0 ? "back (+Y)" : "front (-Y)";
}

Finding judge(const Obstruction& obstruction, const LoadInMeasure& measure, const Setup& setup,
              const Assembly& assembly) {
    const std::string& step = measure.path.steps[obstruction.step].name;
    const std::string& by = assembly.bodies[obstruction.by].name;
    Finding finding = about(measure);
    finding.verdict = Verdict::no_go;
    finding.value = -obstruction.missing_mm;
    finding.limit = 0.0;
    finding.margin = -obstruction.missing_mm;
    finding.at_mm = obstruction.at_mm;
    finding.bodies = {by};
    for (const LoadPiece& piece : measure.path.steps[obstruction.step].pieces) {
        finding.bodies.push_back(piece.name);
    }
    const double running = setup.limits.running_clearance_mm;
    if (obstruction.too_tall) {
        finding.title = fmt::format("{} is {} too tall to pass {}", step, length_mark(obstruction.missing_mm), by);
        finding.remedy =
            fmt::format("Take {} off the mold's height, or park the platen that much lower, and {} more to pass "
                        "it clear.",
                        length_mark(obstruction.missing_mm), length_mark(running));
    } else if (obstruction.and_by) {
        const std::string& and_by = assembly.bodies[*obstruction.and_by].name;
        finding.bodies.insert(finding.bodies.begin() + 1, and_by);
        finding.title = fmt::format("{} is {} too wide to pass between {} and {}", step,
                                    length_mark(obstruction.missing_mm), by, and_by);
        finding.remedy =
            fmt::format("Make the mold {} narrower there, or set {} that much farther apart from {}, and {} more "
                        "on each side to pass clear.",
                        length_mark(obstruction.missing_mm), by, and_by, length_mark(running));
    } else if (obstruction.shift_mm != Vec3{0.0}) {
        finding.title =
            fmt::format("{} runs into {} on its way in, {} of it", step, by, length_mark(obstruction.missing_mm));
        finding.remedy =
            fmt::format("Let it stand {} farther to the {}: tried, and it passes everything; add {} to pass "
                        "clear.",
                        length_mark(obstruction.missing_mm), towards(obstruction.shift_mm), length_mark(running));
    } else {
        finding.title = fmt::format("{} cannot pass {}: it is in the way by more than {}", step, by,
                                    length_mark(obstruction.missing_mm));
        finding.remedy = "Take it away while loading.";
    }
    finding.remedy += other_sides(measure);
    return finding;
}

Finding judge_step(std::size_t step, const LoadInMeasure& measure, const Setup& setup, const Assembly& assembly) {
    const double running = setup.limits.running_clearance_mm;
    const LoadPassage* nearest = nullptr;
    for (const LoadPassage& passage : measure.passages) {
        if (passage.step == step && passage.sweep.contact == Contact::clear &&
            (nearest == nullptr || passage.sweep.least_lower_mm < nearest->sweep.least_lower_mm)) {
            nearest = &passage;
        }
    }
    const std::string& name = measure.path.steps[step].name;
    Finding finding = about(measure);
    finding.limit = running;
    for (const LoadPiece& piece : measure.path.steps[step].pieces) {
        finding.bodies.push_back(piece.name);
    }
    if (nearest == nullptr) {
        finding.verdict = Verdict::go;
        finding.title = fmt::format("{} slides in from the {} with nothing near it", name, name_of(measure.path.from));
        return finding;
    }
    const std::string& past = assembly.bodies[nearest->past].name;
    finding.value = nearest->sweep.least_lower_mm;
    finding.margin = nearest->sweep.least_lower_mm - running;
    finding.bounds = {nearest->sweep.least_lower_mm, nearest->sweep.least_upper_mm};
    finding.at_mm = nearest->sweep.on_second_mm;
    finding.bodies.insert(finding.bodies.begin(), past);
    if (*finding.margin >= 0) {
        finding.verdict = Verdict::go;
        finding.title = fmt::format("{} slides in from the {}: nearest to {}, with {}", name,
                                    name_of(measure.path.from), past, length_mark(*finding.value));
    } else {
        finding.verdict = Verdict::marginal;
        finding.title = fmt::format("{} passes {} with only {} on its way in, {} asked for", name, past,
                                    length_mark(*finding.value), length_mark(running));
        finding.remedy = fmt::format("Give it {} more there, or guide it by hand.", length_mark(-*finding.margin));
    }
    return finding;
}

Finding unchecked(const LoadPassage& passage, const LoadInMeasure& measure, const Assembly& assembly) {
    Finding finding = about(measure);
    const std::string& piece = measure.path.steps[passage.step].pieces[passage.piece].name;
    finding.verdict = Verdict::not_checked;
    finding.bodies = {piece, assembly.bodies[passage.past].name};
    finding.title =
        fmt::format("Whether {} passes {} on its way in was not checked", piece, assembly.bodies[passage.past].name);
    finding.why = passage.sweep.contact == Contact::cancelled ? "The check was stopped before it was done."
                                                              : passage.sweep.why_not;
    finding.remedy = passage.sweep.contact == Contact::cancelled ? "Run the check again." : "Mend the mesh it names.";
    return finding;
}

} // namespace

std::vector<Finding> check_load_in(const Setup& setup, const Assembly& assembly, Progress& progress) {
    if (!setup.press->load_from) {
        Finding finding;
        finding.check = "load-in";
        finding.verdict = Verdict::not_checked;
        finding.title = "Whether the mold can be slid in was not checked";
        finding.why = "The press document does not say from which side a mold comes in.";
        finding.remedy = "Add \"load_from\": \"front\", \"back\", \"left\" or \"right\".";
        return {finding};
    }
    const LoadInMeasure measure = measure_load_in(setup, assembly, progress);
    std::vector<Finding> findings;
    std::vector<bool> barred(measure.path.steps.size(), false);
    for (const Obstruction& obstruction : measure.obstructions) {
        barred[obstruction.step] = true;
        findings.push_back(judge(obstruction, measure, setup, assembly));
    }
    for (const LoadPassage& passage : measure.passages) {
        if (passage.sweep.contact == Contact::not_checked || passage.sweep.contact == Contact::cancelled) {
            barred[passage.step] = true;
            findings.push_back(unchecked(passage, measure, assembly));
        }
    }
    for (std::size_t step = 0; step < barred.size(); ++step) {
        if (!barred[step]) {
            findings.push_back(judge_step(step, measure, setup, assembly));
        }
    }
    return findings;
}

} // namespace evenclose
