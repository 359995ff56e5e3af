#include "scene/motion/stacked.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

namespace evenclose {
namespace {

std::vector<std::optional<double>> told_rests(const Setup& setup) {
    std::vector<std::optional<double>> rests;
    for (std::size_t k = 0; k < setup.intermediate_platens.size(); ++k) {
        std::optional<double> rest = setup.intermediate_platens[k].rest_z_mm;
        if (!rest && k < setup.press->rests_z_mm.size()) {
            rest = setup.press->rests_z_mm[k];
        }
        rests.push_back(rest);
    }
    return rests;
}

} // namespace

std::vector<OpenHeights> open_heights(const Setup& setup, double platen_face_z_mm) {
    std::vector<OpenHeights> openings(setup.openings.size());
    if (openings.empty()) {
        return openings;
    }
    for (std::size_t i = 0; i < openings.size(); ++i) {
        openings[i].shut_height_mm = setup.openings[i].mold->closed_shut_height_mm();
    }
    const std::vector<std::optional<double>> told = told_rests(setup);
    const auto thickness = [&](std::size_t k) { return setup.intermediate_platens[k].plate.thickness_mm; };
    openings.front().floor_z_mm = platen_face_z_mm;
    openings.back().ceiling_z_mm = setup.press->head_underside_z_mm;
    std::size_t k = 0;
    while (k < told.size()) {
        // A run of openings up to the next ceiling that is told shares evenly what the molds and platens in it leave.
        std::size_t last = k;
        while (last < told.size() && !told[last]) {
            ++last;
        }
        double left = (last < told.size() ? *told[last] : setup.press->head_underside_z_mm) - openings[k].floor_z_mm;
        for (std::size_t i = k; i <= last; ++i) {
            left -= openings[i].shut_height_mm + (i < last ? thickness(i) : 0.0);
        }
        const double even = left / static_cast<double>(last - k + 1);
        for (std::size_t i = k; i < std::min(last + 1, told.size()); ++i) {
            OpenHeights& below = openings[i];
            const double closed = below.floor_z_mm + below.shut_height_mm;
            const double rest = told[i] ? *told[i] : closed + even;
            below.rest_short_mm = std::max(0.0, closed - rest);
            below.ceiling_z_mm = std::max(rest, closed);
            openings[i + 1].floor_z_mm = below.ceiling_z_mm + thickness(i);
        }
        k = last + 1;
    }
    return openings;
}

Ride picked_up_ride(const Ride& platen, double gone_mm, Travel at, double reach_mm) {
    Ride ride;
    ride.pivot_mm = platen.pivot_mm + Vec3{0, 0, gone_mm}; // so that both turn as one body once it is picked up
    const Travel end = platen.knots.empty() ? Travel{0} : platen.knots.back().at;
    ride.knots.push_back({{0}, 0.0, {}});
    if (!(at < end)) {
        ride.knots.push_back({end, 0.0, {}}); // never picked up
        return ride;
    }
    const SlopeRange taken = platen.slope_range(at);
    SlopeRange taking = taken; // level, as steep as the platen, or on the way from one to the other
    taking.low = {std::min(0.0, taken.low.x), std::min(0.0, taken.low.y)};
    taking.high = {std::max(0.0, taken.high.x), std::max(0.0, taken.high.y)};
    const double steep = std::max({-taking.low.x, -taking.low.y, taking.high.x, taking.high.y});
    // One edge is picked up so much before the middle. A ride has no jumps: a level platen gets some room too.
    constexpr double kLeast_mm = 1e-3;
    const double before = std::max(kLeast_mm, steep * reach_mm);
    if (at.mm > before) {
        ride.knots.push_back({{at.mm - before}, 0.0, {}});
    } else if (at.mm > 0) {
        ride.knots.front().slope = taking;
    }
    if (at.mm > 0) {
        ride.knots.push_back({at, 0.0, taking});
    } else {
        ride.knots.front() = {{0}, 0.0, taking};
    }
    for (const RideKnot& knot : platen.knots) {
        if (at < knot.at) {
            ride.knots.push_back({knot.at, std::max(0.0, knot.lift_mm - gone_mm), knot.slope});
        }
    }
    return ride;
}

} // namespace evenclose
