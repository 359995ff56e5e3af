#include "checks/pressure/glue_band.hpp"

#include "scene/materials/material.hpp"

#include <algorithm>

namespace evenclose {
namespace {

constexpr double kLightest_MPa = 0.7, kDensest_MPa = 1.7;
constexpr double kLight = 0.35, kDense = 0.70; // specific gravity
// A clear wood's density over its specific gravity (oven-dry mass over volume at 12 % moisture), as in the table.
constexpr double kMoist_kg_per_m3 = 1120;
// Shops and authors differ by about that either way for the same wood (REFERENCE 6: 175 to 250 psi for hardwoods).
constexpr double kSpread = 0.15;

} // namespace

GlueBand glue_band(const PlyStack& stack) {
    GlueBand band{kLightest_MPa, kDensest_MPa, {}};
    double densest = 0;
    for (const Ply& ply : stack.plies) {
        const Material* wood = ply.species.empty() ? nullptr : find_material({}, ply.species);
        if (wood != nullptr && wood->density_kg_per_m3 > densest) {
            densest = wood->density_kg_per_m3;
            band.species = ply.species;
        }
    }
    if (densest > 0) {
        const double share = std::clamp((densest / kMoist_kg_per_m3 - kLight) / (kDense - kLight), 0.0, 1.0);
        const double middle = kLightest_MPa + share * (kDensest_MPa - kLightest_MPa);
        band.least_MPa = std::max(kLightest_MPa, middle * (1 - kSpread));
        band.most_MPa = std::min(kDensest_MPa, middle * (1 + kSpread));
    }
    return band;
}

} // namespace evenclose
