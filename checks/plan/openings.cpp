#include "checks/plan/openings.hpp"

#include "checks/check_list.hpp"
#include "checks/daylight/daylight.hpp"
#include "checks/fit/fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cstddef>
#include <string_view>

namespace evenclose {
namespace {

constexpr std::string_view kNeverStops = "hands";

const MoldAtHand& of_opening(const PlanBasis& basis, std::size_t opening) {
    return basis.molds[opening % basis.molds.size()];
}

std::vector<StackedMold> heights(const PlanBasis& basis, int openings) {
    std::vector<StackedMold> list;
    for (std::size_t i = 0; i < static_cast<std::size_t>(openings); ++i) {
        list.push_back(stacked_mold(*of_opening(basis, i).mold));
    }
    return list;
}

} // namespace

StackedMold stacked_mold(const Mold& mold) {
    return {bounds_of(*mold.lower.mesh).size_mm().z + mold.stack.loose_thickness_mm() +
                bounds_of(*mold.upper.mesh).size_mm().z,
            mold.closed_shut_height_mm()};
}

PressRoom room_of(const Press& press) {
    Setup empty;
    empty.press = std::shared_ptr<const Press>(&press, [](const Press*) {});
    const Assembly assembly = assemble(empty);
    return {assembly.daylight_mm, assembly.end_of_stroke.mm};
}

double lost_to_tilt_mm(const PlanBasis& basis) {
    double most = 0;
    for (const MoldAtHand& mold : basis.molds) {
        Setup setup = basis.like;
        setup.intermediate_platens.clear();
        setup.openings = {Opening{mold.file, mold.mold}};
        const Assembly assembly = assemble(setup);
        most = std::max(most, assembly.daylight_mm - measure_daylight(setup, assembly).daylight_mm);
    }
    return most;
}

Setup stacked(const PlanBasis& basis, int openings) {
    assert(openings >= 1 && static_cast<std::size_t>(openings) <= kMostOpenings && !basis.molds.empty());
    Setup setup = basis.like;
    setup.openings.clear();
    setup.intermediate_platens.clear();
    for (std::size_t i = 0; i < static_cast<std::size_t>(openings); ++i) {
        Opening opening;
        opening.mold_file = of_opening(basis, i).file;
        opening.mold = of_opening(basis, i).mold;
        opening.decks = opening.mold->stack.decks;
        setup.openings.push_back(std::move(opening));
    }
    setup.name = fmt::format("{} opening{} in {}", openings, openings == 1 ? "" : "s", setup.press->name);
    const bool own_rests = setup.press->rests_z_mm.size() + 1 >= static_cast<std::size_t>(openings);
    const PressRoom room = room_of(*setup.press);
    const std::vector<StackedMold> molds = heights(basis, openings);
    const double tilt = lost_to_tilt_mm(basis);
    const double left = room.daylight_mm - daylight_needed_mm(molds, {basis.platen.plate.thickness_mm, 0, 0, tilt});
    double z = setup.press->head_underside_z_mm - room.daylight_mm + tilt;
    for (std::size_t i = 0; i + 1 < molds.size(); ++i) {
        z += molds[i].sandwich_mm + left / openings;
        IntermediatePlaten platen = basis.platen;
        platen.rest_z_mm.reset();
        if (!own_rests && left > 0) { // without room they are spaced evenly, and the checks say what is lacking
            platen.rest_z_mm = z;
        }
        z += basis.platen.plate.thickness_mm;
        setup.intermediate_platens.push_back(std::move(platen));
    }
    return setup;
}

std::vector<Finding> asked_of(const Setup& setup, Progress& progress) {
    CheckRequest request;
    request.until_no_go = true;
    for (const CheckEntry& entry : check_entries()) {
        if (entry.id != kNeverStops) {
            request.only.emplace_back(entry.id);
        }
    }
    return run_checks(setup, assemble(setup), request, progress).findings;
}

OpeningsThatFit openings_that_fit(const PlanBasis& basis, Progress& progress) {
    OpeningsThatFit result;
    const double daylight = room_of(*basis.like.press).daylight_mm;
    for (int openings = 1; openings <= static_cast<int>(kMostOpenings) && !progress.cancelled(); ++openings) {
        Progress part(progress, 0, 0);
        const std::vector<Finding> findings = asked_of(stacked(basis, openings), part);
        const Verdict verdict = worst_of(findings);
        if (verdict != Verdict::no_go) {
            result.most = openings;
            result.verdict = verdict;
            result.stop.reset();
        } else if (!result.stop) {
            result.stop = first_stop(findings);
        }
        if (daylight_needed_mm(heights(basis, openings), {basis.platen.plate.thickness_mm, 0, 0}) > daylight) {
            break; // nor does any larger number: see the head of openings.hpp
        }
    }
    return result;
}

} // namespace evenclose
