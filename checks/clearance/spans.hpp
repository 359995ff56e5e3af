// checks/clearance/spans.hpp: turns bounds that are linear in travel into the plain spans of the answer.
#pragma once

#include "checks/clearance/sweep.hpp"

#include <algorithm>
#include <vector>

namespace evenclose {

/// Bounds of the distance between two places of the stroke: for a share x of the way (0 to 1) it lies between the
/// greatest of the `lower` lines and the least of the `upper` lines.
struct LinearBounds {
    Travel from, to;
    struct Line {
        double at_from = 0, at_to = 0;
        [[nodiscard]] double at(double share) const { return at_from + share * (at_to - at_from); }
    };
    Line lower[2], upper[2];

    [[nodiscard]] double lower_at(double share) const { return std::max(lower[0].at(share), lower[1].at(share)); }
    [[nodiscard]] double upper_at(double share) const { return std::min(upper[0].at(share), upper[1].at(share)); }
};

/// Least of the lower bound, greatest of the upper bound, and the greatest gap between them.
struct Extremes {
    double lower = 0, upper = 0, gap = 0;
};
[[nodiscard]] Extremes extremes_of(const LinearBounds& bounds, double from_share, double to_share);

/// Appends spans that cover the bounds, each with upper - lower within `tightness_mm` where the bounds allow it and the
/// distance may be below `interest_mm`; joins a span to the one before it while that stays so. Lower is never negative.
void append_spans(std::vector<ClearanceSpan>& spans, const LinearBounds& bounds, double interest_mm,
                  double tightness_mm);

} // namespace evenclose
