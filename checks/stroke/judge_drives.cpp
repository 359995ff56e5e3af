#include "checks/phrase.hpp"
#include "checks/stroke/drives.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace evenclose {
namespace {

constexpr double kNmmPerNm = 1000;

std::string effort_said(const DriveRun& run, double effort) {
    return run.pumped ? fmt::format("{:.3g} MPa", effort) : fmt::format("{:.3g} N m", effort / kNmmPerNm);
}
std::string force_said(double newton) { return show_force(newton, UnitSystem::metric); }

Finding about(const DriveRun& run, Travel at) {
    Finding finding;
    finding.check = "stroke";
    finding.bodies = run.jacks;
    finding.travel = TravelInterval{at, at};
    return finding;
}

Finding judge_drive(const DriveRun& run) {
    const DrivePoint& closed = run.points.back();
    const auto worst =
        std::max_element(run.points.begin(), run.points.end(), [](const DrivePoint& a, const DrivePoint& b) {
            return a.at_weight.value_or(0) < b.at_weight.value_or(0);
        });
    if (!run.limit) {
        Finding finding = about(run, closed.at);
        finding.verdict = Verdict::not_checked;
        finding.title = fmt::format("Whether {} is strong enough was not checked", run.name);
        finding.why = fmt::format("Its {} is not given. At closed the rated load of {} a jack takes {}{}.",
                                  run.pumped ? "pressure_limit" : "torque_limit", force_said(run.rated_load_N),
                                  effort_said(run, closed.at_rated), run.pumped ? "" : " at the motor");
        finding.remedy = fmt::format("Add the {} to the drive.", run.pumped ? "pressure_limit" : "torque_limit");
        return finding;
    }
    const std::string unknown =
        worst->at_weight
            ? ""
            : " Whether it lifts the dead weight was not looked at: the platen's \"mass\" is not given, and its "
              "material is not one of the table.";
    if (worst->at_weight && *worst->at_weight > *run.limit) {
        Finding finding = about(run, worst->at);
        finding.verdict = Verdict::no_go;
        finding.unit = run.pumped ? "MPa" : "N mm";
        finding.value = *worst->at_weight;
        finding.limit = *run.limit;
        finding.margin = *run.limit - *worst->at_weight;
        finding.title = fmt::format("{} stalls on the dead weight: it takes {}, and {} is its limit", run.name,
                                    effort_said(run, *worst->at_weight), effort_said(run, *run.limit));
        finding.why = fmt::format("Hardest after {} of travel, where 1 turn lifts by {}.", length_mark(worst->at.mm),
                                  length_mark(worst->rate));
        if (run.pumped) {
            finding.why = "The pressure is the load over the area that pushes.";
        }
        finding.remedy = run.pumped ? "Take a larger bore, or a pump of more pressure."
                                    : fmt::format("Gear it down by {:.2f} times as much, or park the jacks higher.",
                                                  *worst->at_weight / *run.limit);
        return finding;
    }
    Finding finding = about(run, closed.at);
    finding.unit = "N";
    finding.value = *closed.can_lift_N;
    finding.limit = run.rated_load_N;
    finding.margin = *closed.can_lift_N - run.rated_load_N;
    finding.why =
        fmt::format("The rated load takes {} of it at closed; its limit is {}.{}{}", effort_said(run, closed.at_rated),
                    effort_said(run, *run.limit), run.hose ? " A hose's force is true to about 10 %." : "", unknown);
    if (*finding.margin >= 0) {
        finding.verdict = Verdict::go;
        finding.title =
            fmt::format("{} can close with the rated {} on each jack", run.name, force_said(run.rated_load_N));
        if (!unknown.empty()) { // a go hides its why
            finding.verdict = Verdict::not_checked;
            finding.title += "; whether it lifts the dead weight was not checked";
            finding.remedy = "Give the platen's \"mass\".";
        }
        return finding;
    }
    finding.verdict = Verdict::marginal;
    finding.title = fmt::format("{} reaches its limit at {} a jack when closed, rated {}", run.name,
                                force_said(*closed.can_lift_N), force_said(run.rated_load_N));
    finding.remedy = run.pumped ? "Take a larger bore, or a pump of more pressure, if the glue wants more force."
                                : fmt::format("Gear it down by {:.2f} times as much, if the glue wants more force.",
                                              closed.at_rated / *run.limit);
    return finding;
}

/// Of the jack that asks most: a crank's arm or a motor is chosen by it.
Finding judge_effort(const std::vector<JackRun>& jacks) {
    const auto most = [](const JackRun& run) {
        return *std::max_element(run.points.begin(), run.points.end(),
                                 [](const JackPoint& a, const JackPoint& b) { return a.effort < b.effort; });
    };
    // Torques are told before pressures: they are no one quantity.
    const JackRun& run = *std::max_element(jacks.begin(), jacks.end(), [&](const JackRun& a, const JackRun& b) {
        return a.pumped != b.pumped ? a.pumped : most(a).effort < most(b).effort;
    });
    const JackPoint worst = most(run);
    const auto said = [&](double effort) {
        return run.pumped ? fmt::format("{:.3g} MPa", effort)
                          : fmt::format("{:.3g} N m at its screw", effort / kNmmPerNm);
    };
    Finding finding;
    finding.check = "stroke";
    finding.verdict = Verdict::go;
    finding.bodies = {run.jack};
    finding.unit = run.pumped ? "MPa" : "N mm";
    finding.value = worst.effort;
    finding.travel = TravelInterval{worst.at, worst.at};
    finding.title = fmt::format("{} takes {} for its rated {}", run.jack, said(run.points.back().effort),
                                force_said(run.rated_load_N));
    if (worst.effort > 1.001 * run.points.back().effort) {
        finding.title += fmt::format(" when closed, and up to {} if it bore that after {}", said(worst.effort),
                                     length_mark(worst.at.mm));
    }
    return finding;
}

Finding judge_holding(const std::vector<JackHolding>& holding) {
    const auto worst = std::max_element(holding.begin(), holding.end(), [](const JackHolding& a, const JackHolding& b) {
        return std::pair(a.holding, a.valve) < std::pair(b.holding, b.valve);
    });
    Finding finding;
    finding.check = "stroke";
    for (const JackHolding& jack : holding) {
        if (jack.holding == worst->holding && jack.valve == worst->valve) {
            finding.bodies.push_back(jack.jack);
        }
    }
    const std::string names = fmt::format("{}", fmt::join(finding.bodies, ", "));
    if (worst->holding == Holding::thread_holds) {
        finding.verdict = Verdict::go;
        finding.title = "The threads hold the load by themselves when the drive lets go";
        return finding;
    }
    finding.verdict = Verdict::marginal;
    if (worst->valve) {
        finding.title = fmt::format("Only a valve holds up {} when the pump lets go", names);
        finding.why = "Oil and air go where a valve or a hose leaks.";
        finding.remedy = "Put a block under the platen before anybody reaches in.";
    } else if (worst->holding == Holding::collar_holds) {
        finding.title = fmt::format("Only the friction of the collar holds up {}: the thread alone runs down", names);
        finding.why = "The lead angle is steeper than the friction angle of the thread; grease on the collar lets go.";
        finding.remedy =
            "Take a finer thread, or a brake on the screw, and a block under the platen before anybody reaches in.";
    } else {
        finding.title = fmt::format("Nothing holds up {} when the drive lets go: the screw runs down", names);
        finding.why = "The lead angle is steeper than the friction angle of the thread.";
        finding.remedy =
            "Take a finer thread or a brake on the screw, and a block under the platen before anybody reaches in.";
    }
    return finding;
}

} // namespace

