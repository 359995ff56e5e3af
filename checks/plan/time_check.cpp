#include "checks/plan/time_check.hpp"

#include "checks/phrase.hpp"
#include "scene/units/duration.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

constexpr double kEasy = 0.8;

Seconds whole(double s) { return static_cast<Seconds>(std::llround(s)); }

std::string show_both(double celsius) {
    return fmt::format("{} ({})", show_temperature(celsius, UnitSystem::metric),
                       show_temperature(celsius, UnitSystem::inch));
}

/// What all glues of a pressing ask together.
struct GlueTimes {
    std::optional<double> closed_s, press_s, cure_s;
    std::string no_press;
};

GlueTimes glue_times(const Setup& setup) {
    GlueTimes all;
    for (const Opening& opening : setup.openings) {
        const std::optional<Glue>& glue = opening.mold->stack.glue;
        if (!glue) {
            continue;
        }
        if (glue->closed_time_s) {
            all.closed_s = std::min(all.closed_s.value_or(*glue->closed_time_s), *glue->closed_time_s);
        }
        if (glue->post_cure_s) {
            all.cure_s = std::max(all.cure_s.value_or(0), *glue->post_cure_s);
        }
        if (!setup.temperature_C || glue->press_times.empty()) {
            continue;
        }
        if (const std::optional<double> pressed = press_time_s(*glue, *setup.temperature_C)) {
            all.press_s = std::max(all.press_s.value_or(0), *pressed);
        } else if (all.no_press.empty()) {
            const bool colder = *setup.temperature_C < glue->press_times.front().temperature_C;
            const double end =
                colder ? glue->press_times.front().temperature_C : glue->press_times.back().temperature_C;
            all.no_press = fmt::format("At {} the sheet of {} tells no press time: its table {} at {}",
                                       show_both(*setup.temperature_C),
                                       glue->name.empty() ? opening.mold->name + "'s glue" : glue->name,
                                       colder ? "begins" : "ends", show_both(end));
        }
    }
    if (!all.no_press.empty()) {
        all.press_s.reset();
    }
    return all;
}

/// The shop with one pressing after the other in one press, no molds to spare: how long the first mold waits does not
/// depend on the press time.
Seconds wait_of(ShopPlan shop, std::size_t openings, int people) {
    shop.openings.resize(openings, shop.openings.back());
    shop.molds = static_cast<int>(openings);
    shop.presses = 1;
    shop.racks.reset();
    shop.people = people;
    shop.press = std::max<Seconds>(shop.press, 60);
    shop.day_begins = 0;
    shop.day_ends = kDay_s;
    const Schedule schedule = simulate(shop);
    return schedule.not_possible.empty() ? schedule.longest_wait : kDay_s;
}

Finding told(Verdict verdict, std::string title) {
    Finding finding;
    finding.check = "time";
    finding.verdict = verdict;
    finding.title = std::move(title);
    return finding;
}

Finding against(double value_s, double limit_s, std::string title) {
    Finding finding = told(value_s > limit_s           ? Verdict::no_go
                           : value_s > kEasy * limit_s ? Verdict::marginal
                                                       : Verdict::go,
                           std::move(title));
    finding.value = value_s;
    finding.limit = limit_s;
    finding.margin = limit_s - value_s;
    finding.unit = "s";
    return finding;
}

Finding judge_open(const TimeMeasure& measure) {
    const LayUp& lay_up = *measure.lay_up;
    const double limit_s = *measure.open_time_s;
    Finding finding =
        against(lay_up.seconds(), limit_s,
                fmt::format("Spreading and stacking {} takes {}; its glue may stay open for {}", measure.slowest_mold,
                            show_duration(lay_up.seconds()), show_duration(limit_s)));
    finding.why =
        fmt::format("{} glue lines take {}, the stack {}; the face that was spread first stays open until the "
                    "stack is closed.",
                    lay_up.glue_lines, show_duration(lay_up.spread_s), show_duration(lay_up.stack_s));
    if (finding.verdict != Verdict::go) {
        const double to_spread = (kEasy * limit_s - lay_up.stack_s) / std::max(1, lay_up.glue_lines);
        finding.remedy =
            to_spread > 0
                ? fmt::format("Spread a glue line in {} or less, with a roller or a second pair of "
                              "hands; or take a glue that stays open for {}.",
                              show_duration(std::floor(to_spread)), show_duration(std::ceil(lay_up.seconds() / kEasy)))
                : fmt::format("Take a glue that stays open for {}.",
                              show_duration(std::ceil(lay_up.seconds() / kEasy)));
    }
    return finding;
}

