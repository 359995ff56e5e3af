// checks/weights.hpp: what rises with the platen, by weight: the jacks bear it before they press anything.
//
// A mass that the press states counts; else volume times density. A printed half counts as solid plastic, which is up to
// some four times too much and still little beside a closing force.
#pragma once

#include "scene/materials/material.hpp"
#include "scene/motion/assembly.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace evenclose {

inline constexpr double kGravity_m_per_s2 = 9.80665; // standard gravity

struct MovingWeights {
    double platen_N = 0, lower_half_N = 0, jacks_N = 0;
    double above_N = 0; // of several openings: all that the lowest one carries, but for the topmost upper half
    std::vector<std::string> left_out; // bodies whose material has no known density

    [[nodiscard]] double all_N() const { return platen_N + lower_half_N + jacks_N + above_N; }
};

/// Of a plate as the shop states it, else by volume and material; 0 if neither is known. `own`: the press' materials.
[[nodiscard]] double plate_weight_N(const Platen& plate, const Body& body, const std::vector<Material>& own);
/// By volume and material; 0 if that is not known.
[[nodiscard]] double body_weight_N(const Body& body, const std::vector<Material>& own);

/// Density of a member's, platen's or mold's material, kg/m3; 0 if the word is not known. `own`: the press' materials.
[[nodiscard]] double density_kg_per_m3(const std::vector<Material>& own, const std::string& material);

/// What hangs fast at the head does not rise.
/// Needs: a set-up with everything loaded, and its assembly. Sleeves and the ply stack are left out (some kg).
[[nodiscard]] MovingWeights moving_weights(const Setup& setup, const Assembly& assembly);

/// What lies on the stack in an opening and does not hang at the head: its own upper half, and all above.
/// Needs: an opening that is there.
[[nodiscard]] double weight_over_N(const Setup& setup, const Assembly& assembly, std::size_t opening);

} // namespace evenclose
