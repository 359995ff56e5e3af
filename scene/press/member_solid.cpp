#include "scene/press/member_solid.hpp"

#include "scene/press/built_up.hpp"
#include "scene/press/prism.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <stdexcept>

namespace evenclose {
namespace {

// Sine of the lean below which a member counts as vertical: rounding of typed coordinates, not a builder's error.
constexpr double kVerticalLean = 1e-6;

Mat3 turn_about_z(double angle) {
    const double c = std::cos(angle);
    const double s = std::sin(angle);
    return Mat3{Vec3{c, s, 0}, Vec3{-s, c, 0}, Vec3{0, 0, 1}}; // columns
}

} // namespace

Pose frame_of(const Member& member) {
    const Vec3 along = member.b_mm - member.a_mm;
    const double length = glm::length(along);
    if (!(length > 0) || !std::isfinite(length)) {
        throw std::invalid_argument(fmt::format("member \"{}\": A and B must be apart", member.name));
    }
    const Vec3 axis = along / length;
    const bool vertical = std::hypot(axis.x, axis.y) < kVerticalLean;
    const Vec3 up = vertical ? Vec3{0, 1, 0} : Vec3{0, 0, 1};
    const Vec3 v = glm::normalize(up - glm::dot(up, axis) * axis);
    const Mat3 level{glm::cross(v, axis), v, axis}; // columns u, v, axis
    return {level * turn_about_z(member.roll_rad), member.a_mm};
}

TriangleMesh solid_of(const Member& member) {
    if (const auto* section = std::get_if<MeshSection>(&member.section)) {
        if (section->mesh == nullptr) {
            throw std::invalid_argument(fmt::format("member \"{}\": its mesh was not read", member.name));
        }
        return placed(*section->mesh, {turn_about_z(member.roll_rad), member.a_mm});
    }
    const Pose frame = frame_of(member);
    try {
        TriangleMesh whole;
        for (const BuiltUpPart& part : parts_of(member.section)) {
            const TriangleMesh solid = prism(outline_of(part.section), glm::length(member.b_mm - member.a_mm));
            append(whole, placed(solid, frame * Pose{Mat3{1.0}, Vec3{part.at_mm, 0}}));
        }
        return whole;
    } catch (const std::invalid_argument& fault) {
        throw std::invalid_argument(fmt::format("member \"{}\": {}", member.name, fault.what()));
    }
}

} // namespace evenclose
