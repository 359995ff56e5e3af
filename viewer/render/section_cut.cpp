#include "viewer/render/section_cut.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

namespace evenclose {

const char* name_of(Axis axis) { return axis == Axis::x ? "X" : axis == Axis::y ? "Y" : "Z"; }

Vec3 along(Axis axis) {
    Vec3 unit{0.0};
    unit[static_cast<int>(axis)] = 1.0;
    return unit;
}

double of(const Vec3& place_mm, Axis axis) { return place_mm[static_cast<int>(axis)]; }

SectionPlane plane_of(const SectionCut& cut) {
    const double side = (cut.axis == Axis::y ? -1.0 : 1.0) * (cut.flipped ? -1.0 : 1.0);
    return {cut.at_mm * along(cut.axis), side * along(cut.axis)};
}

bool seen_from(const SectionCut& cut, const Camera& camera) {
    const SectionPlane plane = plane_of(cut);
    const Vec3 to_eye = camera.eye_mm - (camera.parallel ? camera.target_mm : plane.through_mm);
    return glm::dot(to_eye, plane.towards) > 0;
}

std::array<Vec3, 4> section_outline(const SectionCut& cut, const Box& reach_mm) {
    const Vec3 room = 0.03 * reach_mm.size_mm() + Vec3{10.0};
    const Vec3 low = reach_mm.low_mm - room;
    const Vec3 high = reach_mm.high_mm + room;
    const int axis = static_cast<int>(cut.axis);
    const int u = (axis + 1) % 3;
    const int v = (axis + 2) % 3;
    std::array<Vec3, 4> corners{};
    for (int i = 0; i < 4; ++i) {
        Vec3& corner = corners[static_cast<std::size_t>(i)];
        corner[axis] = cut.at_mm;
        corner[u] = i == 1 || i == 2 ? high[u] : low[u];
        corner[v] = i >= 2 ? high[v] : low[v];
    }
    return corners;
}

Read<SectionCut> read_section(std::string_view text) {
    const auto no = [&](const std::string& why) {
        return Unreadable{fmt::format("\"{}\" is no section: {}; write x=120, y=-40 mm or z=31 1/2 in", text, why)};
    };
    const std::size_t equals = text.find('=');
    if (equals == std::string_view::npos) {
        return no("there is no \"=\" in it");
    }
    std::string_view axis = text.substr(0, equals);
    while (axis.ends_with(' ')) {
        axis.remove_suffix(1);
    }
    while (axis.starts_with(' ')) {
        axis.remove_prefix(1);
    }
    SectionCut cut;
    if (axis == "x" || axis == "X") {
        cut.axis = Axis::x;
    } else if (axis == "y" || axis == "Y") {
        cut.axis = Axis::y;
    } else if (axis == "z" || axis == "Z") {
        cut.axis = Axis::z;
    } else {
        return no(fmt::format("the axes are x, y and z, not \"{}\"", axis));
    }
    const Read<double> at = read_length_mm(text.substr(equals + 1));
    if (const auto* fault = std::get_if<Unreadable>(&at)) {
        return no(fault->why);
    }
    cut.at_mm = std::get<double>(at);
    return cut;
}

} // namespace evenclose