Finding judge_wait(const TimeMeasure& measure) {
    const double wait_s = *measure.wait_s;
    const double limit_s = *measure.closed_time_s;
    const std::size_t openings = measure.plan ? measure.plan->openings.size() : 1;
    Finding finding = against(wait_s, limit_s,
                              fmt::format("The first mold laid up waits {} for the pressure; its glue allows {}",
                                          show_duration(wait_s), show_duration(limit_s)));
    finding.why =
        fmt::format("All {} must be laid up, loaded and closed before the first face that was joined has had its "
                    "closed assembly time.",
                    openings == 1 ? "of one opening" : fmt::format("{} openings", openings));
    if (finding.verdict != Verdict::go) {
        std::vector<std::string> ways;
        if (measure.wait_with_helper_s && *measure.wait_with_helper_s < wait_s) {
            ways.push_back(fmt::format("one more helper makes it {}", show_duration(*measure.wait_with_helper_s)));
        }
        if (measure.openings_that_do > 0 && static_cast<std::size_t>(measure.openings_that_do) < openings) {
            ways.push_back(fmt::format("fill {} opening{} only", measure.openings_that_do,
                                       measure.openings_that_do == 1 ? "" : "s"));
        }
        ways.push_back(fmt::format("take a glue that allows {}", show_duration(std::ceil(wait_s / kEasy))));
        finding.remedy = listed(ways) + ".";
        finding.remedy[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(finding.remedy[0])));
        if (const std::size_t last = finding.remedy.rfind(" and "); ways.size() > 1 && last != std::string::npos) {
            finding.remedy.replace(last, 5, " or ");
        }
    }
    return finding;
}

Finding judge_week(const TimeMeasure& measure) {
    const Schedule& schedule = measure.schedule;
    if (!schedule.not_possible.empty()) {
        Finding finding = told(Verdict::no_go, "No week can be planned: " + schedule.not_possible);
        finding.remedy = "Fill fewer openings, take more helpers, or longer days.";
        return finding;
    }
    Finding finding = told(Verdict::go, "");
    finding.value = schedule.decks_a_week;
    const Gain* most = bottleneck(measure.gains);
    finding.title = fmt::format("{:.4g} decks a week", schedule.decks_a_week);
    finding.title += most != nullptr ? fmt::format("; one more {} would bring {:.3g}", most->what, most->gain)
                                     : "; one more of anything would bring nothing";
    finding.why =
        fmt::format("{:.4g} pressings a week; the crew is busy {:.0f} % of its hours, {} {:.0f} % of them. One more: ",
                    schedule.pressings_a_week, 100 * schedule.crew_used,
                    measure.plan->presses == 1 ? "the press holds decks for" : "the presses hold decks for",
                    100 * schedule.press_used);
    std::vector<std::string> each;
    for (const Gain& gain : measure.gains) {
        each.push_back(fmt::format("{} {:+.3g}", gain.what, gain.gain == 0 ? 0.0 : gain.gain));
    }
    finding.why += fmt::format("{}.", fmt::join(each, ", "));
    if (!schedule.repeats) {
        finding.why += " The weeks do not repeat; this is their average.";
    }
    return finding;
}

} // namespace

std::optional<ShopPlan> shop_plan(const Setup& setup, std::vector<std::string>& missing) {
    const auto lacks = [&](bool there, const char* what) {
        if (!there) {
            missing.emplace_back(what);
        }
    };
    lacks(setup.crew.has_value(), "\"crew\" in the set-up");
    lacks(setup.temperature_C.has_value(), "\"temperature\" in the set-up");
    const bool tabled = std::all_of(setup.openings.begin(), setup.openings.end(), [](const Opening& opening) {
        return opening.mold->stack.glue && !opening.mold->stack.glue->press_times.empty();
    });
    lacks(tabled, "\"press_times\" of the glue in the mold's stack");
    const GlueTimes glue = glue_times(setup);
    if (!missing.empty() || !glue.press_s || setup.openings.empty()) {
        return std::nullopt;
    }
    ShopPlan shop;
    for (const Opening& opening : setup.openings) {
        const LayUp lay_up = lay_up_of(opening.mold->stack, *setup.crew);
        shop.openings.push_back(
            {whole(lay_up.seconds()), whole(setup.crew->load_s), whole(setup.crew->unload_s), opening.decks});
    }
    shop.close = whole(setup.crew->close_s);
    shop.press = whole(std::ceil(*glue.press_s));
    shop.cure = whole(glue.cure_s.value_or(0));
    if (glue.closed_s) {
        shop.closed_limit = whole(std::floor(*glue.closed_s));
    }
    shop.people = 1 + setup.crew->helpers;
    shop.presses = setup.shop.presses;
    shop.molds = setup.shop.molds.value_or(static_cast<int>(setup.openings.size()) * setup.shop.presses);
    shop.racks = setup.shop.racks;
    // From eight in the morning, as far as that leaves room (common practice, no source).
    const Seconds hours = whole(3600 * setup.shop.hours_a_day);
    shop.day_begins = std::min<Seconds>(shop.day_begins, kDay_s - hours);
    shop.day_ends = shop.day_begins + hours;
    shop.days_a_week = setup.shop.days_a_week;
    return shop;
}

