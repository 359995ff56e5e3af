// checks/stack/lifting_limit.hpp: how heavy a mold may be to be lifted by hand into an opening at a height.
//
// Recommended weight limit of the revised NIOSH lifting equation (Applications Manual, DHHS (NIOSH) 94-110):
// 23 kg x (250 mm / H) x (1 - 0.003 |V - 750 mm| / 10 mm), V the height of the hands, none above 1750 mm; a lift now and then,
// straight ahead, with a fair grip. A load of up to the limit is fit for nearly all healthy adults, of three times it
// for few.
#pragma once

namespace evenclose {

inline constexpr double kHighestLift_mm = 1750;
// Hands to ankles while a mold is brought over the platen's edge to its middle (common practice, no source).
inline constexpr double kArmsOut_mm = 400;

/// kg; 0 above kHighestLift_mm.   Needs: height of 0 or more.
[[nodiscard]] double lifting_limit_kg(double hands_above_floor_mm, double arms_out_mm = kArmsOut_mm);

} // namespace evenclose
