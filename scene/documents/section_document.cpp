#include "scene/documents/press_document.hpp"

#include "scene/press/built_up.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace evenclose {
namespace {

/// A key that means something only beside another.
void only_beside(ObjectCursor& section, std::string_view key, std::string_view form,
                 std::initializer_list<std::string_view> forms) {
    if (!form.empty() && section.has(key) && std::find(forms.begin(), forms.end(), form) == forms.end()) {
        section.refuse(key, fmt::format("does not go with \"{}\"", form),
                       fmt::format("it belongs to \"{}\"", *forms.begin()));
    }
}

AngleSection read_angle(ObjectCursor& section) {
    const auto size = section.lengths_mm("angle", {"width", "depth", "thickness"}, kPositive);
    const AngleSection angle{size[0], size[1], size[2], section.length_mm("root_radius", kZeroOrMore, 0.0),
                             section.length_mm("toe_radius", kZeroOrMore, 0.0)};
    const double shorter = std::min(angle.width_mm, angle.depth_mm);
    if (angle.thickness_mm >= shorter) {
        section.refuse_item("angle", 2, "is too thick", "the thickness must be less than either leg");
    } else if (angle.toe_radius_mm > angle.thickness_mm) {
        section.refuse("toe_radius", "is too round", "give at most the thickness");
    } else if (angle.thickness_mm + angle.root_radius_mm + angle.toe_radius_mm > shorter) {
        section.refuse(section.has("root_radius") ? "root_radius" : "toe_radius", "does not fit",
                       "thickness, root and toe radius together must not be more than the shorter leg");
    }
    return angle;
}

TubeSection read_tube(ObjectCursor& section) {
    const auto size = section.lengths_mm("tube", {"width", "depth", "wall"}, kPositive);
    const TubeSection tube{size[0], size[1], size[2], section.length_mm("corner_radius", kZeroOrMore, 0.0)};
    const double smaller = std::min(tube.width_mm, tube.depth_mm);
    if (2 * tube.wall_mm >= smaller) {
        section.refuse_item("tube", 2, "is too thick a wall", "it must be less than half of width and depth");
    }
    if (2 * tube.corner_radius_mm > smaller) {
        section.refuse("corner_radius", "is too round", "give at most half of width and depth");
    }
    return tube;
}

PipeSection read_pipe(ObjectCursor& section) {
    const auto size = section.lengths_mm("pipe", {"outside diameter", "wall"}, kPositive);
    if (2 * size[1] > size[0]) {
        section.refuse_item("pipe", 1, "is too thick a wall",
                            "it can be at most half the diameter; a solid bar is { \"rod\": diameter }");
    }
    return {size[0], size[1]};
}

/// One that is neither a mesh nor built up.
Section read_plain(ObjectCursor& section, std::string_view form) {
    only_beside(section, "root_radius", form, {"angle"});
    only_beside(section, "toe_radius", form, {"angle"});
    only_beside(section, "corner_radius", form, {"tube"});
    if (form == "timber") {
        const auto size = section.lengths_mm("timber", {"width", "depth"}, kPositive);
        return TimberSection{size[0], size[1]};
    }
    if (form == "angle") {
        return read_angle(section);
    }
    if (form == "tube") {
        return read_tube(section);
    }
    if (form == "pipe") {
        return read_pipe(section);
    }
    if (form == "rod") {
        const double diameter = section.length_mm("rod", kPositive);
        return PipeSection{diameter, 0.5 * diameter};
    }
    if (form == "plate") {
        const auto size = section.lengths_mm("plate", {"width", "thickness"}, kPositive);
        return PlateSection{size[0], size[1]};
    }
    return TimberSection{};
}

BuiltUpSection read_built_up(ObjectCursor& section, std::string_view form) {
    std::vector<BuiltUpPart> parts;
    for (ObjectCursor& object : section.objects(form, "part", 2, "two parts or more")) {
        const std::string_view part = object.one_of({"timber", "angle", "tube", "pipe", "rod", "plate"});
        parts.push_back({read_plain(object, part), Vec2{0.0}, object.text("material", "")});
    }
    return form == "stacked" ? stacked(std::move(parts)) : side_by_side(std::move(parts));
}

} // namespace

Section read_section(DocumentSource& source, ObjectCursor section, MeshShelf& shelf) {
    const std::string_view form =
        section.one_of({"timber", "angle", "tube", "pipe", "rod", "plate", "mesh", "side_by_side", "stacked"});
    only_beside(section, "unit", form, {"mesh"});
    if (form == "side_by_side" || form == "stacked") {
        return read_built_up(section, form);
    }
    if (form == "mesh") {
        NamedMesh mesh = read_named_mesh(source, section, "mesh", "unit", shelf);
        return MeshSection{std::move(mesh.file), std::move(mesh.unit), std::move(mesh.mesh)};
    }
    return read_plain(section, form);
}

} // namespace evenclose
