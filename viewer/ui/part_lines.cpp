#include "viewer/ui/part_lines.hpp"

#include "checks/frame/frame_check.hpp"
#include "checks/phrase.hpp"
#include "scene/press/built_up.hpp"
#include "viewer/ui/words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace evenclose {
namespace {

std::string moment_words(double Nmm, UnitSystem units) {
    constexpr double kLbfFt_Nmm = 1355.8179483314; // international foot and pound
    const double value = units == UnitSystem::metric ? Nmm / 1000 : Nmm / kLbfFt_Nmm;
    return fmt::format("{:.{}f} {}", value,
                       value < 10    ? 2
                       : value < 100 ? 1
                                     : 0,
                       units == UnitSystem::metric ? "N·m" : "lbf·ft");
}

} // namespace

std::vector<PartLine> part_lines(const App& app, const std::string& name) {
    const Press& press = *app.setup->press;
    std::vector<PartLine> lines;
    const auto member =
        std::find_if(press.members.begin(), press.members.end(), [&](const Member& each) { return each.name == name; });
    if (member != press.members.end()) {
        lines.emplace_back("section", words_of(member->section));
        const std::vector<BuiltUpPart> parts = parts_of(member->section);
        std::set<std::string> words;
        for (const BuiltUpPart& part : parts) {
            words.insert(material_of(part, *member));
        }
        lines.emplace_back("material", words.empty() || *words.begin() == ""
                                           ? std::string("not told")
                                           : fmt::format("{}", fmt::join(words, ", ")));
    } else {
        const Platen& plate = name == "head" ? press.head : press.platen;
        lines.emplace_back("size", show_length(plate.size_mm.x, app.units, 0) + " × " +
                                       show_length(plate.size_mm.y, app.units, 0));
        lines.emplace_back("thickness", show_length(plate.thickness_mm, app.units));
        lines.emplace_back("material", plate.material.empty() ? std::string("not told") : plate.material);
    }
    if (!app.results || !app.results->frame || !app.results->frame->computed()) {
        lines.emplace_back("forces", app.busy() ? "being computed" : "frame not computed");
        return lines;
    }
    const FrameMeasure& frame = *app.results->frame;
    lines.emplace_back("force on the deck", show_force(frame.force_N, app.units));
    if (member != press.members.end()) {
        const FrameMember& part = frame.stood.model.members[static_cast<std::size_t>(member - press.members.begin())];
        if (part.beams.empty()) {
            lines.emplace_back("forces", "a mesh: none computed");
            return lines;
        }
        const MemberForces forces = forces_of(part, frame.stood);
        lines.emplace_back(forces.N_N >= 0 ? "axial N, pulls" : "axial N, presses",
                           show_force(std::abs(forces.N_N), app.units));
        lines.emplace_back("shear V", show_force(forces.V_N, app.units));
        lines.emplace_back("bending M", moment_words(forces.M_Nmm, app.units));
        lines.emplace_back("torsion T", moment_words(forces.T_Nmm, app.units));
    }
    const auto use =
        std::find_if(frame.uses.begin(), frame.uses.end(), [&](const PartUse& u) { return u.part == name; });
    if (use == frame.uses.end()) {
        return lines;
    }
    lines.emplace_back("stress", show_pressure(use->stress_MPa, app.units));
    lines.emplace_back("allowed", use->known ? show_pressure(use->allowed_MPa, app.units) : std::string("not known"));
    if (use->known) {
        lines.emplace_back("uses of it", fmt::format("{:.0f} %", 100 * use->use));
    }
    return lines;
}

std::string part_note(const App& app, const std::string& name) {
    if (!app.results || !app.results->frame) {
        return {};
    }
    const std::vector<PartUse>& uses = app.results->frame->uses;
    const auto use = std::find_if(uses.begin(), uses.end(), [&](const PartUse& u) { return u.part == name; });
    return use == uses.end() ? std::string{} : fmt::format("{}. Allowed: {}.", shown(use->by, app.units), use->source);
}

} // namespace evenclose
