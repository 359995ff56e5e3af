#include "checks/opening_view.hpp"
#include "checks/pressure/pressure.hpp"
#include "checks/print/print.hpp"
#include "checks/stack/lifting_limit.hpp"
#include "checks/stack/platen_bend.hpp"
#include "checks/stack/stack.hpp"
#include "checks/weights.hpp"
#include "scene/materials/material.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

/// Printed with its fill, if that is told; else as solid as its material.
double half_kg(const Mold& mold, const MoldHalf& half, const Body& body, const std::vector<Material>& own) {
    const double density = density_kg_per_m3(own, half.material);
    if (std::holds_alternative<MeshHalf>(half.shape) && mold.print && mold.print->fill && mold.print->wall_mm) {
        return printed_mass_kg(std::abs(signed_volume_mm3(*half.mesh)), surface_area_mm2(*half.mesh),
                               *mold.print->wall_mm, *mold.print->fill, density);
    }
    return body_weight_N(body, own) / kGravity_m_per_s2;
}

double lifted_kg(const Setup& setup, const Assembly& assembly, std::size_t opening) {
    const Mold& mold = *setup.openings[opening].mold;
    const double lower =
        half_kg(mold, mold.lower, assembly.bodies[assembly.openings[opening].lower], setup.press->materials);
    const double upper =
        half_kg(mold, mold.upper, assembly.bodies[assembly.openings[opening].upper], setup.press->materials);
    if (!(lower > 0 && upper > 0)) {
        return 0;
    }
    return mold.loading == Loading::sandwich ? lower + upper : std::max(lower, upper);
}

/// The deck's extent along world X (or Y).
PressedLength along(const DeckPlan& deck, bool y) {
    const Vec2 axis = glm::abs(deck.length_axis);
    const double half = 0.5 * (y ? axis.y * deck.size_mm.x + axis.x * deck.size_mm.y
                                 : axis.x * deck.size_mm.x + axis.y * deck.size_mm.y);
    const double middle = y ? deck.centre_mm.y : deck.centre_mm.x;
    return {middle - half, middle + half};
}

DeckPlan deck_of(const Setup& setup, const Assembly& assembly, std::size_t opening) {
    const Setup one = stack_as_one(setup, assembly, opening);
    return deck_plan(one, one.openings.front());
}

BetweenOpenings between_of(const Setup& setup, const Assembly& assembly, std::size_t k, double force_N) {
    const DeckPlan below = deck_of(setup, assembly, k);
    const DeckPlan above = deck_of(setup, assembly, k + 1);
    const Platen& plate = setup.intermediate_platens[k].plate;
    BetweenOpenings between;
    between.thickness_mm = plate.thickness_mm;
    between.off_mm = above.centre_mm - below.centre_mm;
    const DeckPlan& smaller = below.size_mm.x * below.size_mm.y <= above.size_mm.x * above.size_mm.y ? below : above;
    const Vec2 axis = smaller.length_axis;
    between.kern =
        kern_use(smaller.size_mm, {glm::dot(between.off_mm, axis), glm::dot(between.off_mm, Vec2{-axis.y, axis.x})});
    constexpr double kSame_mm = 0.01;
    const PressedLength x[] = {along(below, false), along(above, false)};
    const PressedLength y[] = {along(below, true), along(above, true)};
    const auto same = [](const PressedLength(&both)[2]) {
        return std::abs(both[0].from_mm - both[1].from_mm) < kSame_mm &&
               std::abs(both[0].to_mm - both[1].to_mm) < kSame_mm;
    };
    between.alike = same(x) && same(y);
    if (between.alike) {
        between.bend_mm = 0;
        return between;
    }
    const Material* material = find_material(setup.press->materials, plate.material);
    if (material == nullptr || plate.mesh != nullptr) {
        return between;
    }
    const double per_width = material->E_MPa * std::pow(plate.thickness_mm, 3) / 12;
    between.bend_mm = std::max(free_beam_bend_mm(x[0], x[1], force_N, per_width * plate.size_mm.y),
                               free_beam_bend_mm(y[0], y[1], force_N, per_width * plate.size_mm.x));
    return between;
}

double tilt_over_mm(const DeckPlan& deck, const SlopeRange& range) {
    double most = 0;
    for (const double x : {range.low.x, range.high.x}) {
        for (const double y : {range.low.y, range.high.y}) {
            most = std::max(most, height_difference_mm(deck, {x, y}));
        }
    }
    return most;
}

} // namespace

StackMeasure measure_stack(const Setup& setup, const Assembly& assembly) {
    StackMeasure measure;
    measure.daylight_mm = assembly.daylight_mm;
    measure.closed_mm = assembly.shut_height_mm;
    measure.stroke_needed_mm = assembly.closed.mm;
    measure.stroke_mm = assembly.end_of_stroke.mm;
    const std::size_t count = setup.openings.size();
    for (std::size_t i = 0; i < count; ++i) {
        const AssembledOpening& own = assembly.openings[i];
        const Setup one = stack_as_one(setup, assembly, i);
        const PressureMeasure pressure = measure_pressure(one, assembly);
        StackedOpening opening;
        opening.mold = setup.openings[i].mold->name;
        opening.closes = own.closes;
        opening.floor_z_mm = own.heights.floor_z_mm;
        opening.gap_mm = own.heights.gap_mm();
        opening.rest_short_mm = own.heights.rest_short_mm;
        // The force at the head is what the deck in the way bears of the jacks', less all that rises.
        opening.area_mm2 = pressure.area_mm2;
        opening.sheet = pressure.asked_MPa.has_value();
        opening.wanted_MPa = pressure.asked_MPa.value_or(pressure.band.least_MPa);
        opening.lifted_kg = lifted_kg(setup, assembly, i);
        opening.limit_kg = lifting_limit_kg(opening.floor_z_mm);
        measure.head_N = i == 0 ? pressure.force_N : std::min(measure.head_N, pressure.force_N);
        measure.tilt_mm =
            std::max(measure.tilt_mm, tilt_over_mm(pressure.deck, assembly.by_jacks.slope_range(assembly.last)));
        if (i == 0) {
            measure.jacks_N = pressure.weights.all_N();
        }
        measure.openings.push_back(opening);
    }
    measure.jacks_N += measure.head_N;
    for (std::size_t i = 0; i < count; ++i) {
        StackedOpening& opening = measure.openings[i];
        opening.force_N = measure.head_N + weight_over_N(setup, assembly, i);
        opening.pressure_MPa = opening.area_mm2 > 0 ? opening.force_N / opening.area_mm2 : 0;
        if (opening.share() < measure.openings[measure.weakest].share()) {
            measure.weakest = i;
        }
    }
    for (std::size_t k = 0; k + 1 < count; ++k) {
        measure.between.push_back(between_of(setup, assembly, k, measure.openings[k].force_N));
    }
    const auto n = static_cast<double>(count);
    measure.thickness_error_mm = n * setup.limits.cavity_tolerance_mm;
    measure.parallel_error_mm = std::sqrt(n - 1) * setup.limits.cavity_tolerance_mm;
    return measure;
}

} // namespace evenclose
