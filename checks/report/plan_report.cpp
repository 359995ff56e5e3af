#include "checks/report/plan_report.hpp"

#include "checks/phrase.hpp"
#include "checks/report/cautions.hpp"
#include "checks/report/json_of_finding.hpp"
#include "checks/report/text_table.hpp"
#include "scene/units/duration.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

std::string count_of(int n, const char* what) { return fmt::format("{} {}{}", n, what, n == 1 ? "" : "s"); }

std::string mold_names(const PlanBasis& basis) {
    std::vector<std::string> names;
    for (const MoldAtHand& mold : basis.molds) {
        names.push_back(mold.mold->name);
    }
    return listed(names);
}

std::string one_decimal(double value) { return fmt::format("{}", std::round(value * 10) / 10); }

std::string openings_sentence(const Plan& plan) {
    if (plan.fit.most == 0) {
        return "Not even one opening goes as the press stands";
    }
    return fmt::format("{} as the press stands{}",
                       plan.fit.most == 1 ? "One opening goes" : fmt::format("{} openings go", plan.fit.most),
                       plan.fit.verdict == Verdict::marginal ? " (with something marginal: see `check`)" : "");
}

TextTable choices_table(const std::vector<OfferedChoice>& offers, UnitSystem units, bool week, bool costs) {
    TextTable table;
    table.headings = {"openings", "molds"};
    const auto add = [&](const char* heading) { table.headings.emplace_back(heading); };
    if (week) {
        add("people");
        add("decks/week");
    } else {
        add("decks/pressing");
    }
    for (const char* heading : {"raise head", "frame", "stroke", "longer", "force"}) {
        add(heading);
    }
    if (costs) {
        add("cost");
        add("wages/deck");
    }
    add("verdict");
    for (std::size_t i = 0; i + 1 < table.headings.size(); ++i) {
        table.right.push_back(i);
    }
    for (const OfferedChoice& offer : offers) {
        const Choice& choice = offer.choice;
        std::vector<std::string> row{fmt::format("{}", choice.openings), fmt::format("{}", choice.molds)};
        if (week) {
            row.push_back(fmt::format("{}", choice.people));
            row.push_back(one_decimal(choice.decks_a_week.value_or(0)));
        } else {
            row.push_back(fmt::format("{}", choice.decks));
        }
        const auto or_dash = [&](double mm) { return mm > 0 ? show_length(mm, units) : std::string("-"); };
        row.push_back(or_dash(choice.change.raise_head_mm));
        row.push_back(show_length(offer.frame_height_mm, units));
        row.push_back(show_length(offer.stroke_mm, units, 0));
        row.push_back(or_dash(choice.change.longer_stroke_mm));
        row.push_back(show_force(offer.force_N, units) + (offer.stronger > 1 ? "*" : ""));
        if (costs) {
            row.push_back(choice.cost ? fmt::format("{:.0f}", *choice.cost) : "");
            row.push_back(choice.wages_a_deck ? fmt::format("{:.2f}", *choice.wages_a_deck) : "");
        }
        row.emplace_back(name_of(offer.verdict));
        table.rows.push_back(std::move(row));
    }
    return table;
}

Json json_of(const OfferedChoice& offer, const std::filesystem::path& file) {
    const Choice& choice = offer.choice;
    Json json;
    json["name"] = offer.name;
    json["openings"] = choice.openings;
    json["molds"] = choice.molds;
    json["people"] = choice.people;
    json["decks_a_pressing"] = choice.decks;
    json["decks_a_week"] = number_or_null(choice.decks_a_week);
    json["longest_wait_s"] = number_or_null(choice.longest_wait_s);
    json["raise_head_mm"] = choice.change.raise_head_mm;
    json["head_underside_mm"] = offer.head_underside_mm;
    json["frame_height_mm"] = offer.frame_height_mm;
    json["stroke_mm"] = offer.stroke_mm;
    json["longer_stroke_mm"] = choice.change.longer_stroke_mm;
    json["force_N"] = offer.force_N;
    json["rated_loads_times"] = offer.stronger;
    json["platen_mm"] = offer.platen_mm;
    json["cost"] = number_or_null(choice.cost);
    json["wages_a_deck"] = number_or_null(choice.wages_a_deck);
    json["verdict"] = name_of(offer.verdict);
    json["set_up"] = file.empty() ? Json(nullptr) : Json(file.string());
    return json;
}

