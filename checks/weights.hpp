// checks/weights.hpp: what rises with the platen, by weight: the jacks bear it before they press anything.
//
// A mass that the press states counts; else volume times density. A printed half counts as solid plastic, which is up to
// some four times too much and still little beside a closing force.
#pragma once

#include "scene/materials/material.hpp"
#include "scene/motion/assembly.hpp"

#include <string>
#include <vector>

namespace evenclose {

inline constexpr double kGravity_m_per_s2 = 9.80665; // standard gravity

struct MovingWeights {
    double platen_N = 0, lower_half_N = 0, jacks_N = 0;
    std::vector<std::string> left_out; // bodies whose material has no known density

    [[nodiscard]] double all_N() const { return platen_N + lower_half_N + jacks_N; }
};

/// Density of a member's, platen's or mold's material, kg/m3; 0 if the word is not known. `own`: the press' materials.
[[nodiscard]] double density_kg_per_m3(const std::vector<Material>& own, const std::string& material);

/// Needs: a set-up with everything loaded, and its assembly. Sleeves and the ply stack are left out (some kg).
[[nodiscard]] MovingWeights moving_weights(const Setup& setup, const Assembly& assembly);

} // namespace evenclose
