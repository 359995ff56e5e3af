#include "checks/weights.hpp"

#include "scene/materials/material.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>

namespace evenclose {
namespace {

constexpr double kMm3PerM3 = 1e9;

struct Plastic {
    const char* name;
    double density_kg_per_m3;
};
// Solid filament (REFERENCE 14: data sheets, from memory but for PETG).
constexpr Plastic kPlastics[] = {{"PLA", 1240}, {"PETG", 1270}, {"ABS", 1040}, {"ASA", 1070}};

std::string capitals(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char letter) { return static_cast<char>(std::toupper(letter)); });
    return text;
}

double weight_N(const Body& body, const std::vector<Material>& own) {
    return std::abs(signed_volume_mm3(*body.mesh)) / kMm3PerM3 * density_kg_per_m3(own, body.material) *
           kGravity_m_per_s2;
}

} // namespace

double density_kg_per_m3(const std::vector<Material>& own, const std::string& material) {
    if (material.empty()) {
        return 0;
    }
    if (const Material* found = find_material(own, material)) {
        return found->density_kg_per_m3;
    }
    const std::string word = capitals(material);
    const auto plastic =
        std::find_if(std::begin(kPlastics), std::end(kPlastics), [&](const Plastic& p) { return word == p.name; });
    return plastic == std::end(kPlastics) ? 0 : plastic->density_kg_per_m3;
}

double body_weight_N(const Body& body, const std::vector<Material>& own) { return weight_N(body, own); }

double plate_weight_N(const Platen& plate, const Body& body, const std::vector<Material>& own) {
    return plate.mass_kg ? *plate.mass_kg * kGravity_m_per_s2 : body_weight_N(body, own);
}

MovingWeights moving_weights(const Setup& setup, const Assembly& assembly) {
    MovingWeights weights;
    std::size_t between = 0; // intermediate platens stand in the set-up's order
    for (const Body& body : assembly.bodies) {
        const bool platen = body.part == Part::platen || body.part == Part::intermediate_platen;
        const bool half = body.part == Part::mold_lower || body.part == Part::mold_upper;
        if ((!platen && !half) || assembly.rides[body.ride].fixed()) {
            continue;
        }
        const bool lowest =
            body.part == Part::platen || (body.part == Part::mold_lower && body.opening.value_or(0) == 0);
        double& place = !lowest ? weights.above_N : platen ? weights.platen_N : weights.lower_half_N;
        if (platen) {
            const Platen& plate =
                body.part == Part::platen ? setup.press->platen : setup.intermediate_platens[between++].plate;
            place += plate_weight_N(plate, body, setup.press->materials);
            if (plate.mass_kg) {
                continue;
            }
        } else {
            place += body_weight_N(body, setup.press->materials);
        }
        if (density_kg_per_m3(setup.press->materials, body.material) == 0) {
            weights.left_out.push_back(body.name);
        }
    }
    for (const Jack& jack : setup.press->jacks) {
        weights.jacks_N += jack.moving_mass_kg.value_or(0) * kGravity_m_per_s2;
    }
    return weights;
}

double weight_over_N(const Setup& setup, const Assembly& assembly, std::size_t opening) {
    const std::vector<Material>& materials = setup.press->materials;
    double weight = 0;
    for (std::size_t i = opening; i + 1 < assembly.openings.size(); ++i) {
        const AssembledOpening& own = assembly.openings[i];
        weight += body_weight_N(assembly.bodies[own.upper], materials);
        weight += plate_weight_N(setup.intermediate_platens[i].plate, assembly.bodies[own.above], materials);
        weight += body_weight_N(assembly.bodies[assembly.openings[i + 1].lower], materials);
    }
    return weight;
}

} // namespace evenclose
