#include "checks/pressure/pressure.hpp"

#include "checks/pressure/deck_cells.hpp"
#include "scene/motion/lifting.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace evenclose {
namespace {

constexpr int kCellsAlong = 96, kCellsAcross = 32;

Vec2 mean_of(const std::vector<Vec2>& places) {
    Vec2 sum{0.0};
    for (const Vec2 place : places) {
        sum += place;
    }
    return sum / static_cast<double>(places.size());
}

/// All jacks together when this drive is at its limit; infinite without one, or where friction is not known.
double drive_limit_N(const Press& press, const Drive& drive, const std::vector<double>& shares,
                     const std::vector<double>& out_mm) {
    constexpr double kNone = std::numeric_limits<double>::infinity();
    if (!drive.limit) {
        return kNone;
    }
    double torque = 0;   // of all its screws together, for 1 N in all
    double pressure = 0; // the greatest that one of its cylinders asks for, for 1 N in all
    for (const std::size_t i : drive.jacks) {
        if (!knows_effort(press.jacks[i])) {
            return kNone;
        }
        const HeightLaw law = law_of(press.jacks[i]);
        const double one = effort(law, out_mm[i], std::max(0.0, shares[i]));
        if (drive_of(law) == DriveKind::turns) {
            torque += one;
        } else {
            pressure = std::max(pressure, one);
        }
    }
    if (torque > 0) {
        return *drive.limit * drive.gear_ratio / torque;
    }
    return pressure > 0 ? *drive.limit / pressure : kNone;
}

ForceLimit limit_of(const Press& press, const std::vector<double>& shares, const std::vector<double>& out_mm) {
    ForceLimit limit{{}, false, std::numeric_limits<double>::infinity()};
    for (std::size_t i = 0; i < press.jacks.size(); ++i) {
        if (shares[i] > 1e-9 && press.jacks[i].rated_load_N / shares[i] < limit.total_N) {
            limit = {press.jacks[i].name, false, press.jacks[i].rated_load_N / shares[i]};
        }
    }
    for (const Drive& drive : press.drives) {
        if (const double total = drive_limit_N(press, drive, shares, out_mm); total < limit.total_N) {
            limit = {drive.name, true, total};
        }
    }
    return limit;
}

/// By how much of the mean the least pressure falls short when the force acts at `off` from the footprint's centroid and
/// all of it is pressed: 1 and more, outside the kern.
double short_of_mean(const DeckPlan& deck, const std::vector<FootprintCell>& cells, Vec2 centroid, Vec2 off) {
    double xx = 0;
    double yy = 0;
    double xy = 0;
    double area = 0;
    for (const FootprintCell& cell : cells) {
        const Vec2 arm = cell.at_mm - centroid;
        xx += cell.area_mm2 * arm.x * arm.x;
        yy += cell.area_mm2 * arm.y * arm.y;
        xy += cell.area_mm2 * arm.x * arm.y;
        area += cell.area_mm2;
    }
    const double determinant = xx * yy - xy * xy;
    const Vec2 slope = area / determinant * Vec2{yy * off.x - xy * off.y, xx * off.y - xy * off.x};
    double most = 0;
    for (const Vec2 corner : deck.corners_mm()) {
        most = std::max(most, -(slope.x * (corner.x - centroid.x) + slope.y * (corner.y - centroid.y)));
    }
    return most;
}

void spread(PressureMeasure& measure, Vec2 jacks_middle) {
    const DeckPlan& deck = measure.deck;
    const Vec2 along = deck.length_axis;
    const Vec2 across{-along.y, along.x};
    const auto own = [&](Vec2 world) {
        return Vec2{world.x * along.x + world.y * along.y, world.x * across.x + world.y * across.y};
    };
    measure.eccentricity_mm = own(deck.centroid_mm() - jacks_middle);
    if (!(measure.area_mm2 > 0)) {
        return;
    }
    const std::vector<FootprintCell> cells = deck_cells(deck, kCellsAlong, kCellsAcross);
    measure.kern = deck.outline_mm.empty()
                       ? kern_use(deck.size_mm, measure.eccentricity_mm)
                       : short_of_mean(deck, cells, own(deck.centroid_mm() - deck.centre_mm), -measure.eccentricity_mm);
    if (!(measure.force_N > 0)) {
        return;
    }
    measure.map = no_tension_pressure(cells, measure.force_N, own(jacks_middle - deck.centre_mm));
    if (measure.map) {
        measure.least_MPa = std::numeric_limits<double>::infinity();
        for (const Vec2 corner : deck.corners_mm()) {
            const double q = measure.map->at_MPa(corner);
            measure.least_MPa = std::min(measure.least_MPa, q);
            measure.greatest_MPa = std::max(measure.greatest_MPa, q);
        }
    }
}

} // namespace

PressureMeasure measure_pressure(const Setup& setup, const Assembly& assembly) {
    const Press& press = *setup.press;
    const Opening& opening = setup.openings.front();
    PressureMeasure measure;
    measure.deck = deck_plan(setup, opening);
    measure.area_mm2 = measure.deck.area_mm2();
    measure.weights = moving_weights(setup, assembly);
    measure.asked_MPa = opening.mold->stack.glue_pressure_MPa;
    measure.band = glue_band(opening.mold->stack);

    std::vector<Vec2> places;
    for (const Jack& jack : press.jacks) {
        places.push_back(Vec2{jack.foot_mm});
        measure.rated_all_N += jack.rated_load_N;
    }
    // Even pressure acts at the deck's centroid. Weights count there too: they are some hundredths of the whole.
    const std::vector<double> shares = jack_shares(places, measure.deck.centroid_mm());
    const Lifting lifting{press, assembly.level_source};
    std::vector<double> out_mm;
    for (std::size_t i = 0; i < press.jacks.size(); ++i) {
        out_mm.push_back(lifting.out_mm(i, assembly.last));
    }
    measure.limit = limit_of(press, shares, out_mm);
    measure.available_N = std::max(0.0, measure.limit.total_N - measure.weights.all_N());
    measure.stated = setup.closing_force_N.has_value();
    measure.force_N = setup.closing_force_N.value_or(measure.available_N);
    measure.mean_MPa = measure.area_mm2 > 0 ? measure.force_N / measure.area_mm2 : 0;
    for (std::size_t i = 0; i < press.jacks.size(); ++i) {
        const double load = shares[i] * (measure.force_N + measure.weights.all_N());
        measure.jacks.push_back({press.jacks[i].name, places[i], press.jacks[i].rated_load_N, shares[i], load});
    }
    spread(measure, mean_of(places));
    return measure;
}

} // namespace evenclose
