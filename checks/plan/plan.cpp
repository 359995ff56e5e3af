#include "checks/plan/plan.hpp"

#include "checks/fit/fit.hpp"
#include "checks/plan/taller_press.hpp"
#include "checks/plan/time_check.hpp"
#include "checks/stack/stack.hpp"

#include <fmt/format.h>
#include <tbb/global_control.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace evenclose {
namespace {

// How far beyond what fits the ways are looked for, if nobody says how many decks it shall be.
constexpr int kFurther = 3;

int decks_of(const MoldAtHand& mold) { return mold.mold->stack.decks; }

ChoiceRequest choices_asked(const PlanRequest& request, int fitting, std::vector<std::string>& missing) {
    const PlanBasis& basis = request.basis;
    ChoiceRequest ask;
    Setup all = basis.like; // every mold at hand once, for its times
    all.openings.clear();
    for (const MoldAtHand& mold : basis.molds) {
        Opening opening;
        opening.mold = mold.mold;
        opening.decks = decks_of(mold);
        all.openings.push_back(std::move(opening));
    }
    ask.week = shop_plan(all, missing);
    for (std::size_t i = 0; i < basis.molds.size(); ++i) {
        const MoldWork work = ask.week ? ask.week->openings[i] : MoldWork{0, 0, 0, decks_of(basis.molds[i])};
        ask.molds.push_back({stacked_mold(*basis.molds[i].mold), work});
    }
    ask.press = room_of(*basis.like.press);
    const Limits& limits = basis.like.limits;
    ask.limits = {basis.platen.plate.thickness_mm, limits.loading_clearance_mm, limits.stroke_reserve_mm,
                  lost_to_tilt_mm(basis)};
    ask.openings_now = static_cast<int>(basis.like.intermediate_platens.size()) + 1;
    ask.molds_now = basis.like.shop.molds.value_or(static_cast<int>(basis.molds.size()));
    ask.costs = basis.like.costs;
    ask.more_helpers = request.more_helpers;
    const int most = static_cast<int>(kMostOpenings);
    ask.most_openings = std::clamp(fitting + kFurther, 1, most);
    if (request.target.decks_a_week) {
        ask.most_openings = most;
    } else if (request.target.decks) {
        int decks = 0;
        int openings = 0;
        while (decks < *request.target.decks && openings < most) {
            decks += decks_of(basis.molds[static_cast<std::size_t>(openings) % basis.molds.size()]);
            ++openings;
        }
        ask.most_openings = std::max(ask.most_openings, openings);
    }
    return ask;
}

/// In whole millimetres, as a shop builds.
PressChange buildable(const PressChange& change) {
    const double longer = std::ceil(change.longer_stroke_mm - 1e-9);
    return {std::ceil(change.raise_head_mm + (longer - change.longer_stroke_mm) - 1e-9), longer};
}

double highest_mm(const Press& press) {
    double highest = press.head_underside_z_mm + press.head.thickness_mm;
    for (const Member& member : press.members) {
        highest = std::max({highest, member.a_mm.z, member.b_mm.z});
    }
    return highest;
}

double rated_N(const Press& press) {
    double sum = 0;
    for (const Jack& jack : press.jacks) {
        sum += jack.rated_load_N;
    }
    return sum;
}

/// The press changed as far as a number of openings needs, and what the checks say to it.
struct Built {
    std::string why_not;
    std::optional<Finding> stop;
    Setup setup;
    double stronger = 1, force_N = 0;
    Verdict verdict = Verdict::go;
};

Built build(const PlanBasis& basis, int openings, const PressChange& change, Progress& progress) {
    Built built;
    built.why_not = no_such_press(*basis.like.press, change);
    if (!built.why_not.empty()) {
        return built;
    }
    const bool as_it_stands = change.raise_head_mm == 0 && change.longer_stroke_mm == 0;
    PlanBasis changed = basis;
    const auto make = [&] {
        if (!as_it_stands || built.stronger > 1) {
            Press press = taller(*basis.like.press, change, built.stronger);
            press.rests_z_mm.clear(); // those of the frame as it was; the set-up says where they are now
            changed.like.press = std::make_shared<const Press>(std::move(press));
        }
        built.setup = stacked(changed, openings);
    };
    make();
    built.force_N = measure_stack(built.setup, assemble(built.setup)).jacks_N;
    if (const double share = built.force_N / rated_N(*basis.like.press); share > 1) {
        built.stronger = std::ceil(100 * share - 1e-9) / 100;
        make();
    }
    const std::vector<Finding> findings = asked_of(built.setup, progress);
    built.verdict = worst_of(findings);
    if (built.verdict == Verdict::no_go) {
        built.stop = first_stop(findings);
    }
    return built;
}

OfferedChoice offered(const Choice& choice, const Built& built, const PlanBasis& basis) {
    OfferedChoice offer;
    offer.choice = choice;
    offer.choice.change = buildable(choice.change);
    offer.name = fmt::format("{}-opening{}-{}-mold{}", choice.openings, choice.openings == 1 ? "" : "s", choice.molds,
                             choice.molds == 1 ? "" : "s");
    if (choice.decks_a_week) {
        offer.name += fmt::format("-{}-{}", choice.people, choice.people == 1 ? "person" : "people");
    }
    offer.setup = built.setup;
    offer.setup.shop.molds = choice.molds;
    if (offer.setup.crew) {
        offer.setup.crew->helpers = choice.people - 1;
    }
    offer.head_underside_mm = built.setup.press->head_underside_z_mm;
    offer.frame_height_mm = highest_mm(*built.setup.press);
    offer.stroke_mm = choice.stroke_mm;
    offer.force_N = built.force_N;
    offer.stronger = built.stronger;
    offer.platen_mm = choice.openings > 1 ? basis.platen.plate.thickness_mm : 0;
    offer.verdict = built.verdict;
    offer.press_changed =
        offer.choice.change.raise_head_mm > 0 || offer.choice.change.longer_stroke_mm > 0 || built.stronger > 1;
    return offer;
}

} // namespace

