// scene/press/fittings_solid.hpp: head, platen, jacks and guides as solids in the world, at travel 0.
//
// All closed and outward; round parts as in section_outline.hpp.   Threads: pure, any.
#pragma once

#include "scene/press/press.hpp"

namespace evenclose {

/// The plate with its underside at `underside_z_mm`. Needs: sizes above 0 (else std::invalid_argument), no mesh.
[[nodiscard]] TriangleMesh plate_solid(const Platen& platen, double underside_z_mm);

/// The body: a plain cylinder from the foot to where the head sits when screwed right down. The bore in it is not
/// drawn: the screw runs in it by design.
[[nodiscard]] TriangleMesh jack_body_solid(const Jack& jack, const ScrewJack& screw);

/// The screw with its head, at the parked height. When screwed right down the screw ends above the jack's own floor, 30 mm
/// above the foot (a quarter of the body's height in a low jack).
[[nodiscard]] TriangleMesh jack_screw_solid(const Jack& jack, const ScrewJack& screw);

/// Needs: the post's ends apart, from below to.
[[nodiscard]] TriangleMesh guide_post_solid(const Guide& guide);

/// The sleeve where it is when the platen's working face is at `face_z_mm`. Needs: bore less than outside diameter.
[[nodiscard]] TriangleMesh guide_sleeve_solid(const Guide& guide, double face_z_mm);

} // namespace evenclose