TimeMeasure measure_time(const Setup& setup) {
    TimeMeasure measure;
    measure.temperature_C = setup.temperature_C;
    const GlueTimes glue = glue_times(setup);
    measure.press_s = glue.press_s;
    measure.no_press = glue.no_press;
    measure.closed_time_s = glue.closed_s;
    if (setup.crew) {
        double least = INFINITY;
        for (const Opening& opening : setup.openings) {
            const std::optional<Glue>& of_mold = opening.mold->stack.glue;
            const LayUp lay_up = lay_up_of(opening.mold->stack, *setup.crew);
            if (of_mold && of_mold->open_time_s && *of_mold->open_time_s - lay_up.seconds() < least) {
                least = *of_mold->open_time_s - lay_up.seconds();
                measure.lay_up = lay_up;
                measure.open_time_s = of_mold->open_time_s;
                measure.slowest_mold = opening.mold->name;
            }
        }
        const auto lacks = [&](std::optional<double> Glue::*time, const char* what) {
            if (std::any_of(setup.openings.begin(), setup.openings.end(), [&](const Opening& opening) {
                    const std::optional<Glue>& of_mold = opening.mold->stack.glue;
                    return !of_mold || !((*of_mold).*time);
                })) {
                measure.missing.push_back(fmt::format("\"{}\" of the glue in the mold's stack", what));
            }
        };
        lacks(&Glue::open_time_s, "open_time");
        lacks(&Glue::closed_time_s, "closed_time");
    }
    measure.plan = shop_plan(setup, measure.missing);
    if (!measure.plan) {
        return measure;
    }
    const std::size_t openings = measure.plan->openings.size();
    measure.wait_s = static_cast<double>(wait_of(*measure.plan, openings, measure.plan->people));
    if (measure.closed_time_s && *measure.wait_s > kEasy * *measure.closed_time_s) {
        measure.wait_with_helper_s = static_cast<double>(wait_of(*measure.plan, openings, measure.plan->people + 1));
        for (std::size_t fewer = openings; fewer > 0 && measure.openings_that_do == 0; --fewer) {
            if (static_cast<double>(wait_of(*measure.plan, fewer, measure.plan->people)) <=
                kEasy * *measure.closed_time_s) {
                measure.openings_that_do = static_cast<int>(fewer);
            }
        }
    }
    measure.schedule = simulate(*measure.plan);
    if (measure.schedule.not_possible.empty()) {
        measure.gains = gains(*measure.plan, measure.schedule);
    }
    return measure;
}

std::vector<Finding> judge(const TimeMeasure& measure) {
    std::vector<Finding> findings;
    if (measure.lay_up) {
        findings.push_back(judge_open(measure));
    }
    if (measure.wait_s && measure.closed_time_s) {
        findings.push_back(judge_wait(measure));
    }
    if (!measure.no_press.empty()) {
        Finding finding = told(Verdict::not_checked, measure.no_press);
        finding.why = "Nothing is guessed beyond the sheet: below its table the glue may not cure at all.";
        finding.remedy = "Warm the shop, wood, molds and glue, or ask the glue's maker.";
        findings.push_back(std::move(finding));
    } else if (measure.press_s) {
        Finding finding = told(Verdict::go, fmt::format("{} under pressure at {}", show_duration(*measure.press_s),
                                                        show_both(*measure.temperature_C)));
        finding.value = measure.press_s;
        finding.unit = "s";
        findings.push_back(std::move(finding));
    }
    if (measure.plan) {
        findings.push_back(judge_week(measure));
    }
    if (!measure.missing.empty()) {
        Finding finding =
            told(Verdict::not_checked, findings.empty() ? "Nothing is known of time: how fast the crew is, how "
                                                          "long the glue waits"
                                                        : "Not all is known of time");
        finding.why = fmt::format("Missing: {}.", listed(measure.missing));
        finding.remedy = "Copy the times of the glue's data sheet, and time the crew once.";
        findings.push_back(std::move(finding));
    }
    return findings;
}

} // namespace evenclose