Plan make_plan(const PlanRequest& request, Progress& progress) {
    std::optional<tbb::global_control> at_most;
    if (request.jobs > 0) {
        at_most.emplace(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(request.jobs));
    }
    const PlanBasis& basis = request.basis;
    Plan plan;
    {
        Progress part(progress, 0, 0.4);
        plan.fit = openings_that_fit(basis, part);
    }
    progress.tell(0.4);
    if (plan.fit.stop) {
        plan.one_more = stacked(basis, plan.fit.most + 1);
    }
    const ChoiceRequest ask = choices_asked(request, plan.fit.most, plan.missing);
    const Choices choices = best_choices(ask);
    plan.looked_at = choices.looked_at;

    std::map<int, Built> built; // by openings
    const auto built_for = [&](const Choice& choice) -> const Built& {
        const auto found = built.find(choice.openings);
        if (found != built.end()) {
            return found->second;
        }
        Progress part(progress, 0, 0);
        const Built& made =
            built.emplace(choice.openings, build(basis, choice.openings, buildable(choice.change), part)).first->second;
        if (!made.why_not.empty() || made.stop) {
            plan.refused.push_back({choice.openings, made.why_not, made.stop});
        }
        progress.tell(0.4 + 0.6 * static_cast<double>(built.size()) / (ask.most_openings + 1.0));
        return made;
    };
    const auto accepted = [&](const Choice& choice) {
        const Built& made = built_for(choice);
        return made.why_not.empty() && !made.stop;
    };
    for (const Choice& choice : choices.best) {
        if (!progress.cancelled() && meets(choice, request.target) && accepted(choice)) {
            plan.offered.push_back(offered(choice, built_for(choice), basis));
        }
    }
    if (request.target.decks || request.target.decks_a_week) {
        std::size_t looked_at = 0;
        std::vector<Choice> all = all_choices(ask, looked_at);
        for (std::optional<Choice> least = least_press(all, request.target); least && !plan.least;
             least = least_press(all, request.target)) {
            if (accepted(*least)) {
                plan.least = offered(*least, built_for(*least), basis);
            }
            std::erase_if(all, [&](const Choice& choice) { return choice.openings == least->openings; });
        }
    }
    std::sort(plan.refused.begin(), plan.refused.end(),
              [](const RefusedChoice& a, const RefusedChoice& b) { return a.openings < b.openings; });
    progress.tell(1);
    return plan;
}

} // namespace evenclose
