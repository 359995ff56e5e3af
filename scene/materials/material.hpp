// scene/materials/material.hpp: what members, platens and plies are made of: stiffness, density, and what it may bear.
//
// One number a property, at room climate (timber at 12 % moisture). Strengths are what a shop may plan with:
// - timber: allowable stresses at normal (ten-year) duration before factors, see allowable.hpp;
// - metals: yield by thickness; the check divides by its stated factor.
// `source` says where the figures come from and how they were made allowable.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace evenclose {

enum class MaterialKind { timber, panel, steel, aluminium, other };
[[nodiscard]] const char* name_of(MaterialKind kind);

/// Yield up to and including a thickness.
struct YieldStep {
    double to_thickness_mm = 0, yield_MPa = 0;
};

/// Allowable stresses along the grain, and across it at bearings.
struct TimberStress {
    double bending_MPa = 0, tension_MPa = 0, shear_MPa = 0, compression_MPa = 0, bearing_across_MPa = 0;
    bool sized = false; // NDS size factor for depth applies (Douglas Fir-Larch; not Southern Pine, not clear wood)
};

struct Material {
    std::string name;
    MaterialKind kind = MaterialKind::steel;
    double E_MPa = 0, G_MPa = 0, density_kg_per_m3 = 0;
    double E_across_MPa = 0; // timber and panels: how it gives across the grain; metals: E
    std::vector<YieldStep> yield;
    std::optional<TimberStress> timber; // timber and panels
    double wall_factor = 1.0;           // of tubes and pipes made to AISC's standards: 0.93
    std::string source;
    std::vector<std::string> also; // other words for it

    [[nodiscard]] bool is_metal() const { return kind == MaterialKind::steel || kind == MaterialKind::aluminium; }
    /// Metals, and whatever is told by a yield stress. The last step holds for anything thicker.
    [[nodiscard]] double yield_MPa(double thickness_mm) const;
};

/// Mean properties of small clear pieces at 12 % moisture: Wood Handbook (FPL-GTR-282, 2021), table 5-3a. Not allowables.
struct ClearWood {
    const char* species;
    double specific_gravity; // oven-dry mass over volume at 12 %
    double rupture_MPa, E_MPa, compression_MPa, across_MPa, shear_MPa;
    bool softwood;
    double GLR_over_EL, GLT_over_EL, ER_over_EL, ET_over_EL; // tables 5-1, 5-2; 0 where not listed
};
[[nodiscard]] const std::vector<ClearWood>& clear_woods();

/// Our own table. A document's materials stand before it and may take its names.
[[nodiscard]] const std::vector<Material>& material_table();

/// By name or other word; capitals, blanks, '-' and '_' count nothing.
/// Gives: null if neither the document's materials nor the table know the word.   Threads: pure, any.
[[nodiscard]] const Material* find_material(const std::vector<Material>& own, const std::string& word);
/// The known word nearest to an unknown one; empty if none is near.
[[nodiscard]] std::string nearest_material(const std::vector<Material>& own, const std::string& word);

} // namespace evenclose
