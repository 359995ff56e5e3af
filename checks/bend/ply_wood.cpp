#include "checks/bend/ply_wood.hpp"

#include "scene/materials/material.hpp"

#include <algorithm>

namespace evenclose {
namespace {

// Radii of FAA AC 43.13-1B's plywood table at 0-45 degrees over those at 90: 0.55 to 0.67 (REFERENCE 8.3).
constexpr double kAcrossOverAlong = 1.6;

struct Layer {
    double E_MPa, from_mm, to_mm;
};

double share_lost(const std::vector<Layer>& layers) {
    double stiff = 0;
    double first = 0;
    for (const Layer& layer : layers) {
        const double thickness = layer.to_mm - layer.from_mm;
        stiff += layer.E_MPa * thickness;
        first += layer.E_MPa * thickness * 0.5 * (layer.from_mm + layer.to_mm);
    }
    const double neutral = first / stiff;
    double loose = 0;
    double bonded = 0;
    for (const Layer& layer : layers) {
        const double thickness = layer.to_mm - layer.from_mm;
        const double lever = 0.5 * (layer.from_mm + layer.to_mm) - neutral;
        const double own = layer.E_MPa * thickness * thickness * thickness / 12;
        loose += own;
        bonded += own + layer.E_MPa * thickness * lever * lever;
    }
    return loose / bonded;
}

} // namespace

PlyWood wood_of(const Ply& ply) {
    PlyWood wood;
    if (const Material* material = find_material({}, ply.species)) {
        if (material->E_MPa > 0 && material->E_across_MPa > 0) {
            wood.E_along_MPa = material->E_MPa;
            wood.E_across_MPa = material->E_across_MPa;
        }
        const auto clear = std::find_if(clear_woods().begin(), clear_woods().end(),
                                        [&](const ClearWood& each) { return each.species == material->name; });
        if (clear != clear_woods().end()) {
            wood.breaks_along = clear->rupture_MPa / clear->E_MPa;
            wood.breaks_across = kAcrossOverAlong * *wood.breaks_along;
        }
    }
    if (ply.bend_radius_mm) {
        wood.breaks_along = ply.thickness_mm / (2 * *ply.bend_radius_mm);
        wood.tried_along = true;
        if (!wood.breaks_across) {
            wood.breaks_across = kAcrossOverAlong * *wood.breaks_along;
        }
    }
    if (ply.bend_radius_across_mm) {
        wood.breaks_across = ply.thickness_mm / (2 * *ply.bend_radius_across_mm);
        wood.tried_across = true;
    }
    return wood;
}

std::optional<SpringBack> spring_back(const PlyStack& stack) {
    if (stack.plies.empty()) {
        return std::nullopt;
    }
    std::vector<Layer> along;
    std::vector<Layer> across;
    double height = 0;
    for (const Ply& ply : stack.plies) {
        const PlyWood wood = wood_of(ply);
        if (!wood.E_along_MPa || !wood.E_across_MPa) {
            return std::nullopt;
        }
        const bool lengthwise = ply.grain == Grain::along;
        const double top = height + ply.thickness_mm;
        along.push_back({lengthwise ? *wood.E_along_MPa : *wood.E_across_MPa, height, top});
        across.push_back({lengthwise ? *wood.E_across_MPa : *wood.E_along_MPa, height, top});
        height = top + stack.glue_line_mm;
    }
    return SpringBack{share_lost(along), share_lost(across)};
}

} // namespace evenclose
