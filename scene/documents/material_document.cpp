#include "scene/documents/material_document.hpp"

#include "scene/documents/name_register.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <limits>
#include <string_view>

namespace evenclose {
namespace {

constexpr std::string_view kKinds[] = {"timber", "panel", "steel", "aluminium",
                                       "other"}; // in the order of MaterialKind
constexpr std::string_view kStresses[] = {"bending", "tension", "compression", "bearing", "shear"};

bool wooden(MaterialKind kind) { return kind == MaterialKind::timber || kind == MaterialKind::panel; }

/// By allowable stresses, all of them; or by a yield stress.
void read_strength(ObjectCursor& object, Material& material) {
    const bool stressed =
        std::any_of(std::begin(kStresses), std::end(kStresses), [&](std::string_view key) { return object.has(key); });
    if (object.has("yield") && (stressed || wooden(material.kind))) {
        object.refuse("yield", "does not go with allowable stresses, nor with wood",
                      "a material is told by \"bending\", \"tension\", \"compression\", \"bearing\" and \"shear\", "
                      "or by \"yield\"");
        return;
    }
    if (stressed && material.is_metal()) {
        for (const std::string_view key : kStresses) {
            object.refuse(key, "does not go with a metal", "a metal is told by its \"yield\"");
        }
        return;
    }
    if (stressed || wooden(material.kind)) {
        TimberStress stress;
        stress.bending_MPa = object.pressure_MPa("bending");
        stress.tension_MPa = object.pressure_MPa("tension");
        stress.compression_MPa = object.pressure_MPa("compression");
        stress.bearing_across_MPa = object.pressure_MPa("bearing");
        stress.shear_MPa = object.pressure_MPa("shear");
        material.timber = stress;
        return;
    }
    material.yield = {{std::numeric_limits<double>::infinity(), object.pressure_MPa("yield")}};
}

Material read_material(ObjectCursor& object) {
    Material material;
    material.name = object.text("name");
    material.kind = static_cast<MaterialKind>(object.choice("kind", kKinds));
    material.E_MPa = object.pressure_MPa("E");
    // E across the grain: 0.05 E, G: E / 16 (Wood Handbook, table 5-1: most softwoods); metal: Poisson's ratio 0.3.
    material.E_across_MPa = object.has("E_across")  ? object.pressure_MPa("E_across")
                            : wooden(material.kind) ? 0.05 * material.E_MPa
                                                    : material.E_MPa;
    material.G_MPa = object.has("G")         ? object.pressure_MPa("G")
                     : wooden(material.kind) ? material.E_MPa / 16
                                             : material.E_MPa / 2.6;
    material.density_kg_per_m3 = object.density_kg_per_m3("density");
    read_strength(object, material);
    material.source = object.text("source");
    if (!object.yes_no("replaces", false) && !material.name.empty()) {
        if (const Material* listed = find_material({}, material.name)) {
            object.refuse("name", fmt::format("is a word of the table for {}", listed->name),
                          "give it a name of its own, or say \"replaces\": true");
        }
    }
    return material;
}

} // namespace

std::vector<Material> read_materials(ObjectCursor& document) {
    std::vector<Material> materials;
    NameRegister names;
    for (ObjectCursor& object : document.objects("materials", "material", 0, "the shop's own materials")) {
        materials.push_back(read_material(object));
        names.enter(object, materials.back().name);
    }
    return materials;
}

} // namespace evenclose
