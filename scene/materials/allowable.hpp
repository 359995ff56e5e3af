// scene/materials/allowable.hpp: from reference strengths to what may be planned with (NDS table 4.3.1; ASTM D245).
#pragma once

#include "scene/materials/material.hpp"

namespace evenclose {

/// Load duration factor C_D of the NDS, by how long the load stands in all over the frame's life. It acts on bending,
/// tension, shear and compression along the grain; not on E and not on bearing across the grain.
enum class LoadDuration { permanent, ten_years, two_months, seven_days, ten_minutes, impact };
[[nodiscard]] double duration_factor(LoadDuration duration); // 0.9, 1.0, 1.15, 1.25, 1.6, 2.0

/// Size factor C_F of dimension lumber (No. 2 and better, bending), 38 mm and 89 mm thick, by its depth: 1.5 up to 4 in
/// nominal, 1.3 at 6 in, 1.2, 1.1, 1.0 at 12 in, 0.9 beyond (NDS Supplement 4A). In between, that of the deeper size.
[[nodiscard]] double size_factor(double depth_mm);

/// F_b' = F_b C_D C_F. `depth_mm` is that along which it bends.
[[nodiscard]] double bending_allowable_MPa(const TimberStress& timber, double depth_mm, LoadDuration duration);

/// Bearing area factor C_b of the NDS (3.10.4) for a seat that presses across the grain: fibres beside a short seat help,
/// as if it were 3/8 in longer. 1 from 6 in on, and where the seat lies nearer than 3 in to the timber's end.
/// Needs: length along the grain above 0.
[[nodiscard]] double bearing_area_factor(double length_along_grain_mm, double from_end_mm);

/// Bearing stress that may stand between along (0) and across (pi/2) the grain, after Hankinson: Fc Fa / (Fc sin2 + Fa
/// cos2) (NDS 3.10.3).
[[nodiscard]] double hankinson_MPa(double along_MPa, double across_MPa, double angle_to_grain_rad);

/// What a timber seat may bear across the grain, N. No duration factor: it is a limit of crushing, not of strength.
[[nodiscard]] double bearing_allowable_N(const TimberStress& timber, double length_along_grain_mm, double width_mm,
                                         double from_end_mm);

/// Property at another moisture content (Wood Handbook, eq. 5-3): P12 (P12 / Pg)^((12 - M) / (Mp - 12)).
/// Needs: M from 0 to Mp (above it the green value holds), Mp above 12.
[[nodiscard]] double at_moisture(double at_12, double green, double moisture_percent, double intersection_percent);

/// Clear wood to a No. 2 grade after ASTM D245: 5 % exclusion (coefficients of variation 16, 14 %, Wood Handbook
/// sec. 5), the standard's divisors for duration and safety (softwood / hardwood: bending, tension, shear 2.1 / 2.3,
/// compression 1.9 / 2.1, across 1.67) and its strength ratio for the grade (bending 0.45, shear 0.5, compression 0.52;
/// tension 0.55 of bending). Divisors and ratios from memory. Values at 12 % are used, so dry indoor timber only.
[[nodiscard]] TimberStress graded(const ClearWood& wood);

} // namespace evenclose