std::vector<Finding> judge(const DrivesMeasure& measure, const Setup&, const Assembly& assembly) {
    std::vector<Finding> findings;
    for (const DriveRun& run : measure.drives) {
        findings.push_back(judge_drive(run));
    }
    if (measure.without_drives && !measure.jacks.empty()) {
        findings.push_back(judge_effort(measure.jacks));
    }
    if (!measure.silent.empty()) {
        Finding finding;
        finding.check = "stroke";
        finding.verdict = Verdict::not_checked;
        finding.bodies = measure.silent;
        finding.title = "What turns the jacks, and whether they hold the load by themselves, was not checked";
        finding.why = fmt::format("The thread friction of {} is not given.", fmt::join(measure.silent, ", "));
        finding.remedy = "Add \"thread\": { \"friction\": ... } to the jacks: about 0.08 well greased, 0.20 dry.";
        findings.push_back(std::move(finding));
    }
    if (!measure.holding.empty()) {
        findings.push_back(judge_holding(measure.holding));
    }
    if (measure.seconds_to_close) {
        Finding finding;
        finding.check = "stroke";
        finding.verdict = Verdict::go;
        finding.unit = "s";
        finding.value = *measure.seconds_to_close;
        finding.travel = TravelInterval{{0}, assembly.last};
        finding.title = fmt::format("Takes {:.0f} s to {}", *measure.seconds_to_close,
                                    assembly.last < assembly.closed ? "run to where it ends" : "close");
        findings.push_back(std::move(finding));
    }
    return findings;
}

} // namespace evenclose
