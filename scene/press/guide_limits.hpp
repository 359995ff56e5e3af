// scene/press/guide_limits.hpp: how far a sleeve may tilt on its post, and at which lever it binds (REFERENCE 4).
#pragma once

#include "scene/press/press.hpp"

namespace evenclose {

/// The tilt at which a sleeve of bore D and length L touches a post of diameter d at both ends: the exact root of
/// D cos(phi) - L sin(phi) = d; about (D - d) / L.
/// Needs: bore >= post > 0, length > 0.
[[nodiscard]] double tilt_until_contact_rad(double bore_mm, double post_mm, double length_mm);

/// The lever e at which friction alone holds a guide of length L: e = L / (2 mu). At a longer one it binds whatever the
/// load. Mu 0.25 gives the "two to one" rule; at any other mu it is not two to one.
/// Needs: length > 0, friction > 0.
[[nodiscard]] double binding_lever_mm(double length_mm, double friction);

/// How much of the sleeve is on its post when the platen's working face stands at `face_z_mm`; 0 when it is off it.
[[nodiscard]] double engaged_length_mm(const Guide& guide, double face_z_mm);

} // namespace evenclose
