// The table itself. Marks: figures are those of the documents named in each source; "from memory" where one was not at
// hand when it was written down.
#include "scene/materials/allowable.hpp"
#include "scene/materials/material.hpp"

#include "scene/units/units.hpp"

#include <fmt/format.h>

#include <limits>

namespace evenclose {
namespace {

constexpr double kAnyThickness = std::numeric_limits<double>::infinity();

TimberStress from_psi(double bending, double tension, double shear, double compression, double across, bool sized) {
    return {bending * kMPaPerPsi,     tension * kMPaPerPsi, shear * kMPaPerPsi,
            compression * kMPaPerPsi, across * kMPaPerPsi,  sized};
}

Material lumber(std::string name, double E_MPa, double E_across_MPa, double density, TimberStress stress,
                std::string source, std::vector<std::string> also) {
    Material material;
    material.name = std::move(name);
    material.kind = MaterialKind::timber;
    material.E_MPa = E_MPa;
    material.G_MPa = E_MPa / 16; // EN 338 and the Wood Handbook's softwoods agree on about that
    material.E_across_MPa = E_across_MPa;
    material.density_kg_per_m3 = density;
    material.timber = stress;
    material.source = std::move(source);
    material.also = std::move(also);
    return material;
}

Material clear(const ClearWood& wood, std::vector<std::string> also) {
    // Mass at 12 % moisture over volume at 12 %: 1.12 of the oven-dry mass.
    Material material = lumber(
        wood.species, wood.E_MPa, wood.ET_over_EL * wood.E_MPa, 1120 * wood.specific_gravity, graded(wood),
        "Wood Handbook (FPL-GTR-282), clear wood at 12 %, brought to a No. 2 grade after ASTM D245", std::move(also));
    if (wood.GLR_over_EL > 0) {
        material.G_MPa = wood.GLR_over_EL * wood.E_MPa;
    }
    return material;
}

Material metal(std::string name, MaterialKind kind, double E_MPa, double G_MPa, double density,
               std::vector<YieldStep> yield, std::string source, std::vector<std::string> also = {}) {
    Material material;
    material.name = std::move(name);
    material.kind = kind;
    material.E_MPa = material.E_across_MPa = E_MPa;
    material.G_MPa = G_MPa;
    material.density_kg_per_m3 = density;
    material.yield = std::move(yield);
    material.source = std::move(source);
    material.also = std::move(also);
    return material;
}

Material panel(std::string name, double E_MPa, double G_MPa, double E_across_MPa, double density, TimberStress stress,
               std::string source, std::vector<std::string> also) {
    Material material =
        lumber(std::move(name), E_MPa, E_across_MPa, density, stress, std::move(source), std::move(also));
    material.kind = MaterialKind::panel;
    material.G_MPa = G_MPa;
    return material;
}

std::vector<Material> made_table() {
    std::vector<Material> table;
    const char* nds = "NDS Supplement 4A, reference design values of dimension lumber (Ft, Fv, Fc across from memory)";
    // E across the grain: 0.05 E, the Wood Handbook's ET of Douglas-fir (table 5-1).
    table.push_back(lumber("Douglas Fir-Larch No. 2", 1.6e6 * kMPaPerPsi, 0.05 * 1.6e6 * kMPaPerPsi, 540,
                           from_psi(900, 575, 180, 1350, 625, true), nds,
                           {"Douglas-fir", "Douglas fir", "DF-L", "DF-L No. 2", "Oregon pine"}));
    // Southern Pine is listed by width: the value of 8 in boards stands for all, low for narrower ones.
    table.push_back(lumber("Southern Pine No. 2", 1.4e6 * kMPaPerPsi, 0.078 * 1.4e6 * kMPaPerPsi, 590,
                           from_psi(925, 550, 175, 1350, 565, false),
                           "NDS Supplement 4B as of 2013 (older tables give 1500 psi); Ft, Fc from memory",
                           {"southern pine", "yellow pine", "SYP"}));
    // Characteristic values times k_mod 0.8, over gamma_M 1.3 and a load factor of 1.5 (EN 1995-1-1, from memory).
    constexpr double kDesign = 0.8 / (1.3 * 1.5);
    table.push_back(lumber("C24", 11000, 370, 420,
                           {24 * kDesign, 14.5 * kDesign, 4.0 * 0.67 * kDesign, 21 * kDesign, 2.5 * kDesign, false},
                           "EN 338 (fv 4.0 with crack factor 0.67), k_mod 0.8, gamma_M 1.3, load factor 1.5",
                           {"pine", "spruce", "softwood", "fir", "whitewood", "construction timber"}));
    table.back().G_MPa = 690;
    const std::vector<std::vector<std::string>> other_words = {{"maple", "hard maple"},
                                                               {"birch"},
                                                               {"beech", "European beech"},
                                                               {"red oak", "oak"},
                                                               {},
                                                               {"coast Douglas-fir"},
                                                               {"loblolly"},
                                                               {"longleaf"}};
    for (std::size_t i = 0; i < clear_woods().size(); ++i) {
        table.push_back(clear(clear_woods()[i], other_words[i]));
    }
    table.push_back(panel("birch plywood", 9000, 620, 500, 680, {12, 10, 2.0, 8, 4, false},
                          "common practice for even cross-banded birch plywood; no single source", {"plywood", "ply"}));
    table.push_back(panel("softwood plywood", 6500, 500, 350, 500, {6, 4, 1.0, 4, 2.0, false},
                          "common practice for sheathing plywood; no single source", {"spruce plywood"}));
    table.push_back(panel("MDF", 2700, 1100, 1000, 740, {5, 3, 0.8, 4, 3.0, false},
                          "common practice for general-purpose board; creeps, no single source", {"fibreboard"}));

    const char* en_steel = "EN 10025-2 table 7; E, G as in EN 1993-1-1";
    table.push_back(metal("S235", MaterialKind::steel, 210000, 81000, 7850, {{16, 235}, {40, 225}, {100, 215}},
                          en_steel, {"steel", "mild steel", "S235JR", "Fe 360", "St 37"}));
    table.push_back(metal("S275", MaterialKind::steel, 210000, 81000, 7850, {{16, 275}, {40, 265}, {63, 255}}, en_steel,
                          {"S275JR"}));
    table.push_back(metal("S355", MaterialKind::steel, 210000, 81000, 7850, {{16, 355}, {40, 345}, {63, 335}}, en_steel,
                          {"S355J2", "S355JR"}));
    table.push_back(
        metal("A36", MaterialKind::steel, 200000, 79300, 7850, {{200, 250}}, "ASTM A36, 36 ksi", {"ASTM A36"}));
    table.push_back(metal("A500 Grade B", MaterialKind::steel, 200000, 79300, 7850,
                          {{kAnyThickness, 46000 * kMPaPerPsi}},
                          "ASTM A500 shaped tubing, 46 ksi; AISC design wall 0.93 (from memory)", {"A500", "A500B"}));
    table.back().wall_factor = 0.93;
    table.push_back(metal(
        "A53 Grade B", MaterialKind::steel, 200000, 79300, 7850, {{kAnyThickness, 35000 * kMPaPerPsi}},
        "ASTM A53, 35 ksi; AISC design wall 0.93 (from memory)", {"A53", "A53B", "schedule 40 pipe", "black pipe"}));
    table.back().wall_factor = 0.93;
    const char* bolts = "ISO 898-1 property class: first figure x 100 x second / 10 (from memory)";
    table.push_back(metal("4.6", MaterialKind::steel, 210000, 81000, 7850, {{kAnyThickness, 240}}, bolts,
                          {"threaded rod", "bolt"}));
    table.push_back(metal("8.8", MaterialKind::steel, 210000, 81000, 7850, {{kAnyThickness, 640}}, bolts,
                          {"class 8.8", "bolt 8.8"}));
    table.push_back(metal("10.9", MaterialKind::steel, 210000, 81000, 7850, {{kAnyThickness, 900}}, bolts));
    table.push_back(metal("6061-T6", MaterialKind::aluminium, 69000, 26000, 2700, {{kAnyThickness, 240}},
                          "EN 755-2 extrusions, 0.2 % proof (from memory)", {"aluminium", "aluminum"}));
    table.push_back(metal("6082-T6", MaterialKind::aluminium, 70000, 26300, 2700, {{5, 250}, {kAnyThickness, 260}},
                          "EN 755-2 extrusions, 0.2 % proof (from memory)"));
    return table;
}

} // namespace

const std::vector<ClearWood>& clear_woods() {
    // Birch and beech as in the 2010 edition; shear ratios of beech are those of European beech (1858 and 774 of 12 205).
    static const std::vector<ClearWood> woods = {
        {"sugar maple", 0.63, 109, 12600, 54.0, 10.1, 16.1, false, .111, .063, .132, .065},
        {"yellow birch", 0.62, 114, 13900, 56.3, 6.7, 13.0, false, .074, .068, .078, .050},
        {"American beech", 0.64, 103, 11900, 50.3, 7.0, 13.9, false, .0737, .0488, .152, .0634},
        {"northern red oak", 0.63, 99, 12500, 46.6, 7.0, 12.3, false, .089, .081, .154, .082},
        {"white oak", 0.68, 105, 12300, 51.3, 7.4, 13.8, false, .086, 0, .163, .072},
        {"coastal Douglas-fir", 0.48, 85, 13400, 49.9, 5.5, 7.8, true, .064, .078, .068, .050},
        {"loblolly pine", 0.51, 88, 12300, 49.2, 5.4, 9.6, true, .082, .081, .113, .078},
        {"longleaf pine", 0.59, 100, 13700, 58.4, 6.6, 10.4, true, .071, .060, .102, .055}};
    return woods;
}

const std::vector<Material>& material_table() {
    static const std::vector<Material> table = made_table();
    return table;
}

} // namespace evenclose
