#include "viewer/cli/picture_sight.hpp"

#include "scene/documents/nearest_word.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace evenclose {
namespace {

std::vector<std::string> drawn_bodies(const Assembly& assembly) {
    std::vector<std::string> names;
    for (const Body& body : assembly.bodies) {
        if (body.drawn && body.part != Part::floor) {
            names.push_back(body.name);
        }
    }
    return names;
}

/// The bodies of that name, or those whose name goes on after it: "left jack" are "left jack body", "left jack screw".
std::set<std::string> bodies_called(const std::vector<std::string>& all, const std::string& name) {
    std::set<std::string> found;
    for (const std::string& body : all) {
        if (body == name) {
            return {body};
        }
        if (body.starts_with(name + " ")) {
            found.insert(body);
        }
    }
    return found;
}

} // namespace

Read<Sighted> sighted_of(const PictureCommand& command, const Assembly& assembly) {
    Sighted result;
    const std::vector<std::string> all = drawn_bodies(assembly);
    std::optional<Unreadable> fault;
    const auto take = [&](const char* option, const std::vector<std::string>& names, std::set<std::string>& into) {
        for (const std::string& name : names) {
            const std::set<std::string> found = bodies_called(all, name);
            if (found.empty() && !fault) {
                const std::vector<std::string_view> words(all.begin(), all.end());
                const std::string_view nearest = nearest_word(name, words);
                fault =
                    Unreadable{nearest.empty() ? fmt::format("{} \"{}\": no body is called so; there are {}", option,
                                                             name, fmt::join(all, ", "))
                                               : fmt::format("{} \"{}\": no body is called so; did you mean \"{}\"?",
                                                             option, name, nearest)};
            }
            into.insert(found.begin(), found.end());
        }
    };
    std::set<std::string> only;
    take("--hide", command.hide, result.sight.hidden);
    take("--see-through", command.see_through, result.sight.ghosts);
    take("--only", command.only, only);
    if (!only.empty()) {
        for (const std::string& name : all) {
            if (!only.contains(name) && !result.sight.ghosts.contains(name)) {
                result.sight.hidden.insert(name);
            }
        }
    }
    for (const std::string& name : result.sight.hidden) {
        result.sight.ghosts.erase(name);
    }
    if (!command.section.empty()) {
        const Read<SectionCut> section = read_section(command.section);
        if (const auto* why = std::get_if<Unreadable>(&section); why != nullptr && !fault) {
            fault = Unreadable{"--section: " + why->why};
        } else if (const auto* cut = std::get_if<SectionCut>(&section)) {
            result.section = *cut;
            result.section->flipped = command.flip;
        }
    } else if (command.flip && !fault) {
        fault = Unreadable{"--flip turns a section over; say --section x=120 too"};
    }
    if (fault) {
        return *fault;
    }
    return result;
}

std::string section_words(const SectionCut& section, const Camera& camera) {
    return fmt::format(
        ", cut open across {} at {}{}", name_of(section.axis), show_length(section.at_mm, UnitSystem::metric),
        seen_from(section, camera) ? "" : " (its faces are turned away from this view; --flip turns it over)");
}

std::string also_unseen(const BodySight& sight) {
    std::string words;
    if (!sight.hidden.empty()) {
        words += fmt::format(", {} {} hidden", sight.hidden.size(), sight.hidden.size() == 1 ? "body" : "bodies");
    }
    if (!sight.ghosts.empty()) {
        words += fmt::format(", {} seen through", sight.ghosts.size());
    }
    return words;
}

} // namespace evenclose
