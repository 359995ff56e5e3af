// checks/cavity/gap_summary.hpp: what a gap map comes to: least, greatest, percentiles, how much is out of tolerance.
//
// Every sample counts by the area of the lower face that it stands for.
#pragma once

#include "checks/cavity/gap_map.hpp"

#include <array>

namespace evenclose {

struct GapSummary {
    double faced_mm2 = 0;                 // area with a measured gap
    double unseen_mm2 = 0;                // area of the lower face without one, and of the outline without a lower face
    double least_mm = 0, greatest_mm = 0; // excess; the percentiles too
    Vec3 least_at_mm{0.0}, greatest_at_mm{0.0};
    std::array<double, 5> percentile_mm{}; // 1, 5, 50, 95, 99
    double mean_mm = 0;
    double spread_mm = 0;                              // root mean square about the mean
    double loose_mm2 = 0, crushed_mm2 = 0;             // area over and under the tolerance
    Vec3 loose_middle_mm{0.0}, crushed_middle_mm{0.0}; // centroids of those areas
};

enum class Along { normal, stroke };

/// Needs: tolerance >= 0.   Threads: pure, any. With nothing faced everything is 0.
[[nodiscard]] GapSummary summarise(const GapMap& map, double tolerance_mm, Along along = Along::normal);

} // namespace evenclose
