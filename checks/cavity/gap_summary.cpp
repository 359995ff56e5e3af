#include "checks/cavity/gap_summary.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>
#include <vector>

namespace evenclose {

GapSummary summarise(const GapMap& map, double tolerance_mm, Along along) {
    GapSummary summary;
    std::vector<std::pair<double, double>> by_excess; // excess, area
    double sum = 0;
    for (std::size_t i = 0; i < map.samples.size(); ++i) {
        const GapSample& sample = map.samples[i];
        const auto area = static_cast<double>(sample.area_mm2);
        if (along == Along::normal ? sample.seen != Seen::faced : !sample.above) {
            summary.unseen_mm2 += area;
            continue;
        }
        const double excess = along == Along::normal ? map.excess_mm(i) : map.stroke_excess_mm(i);
        if (by_excess.empty() || excess < summary.least_mm) {
            summary.least_mm = excess;
            summary.least_at_mm = sample.at_mm;
        }
        if (by_excess.empty() || excess > summary.greatest_mm) {
            summary.greatest_mm = excess;
            summary.greatest_at_mm = sample.at_mm;
        }
        by_excess.emplace_back(excess, area);
        summary.faced_mm2 += area;
        sum += excess * area;
        if (excess > tolerance_mm) {
            summary.loose_mm2 += area;
            summary.loose_middle_mm += area * sample.at_mm;
        } else if (excess < -tolerance_mm) {
            summary.crushed_mm2 += area;
            summary.crushed_middle_mm += area * sample.at_mm;
        }
    }
    if (!(summary.faced_mm2 > 0)) {
        return summary;
    }
    summary.mean_mm = sum / summary.faced_mm2;
    if (summary.loose_mm2 > 0) {
        summary.loose_middle_mm /= summary.loose_mm2;
    }
    if (summary.crushed_mm2 > 0) {
        summary.crushed_middle_mm /= summary.crushed_mm2;
    }
    double squares = 0;
    for (const auto& [excess, area] : by_excess) {
        squares += area * (excess - summary.mean_mm) * (excess - summary.mean_mm);
    }
    summary.spread_mm = std::sqrt(squares / summary.faced_mm2);

    std::sort(by_excess.begin(), by_excess.end());
    constexpr std::array<double, 5> kShares{0.01, 0.05, 0.50, 0.95, 0.99};
    double below = 0;
    std::size_t next = 0;
    for (const auto& [excess, area] : by_excess) {
        below += area;
        while (next < kShares.size() && below >= kShares[next] * summary.faced_mm2) {
            summary.percentile_mm[next++] = excess;
        }
    }
    while (next < kShares.size()) { // rounding of the sum
        summary.percentile_mm[next++] = by_excess.back().first;
    }
    return summary;
}

} // namespace evenclose
