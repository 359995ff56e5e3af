// viewer/render/view.hpp: a camera's matrices for one picture, with all depth range spent on what is in it.
//
// Everything is taken relative to the camera's target in doubles and only then made float: a press that stands a
// kilometre from the origin is drawn as sharply as one on it.
#pragma once

#include "viewer/render/frame.hpp"

#include <glm/mat4x4.hpp>

#include <optional>

namespace evenclose {

/// Right-handed axes of the eye: right, up, and backward (towards the viewer).
struct EyeAxes {
    Vec3 right{1.0, 0.0, 0.0}, up{0.0, 1.0, 0.0}, backward{0.0, 0.0, 1.0};
};
/// Needs: finite eye and target, not at one place. If `up` runs along the sight line, +Y or else +Z stands in for it.
[[nodiscard]] EyeAxes eye_axes(const Camera& camera);

struct View {
    Vec3 origin_mm{0.0}; // the camera's target: all floats are relative to it
    glm::dmat4 to_eye{1.0};
    glm::dmat4 projection{1.0};
    bool parallel = false;

    /// From a body's own frame, taken from `middle_mm` in it, to the eye's.
    [[nodiscard]] glm::mat4 model_to_eye(const Pose& pose, const Vec3& middle_mm) const;
    [[nodiscard]] glm::vec3 from_origin(const Vec3& place_mm) const { return glm::vec3(place_mm - origin_mm); }
    /// A plane as its equation in the eye's frame: a place p is kept where dot(equation, (p, 1)) >= 0.
    [[nodiscard]] glm::vec4 kept_of(const SectionPlane& plane) const;
    [[nodiscard]] glm::mat4 world_to_eye() const { return glm::mat4(to_eye); } // for places made by from_origin
};

/// `reach_mm`: a box that holds all that shall be seen; what is nearer or farther than it is cut off. None when the
/// camera cannot see: eye at its target, an angle out of (0, pi), a number that is not finite, an empty area.
[[nodiscard]] std::optional<View> view_of(const Camera& camera, double aspect, const Box& reach_mm);

/// Where a pixel's middle looks: from `from_mm` along the unit vector `along`.
struct SightLine {
    Vec3 from_mm{0.0}, along{0.0, 1.0, 0.0};
};
/// x, y in pixels from the picture's top left corner; 0.5, 0.5 is the first pixel's middle. Needs: as view_of.
[[nodiscard]] SightLine sight_line(const Camera& camera, int width, int height, double x, double y);
/// The pixel at which a place is seen, as sight_line counts them; none behind the eye.
[[nodiscard]] std::optional<Vec2> pixel_of(const Camera& camera, int width, int height, const Vec3& place_mm);

} // namespace evenclose
