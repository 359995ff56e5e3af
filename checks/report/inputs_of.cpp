#include "checks/report/inputs_of.hpp"

#include "checks/phrase.hpp"
#include "scene/materials/material.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

namespace evenclose {
namespace {

std::string size_words(const Vec2& size_mm, UnitSystem units) {
    return fmt::format("{} × {}", show_length(size_mm.x, units, 1), show_length(size_mm.y, units, 1));
}

/// "left jack and right jack": names whose words are the same share a row.
class Alike {
public:
    void add(const std::string& name, const std::string& words) {
        auto& names = by_words_[words];
        if (names.empty()) {
            order_.push_back(words);
        }
        names.push_back(name);
    }
    void into(InputGroup& group) const {
        for (const std::string& words : order_) {
            group.inputs.push_back({listed(by_words_.at(words)), words, {}});
        }
    }

private:
    std::map<std::string, std::vector<std::string>> by_words_;
    std::vector<std::string> order_;
};

std::string jack_words(const Jack& jack, UnitSystem units) {
    std::string words = fmt::format("{}, rated {}, {} high when down, {} of stroke", name_of(jack.kind),
                                    show_force(jack.rated_load_N, units), show_length(jack.closed_height_mm, units, 1),
                                    show_length(jack.stroke_mm, units, 1));
    const JackThread* thread = nullptr;
    if (const auto* screw = std::get_if<ScrewJack>(&jack.kind)) {
        thread = &screw->thread;
    } else if (const auto* scissor = std::get_if<ScissorJack>(&jack.kind)) {
        thread = &scissor->thread;
    }
    if (thread != nullptr) {
        words += fmt::format(", lead {}, friction {}", show_length(thread->lead_mm, units),
                             thread->friction ? fmt::format("{:.2f}", *thread->friction) : std::string("not given"));
    }
    if (jack.rate_tolerance > 0) {
        words += fmt::format(", rate true to {:.2f} %", 100 * jack.rate_tolerance);
    }
    return words;
}

InputGroup press_group(const Press& press, const Assembly& assembly, UnitSystem units) {
    InputGroup group{"Press: " + press.name, {}};
    std::map<std::string, int> materials;
    for (const Member& member : press.members) {
        ++materials[member.material.empty() ? "no material told" : member.material];
    }
    std::vector<std::string> counted;
    std::transform(materials.begin(), materials.end(), std::back_inserter(counted),
                   [](const auto& entry) { return fmt::format("{} of {}", entry.second, entry.first); });
    if (!counted.empty()) {
        group.inputs.push_back({"members", listed(counted), {}});
    }
    const auto plate = [&](const char* name, const Platen& it) {
        group.inputs.push_back(
            {name,
             it.mesh_file.empty()
                 ? fmt::format("{} × {}, {}", size_words(it.size_mm, units), show_length(it.thickness_mm, units, 1),
                               it.material.empty() ? "no material told" : it.material)
                 : it.mesh_file,
             {}});
    };
    plate("head", press.head);
    plate("platen", press.platen);
    group.inputs.push_back({"daylight, open", show_length(assembly.daylight_mm, units, 1), {}});
    Alike alike;
    for (const Jack& jack : press.jacks) {
        alike.add(jack.name, jack_words(jack, units));
    }
    for (const Drive& drive : press.drives) {
        alike.add(drive.name, fmt::format("drive, true to {:.1f} %", 100 * drive.tolerance));
    }
    for (const ShaftLink& shaft : press.link_shafts) {
        alike.add(shaft.name,
                  fmt::format("link shaft of {} and {}", press.jacks[shaft.from].name, press.jacks[shaft.to].name));
    }
    for (const Guide& guide : press.guides) {
        alike.add(guide.name,
                  fmt::format("guide, post {}, bore {}, {} long", show_length(guide.post_diameter_mm, units),
                              show_length(guide.bore_diameter_mm, units), show_length(guide.length_mm, units, 1)));
    }
    alike.into(group);
    if (press.measured_heights) {
        group.inputs.push_back({"measured heights",
                                fmt::format("{} readings, each true to {}", press.measured_heights->travel_mm.size(),
                                            show_length(press.measured_heights->spread_mm, units)),
                                press.measured_heights->file});
    }
    return group;
}

std::string ply_words(const PlyStack& stack, UnitSystem units) {
    std::vector<std::string> runs;
    for (std::size_t i = 0; i < stack.plies.size();) {
        std::size_t end = i + 1;
        const Ply& ply = stack.plies[i];
        while (end < stack.plies.size() && stack.plies[end].thickness_mm == ply.thickness_mm &&
               stack.plies[end].grain == ply.grain && stack.plies[end].species == ply.species) {
            ++end;
        }
        runs.push_back(fmt::format("{} × {}{}{} {}", end - i, show_length(ply.thickness_mm, units),
                                   ply.species.empty() ? "" : " ", ply.species,
                                   ply.grain == Grain::along ? "along" : "across"));
        i = end;
    }
    return fmt::format("{}", fmt::join(runs, ", "));
}

InputGroup mold_group(const Mold& mold, UnitSystem units) {
    InputGroup group{"Mold: " + mold.name, {}};
    const auto half = [&](const char* name, const MoldHalf& it) {
        const auto* mesh = std::get_if<MeshHalf>(&it.shape);
        std::string words = mesh != nullptr ? mesh->file : std::string("plain block");
        if (it.mesh) {
            const Vec3 size = bounds_of(*it.mesh).size_mm();
            words += fmt::format(", {} × {}", size_words(Vec2(size), units), show_length(size.z, units, 1));
        }
        group.inputs.push_back({name, words, it.unit_note});
    };
    half("lower half", mold.lower);
    half("upper half", mold.upper);
    group.inputs.push_back({"shut height", show_length(mold.closed_shut_height_mm(), units),
                            mold.shut_height_mm ? "stated" : "from the halves as drawn"});
    group.inputs.push_back({"plies, from below", ply_words(mold.stack, units), {}});
    group.inputs.push_back({"glue line", show_length(mold.stack.glue_line_mm, units), {}});
    group.inputs.push_back({"stack, pressed", show_length(mold.stack.pressed_thickness_mm(), units), {}});
    group.inputs.push_back(
        {"glue pressure asked for",
         mold.stack.glue_pressure_MPa ? show_pressure(*mold.stack.glue_pressure_MPa, units) : std::string("not given"),
         mold.stack.glue_pressure_MPa ? "the glue's data sheet, as the mold document states it" : ""});
    return group;
}

InputGroup limit_group(const Setup& setup, UnitSystem units) {
    const Limits by_default;
    InputGroup group{"Limits", {}};
    const auto add = [&](const char* name, double value, double usual, const std::string& words) {
        group.inputs.push_back({name, words, value == usual ? "as by default" : "set-up"});
    };
    const auto length = [&](const char* name, double Limits::*member) {
        add(name, setup.limits.*member, by_default.*member, show_length(setup.limits.*member, units));
    };
    length("running clearance", &Limits::running_clearance_mm);
    length("loading clearance", &Limits::loading_clearance_mm);
    length("stroke reserve", &Limits::stroke_reserve_mm);
    length("level over the deck", &Limits::level_over_deck_mm);
    length("seat flatness", &Limits::seat_flatness_mm);
    length("seat overhang", &Limits::seat_overhang_mm);
    length("cavity tolerance", &Limits::cavity_tolerance_mm);
    add("least draft", setup.limits.least_draft_rad, by_default.least_draft_rad,
        fmt::format("{:.1f}°", setup.limits.least_draft_rad * 180 / std::numbers::pi));
    group.inputs.push_back(
        {"closing force",
         setup.closing_force_N ? show_force(*setup.closing_force_N, units) : std::string("all that the jacks can give"),
         setup.closing_force_N ? "set-up" : "as by default"});
    return group;
}

InputGroup material_group(const Press& press) {
    InputGroup group{"Materials", {}};
    std::set<std::string> words;
    for (const Member& member : press.members) {
        words.insert(member.material);
    }
    words.insert(press.head.material);
    words.insert(press.platen.material);
    words.erase("");
    for (const std::string& word : words) {
        const Material* material = find_material(press.materials, word);
        if (material == nullptr) {
            group.inputs.push_back({word, "not in the table of materials: drawn, but not judged", ""});
            continue;
        }
        std::string value = fmt::format("E {:.0f} MPa, {:.0f} kg/m³", material->E_MPa, material->density_kg_per_m3);
        if (material->timber) {
            value += fmt::format(", bending {:.1f} MPa, shear {:.1f} MPa, bearing across {:.1f} MPa (before factors)",
                                 material->timber->bending_MPa, material->timber->shear_MPa,
                                 material->timber->bearing_across_MPa);
        } else if (!material->yield.empty()) {
            value += fmt::format(", yields at {:.0f} MPa", material->yield.front().yield_MPa);
        }
        group.inputs.push_back(
            {material->name == word ? word : fmt::format("{} (as {})", word, material->name), value, material->source});
    }
    return group;
}

} // namespace

std::vector<InputGroup> inputs_of(const Setup& setup, const Assembly& assembly, UnitSystem units) {
    std::vector<InputGroup> groups{press_group(*setup.press, assembly, units)};
    std::set<const Mold*> known;
    for (const Opening& opening : setup.openings) {
        if (opening.mold && known.insert(opening.mold.get()).second) {
            groups.push_back(mold_group(*opening.mold, units));
        }
    }
    groups.push_back(limit_group(setup, units));
    if (InputGroup materials = material_group(*setup.press); !materials.inputs.empty()) {
        groups.push_back(std::move(materials));
    }
    return groups;
}

} // namespace evenclose
