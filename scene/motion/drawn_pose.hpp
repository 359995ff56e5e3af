// scene/motion/drawn_pose.hpp: where a body is drawn at a travel, and what it looks like there.
//
// The platen and what lies on it take the slope that is asked for, as great as it is drawn. The jacks beneath follow: each
// head stands where the drawn platen is, so that a tilt is seen in the heights of the heads as well; links fold to that.
// Screws and shafts turn as the laws of their jacks say, at the nominal rise.
#pragma once

#include "scene/motion/assembly.hpp"

namespace evenclose {

/// How far the head of a body's jack has risen above parked under a platen of this slope.   Needs: body.of_jack.
[[nodiscard]] double head_rise_mm(const Assembly& assembly, const JackPlace& jack, Travel at, Slope platen);

/// Above the floor, where the platen of this slope lies on a head at this place.
[[nodiscard]] double platen_underside_mm(const Assembly& assembly, Vec2 at_mm, Travel at, Slope platen);

/// `platen`: the slope that the platen is drawn with.   Threads: pure, any.
[[nodiscard]] Pose drawn_pose(const Assembly& assembly, const Body& body, Travel at, Slope platen);
/// The same at the nominal slope.
[[nodiscard]] Pose drawn_pose(const Assembly& assembly, const Body& body, Travel at);

/// Its mesh, or that of a hose as far as it is filled. Few meshes, always the same ones.
[[nodiscard]] const SharedMesh& drawn_mesh(const Assembly& assembly, const Body& body, Travel at);

} // namespace evenclose
