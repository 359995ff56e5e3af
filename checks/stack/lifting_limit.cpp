#include "checks/stack/lifting_limit.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {

double lifting_limit_kg(double hands_above_floor_mm, double arms_out_mm) {
    if (hands_above_floor_mm > kHighestLift_mm) {
        return 0;
    }
    constexpr double kLoad_kg = 23;
    constexpr double kNear_mm = 250; // nearer than this counts as this
    constexpr double kKnuckles_mm = 750;
    const double out = std::min(1.0, kNear_mm / arms_out_mm);
    return kLoad_kg * out * (1 - 0.0003 * std::abs(hands_above_floor_mm - kKnuckles_mm));
}

} // namespace evenclose