std::filesystem::path file_of(const OfferedChoice& offer, const WrittenPlan* written) {
    if (written == nullptr) {
        return {};
    }
    for (const std::filesystem::path& file : written->setups) {
        if (file.filename() == offer.name + ".set-up.json") {
            return file;
        }
    }
    return {};
}

} // namespace

std::string plan_text(const Plan& plan, const PlanRequest& request, const WrittenPlan* written,
                      const TextReportStyle& style) {
    const PlanBasis& basis = request.basis;
    std::string text = fmt::format("{} in {}\n\n", mold_names(basis), basis.like.press->name);
    text += wrapped(openings_sentence(plan) + ".", 0, style.width);
    if (plan.fit.stop) {
        const Finding& stop = *plan.fit.stop;
        text += wrapped(fmt::format("What stops {} ({}): {}. {}", plan.fit.most == 0 ? "it" : "one more", stop.check,
                                    shown(stop.title, style.units), shown(stop.why, style.units)),
                        2, style.width);
    }
    const bool week = std::any_of(plan.offered.begin(), plan.offered.end(),
                                  [](const OfferedChoice& offer) { return offer.choice.decks_a_week.has_value(); }) ||
                      (plan.least && plan.least->choice.decks_a_week);
    const bool costs = std::any_of(plan.offered.begin(), plan.offered.end(), [](const OfferedChoice& offer) {
        return offer.choice.cost || offer.choice.wages_a_deck;
    });
    const Target& target = request.target;
    if (target.decks || target.decks_a_week) {
        const std::string wanted = target.decks ? count_of(*target.decks, "deck") + " a pressing"
                                                : one_decimal(*target.decks_a_week) + " decks a week";
        if (plan.least) {
            const OfferedChoice& least = *plan.least;
            text += wrapped(
                fmt::format("{} take at least {} with {}{}: head at {} ({}), a frame {} high, {} of stroke, {} "
                            "from the jacks{}.",
                            wanted, count_of(least.choice.openings, "opening"), count_of(least.choice.molds, "mold"),
                            week ? fmt::format(" and {}", least.choice.people == 1
                                                              ? "1 person"
                                                              : fmt::format("{} people", least.choice.people))
                                 : "",
                            show_length(least.head_underside_mm, style.units),
                            least.choice.change.raise_head_mm > 0
                                ? "raised by " + show_length(least.choice.change.raise_head_mm, style.units)
                                : std::string("as it is"),
                            show_length(least.frame_height_mm, style.units),
                            show_length(least.stroke_mm, style.units, 0), show_force(least.force_N, style.units),
                            least.platen_mm > 0 ? fmt::format(", intermediate platens {} thick",
                                                              show_length(least.platen_mm, style.units))
                                                : ""),
                0, style.width);
        } else {
            text += wrapped(fmt::format("There is no way to {}.", wanted), 0, style.width);
        }
    }
    if (!plan.offered.empty()) {
        text += "\n" + choices_table(plan.offered, style.units, week, costs).text(style.width) + "\n";
        text += wrapped(
            fmt::format("None of these is better in every way than another: {}molds, {}height, stroke{}. All {} "
                        "ways were looked at, each with each. \"frame\" is its highest point, \"longer\" what "
                        "every jack lacks of stroke.",
                        week ? "decks a week, " : "decks, ", week ? "people, " : "", costs ? ", cost" : "",
                        plan.looked_at),
            0, style.width);
        if (std::any_of(plan.offered.begin(), plan.offered.end(),
                        [](const OfferedChoice& offer) { return offer.stronger > 1; })) {
            text += wrapped("* more than the jacks are rated for: the set-up has stronger ones.", 0, style.width);
        }
    }
    if (std::any_of(plan.offered.begin(), plan.offered.end(),
                    [](const OfferedChoice& offer) { return offer.platen_mm > 0; })) {
        text += wrapped(fmt::format("Intermediate platens are taken as {} thick (--platen says otherwise).",
                                    show_length(basis.platen.plate.thickness_mm, style.units)),
                        0, style.width);
    }
    for (const RefusedChoice& refused : plan.refused) {
        text += wrapped(fmt::format("Not offered: {}, since {}", count_of(refused.openings, "opening"),
                                    refused.stop ? fmt::format("{} says: {}.", refused.stop->check,
                                                               shown(refused.stop->title, style.units))
                                                 : refused.why + "."),
                        0, style.width);
    }
    if (!plan.missing.empty()) {
        text += wrapped(fmt::format("Decks a week are not told. Missing: {}. Name a set-up that has them with --like.",
                                    listed(plan.missing)),
                        0, style.width);
    }
    if (written != nullptr) {
        text += "\nWritten, to be checked or opened:\n";
        for (const std::filesystem::path& file : written->setups) {
            text += "  " + file.string() + "\n";
        }
        if (!written->one_more.empty()) {
            text += "  " + written->one_more.string() + "  (does not go, as said above)\n";
        }
    }
    return text + "\n" + wrapped(disclaimer(), 0, style.width);
}

