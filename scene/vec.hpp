// scene/vec.hpp: points, directions and rigid poses, in millimetres, doubles throughout.
//
// Axes (DESIGN: right-handed): Z up along the stroke, X along the deck, Y front to back, the operator stands at -Y.
// The world's origin is on the floor, below the middle of the press.
#pragma once

#include <glm/gtc/quaternion.hpp>
#include <glm/mat3x3.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

namespace evenclose {

using Vec2 = glm::dvec2;
using Vec3 = glm::dvec3;
using Mat3 = glm::dmat3;
using Quat = glm::dquat;

/// A rigid placement: world = rotation * local + translation. The rotation is a proper one (no mirror).
struct Pose {
    Mat3 rotation{1.0};
    Vec3 translation_mm{0.0};

    [[nodiscard]] Vec3 apply(const Vec3& local_mm) const { return rotation * local_mm + translation_mm; }
    [[nodiscard]] Vec3 turn(const Vec3& direction) const { return rotation * direction; }
};

/// first is applied first: (then * first).apply(p) == then.apply(first.apply(p)).
[[nodiscard]] inline Pose operator*(const Pose& then, const Pose& first) {
    return {then.rotation * first.rotation, then.rotation * first.translation_mm + then.translation_mm};
}

[[nodiscard]] inline Pose inverse(const Pose& pose) {
    const Mat3 back = glm::transpose(pose.rotation);
    return {back, -(back * pose.translation_mm)};
}

/// An axis-aligned box; empty (low > high) until something is added.
struct Box {
    Vec3 low_mm{1e300};
    Vec3 high_mm{-1e300};

    void add(const Vec3& point_mm) {
        low_mm = glm::min(low_mm, point_mm);
        high_mm = glm::max(high_mm, point_mm);
    }
    void add(const Box& other) {
        low_mm = glm::min(low_mm, other.low_mm);
        high_mm = glm::max(high_mm, other.high_mm);
    }
    [[nodiscard]] bool empty() const { return low_mm.x > high_mm.x; }
    [[nodiscard]] Vec3 size_mm() const { return empty() ? Vec3{0.0} : high_mm - low_mm; }
    [[nodiscard]] Vec3 centre_mm() const { return empty() ? Vec3{0.0} : 0.5 * (low_mm + high_mm); }
};

} // namespace evenclose