std::string plan_json(const Plan& plan, const PlanRequest& request, const WrittenPlan* written) {
    Json json;
    json["format"] = "evenclose-plan-1";
    json["press"] = {{"name", request.basis.like.press->name}, {"file", request.basis.like.press->file}};
    json["molds"] = Json::array();
    for (const MoldAtHand& mold : request.basis.molds) {
        json["molds"].push_back({{"name", mold.mold->name}, {"file", mold.mold->file}});
    }
    json["openings"] = plan.fit.most;
    json["one_more_stopped_by"] = plan.fit.stop ? evenclose::json_of(*plan.fit.stop) : Json(nullptr);
    json["one_more_set_up"] =
        written != nullptr && !written->one_more.empty() ? Json(written->one_more.string()) : Json(nullptr);
    json["target"] = {{"decks", request.target.decks ? Json(*request.target.decks) : Json(nullptr)},
                      {"decks_a_week", number_or_null(request.target.decks_a_week)}};
    json["least"] = plan.least ? json_of(*plan.least, file_of(*plan.least, written)) : Json(nullptr);
    json["choices"] = Json::array();
    for (const OfferedChoice& offer : plan.offered) {
        json["choices"].push_back(json_of(offer, file_of(offer, written)));
    }
    json["refused"] = Json::array();
    for (const RefusedChoice& refused : plan.refused) {
        json["refused"].push_back({{"openings", refused.openings},
                                   {"why", refused.why},
                                   {"stopped_by", refused.stop ? evenclose::json_of(*refused.stop) : Json(nullptr)}});
    }
    json["looked_at"] = plan.looked_at;
    json["missing"] = plan.missing;
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string plan_csv(const Plan& plan, const WrittenPlan* written) {
    std::string text = csv_line({"openings", "molds", "people", "decks_a_pressing", "decks_a_week", "raise_head_mm",
                                 "frame_height_mm", "stroke_mm", "longer_stroke_mm", "force_N", "platen_mm", "cost",
                                 "wages_a_deck", "verdict", "set_up"});
    const auto number = [](const std::optional<double>& value) { return value ? fmt::format("{}", *value) : ""; };
    for (const OfferedChoice& offer : plan.offered) {
        const Choice& choice = offer.choice;
        text += csv_line(
            {fmt::format("{}", choice.openings), fmt::format("{}", choice.molds), fmt::format("{}", choice.people),
             fmt::format("{}", choice.decks), number(choice.decks_a_week), number(choice.change.raise_head_mm),
             number(offer.frame_height_mm), number(offer.stroke_mm), number(choice.change.longer_stroke_mm),
             number(offer.force_N), number(offer.platen_mm), number(choice.cost), number(choice.wages_a_deck),
             name_of(offer.verdict), file_of(offer, written).string()});
    }
    return text;
}

} // namespace evenclose
