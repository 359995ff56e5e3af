#include "checks/clearance/spans.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// More slices than this to one piece of travel tell a shop nothing; the bounds stay true, only wider.
constexpr double kMostSlices = 100'000;

/// Where two lines cross, as a share; outside 0 to 1 (or not a number) when they do not.
double crossing(const LinearBounds::Line& a, const LinearBounds::Line& b) {
    const double before = a.at_from - b.at_from;
    return before / (before - (a.at_to - b.at_to));
}

} // namespace

Extremes extremes_of(const LinearBounds& bounds, double from_share, double to_share) {
    const double kinks[2] = {crossing(bounds.lower[0], bounds.lower[1]), crossing(bounds.upper[0], bounds.upper[1])};
    Extremes extremes{1e300, -1e300, -1e300};
    const auto look = [&](double share) {
        const double lower = bounds.lower_at(share);
        const double upper = bounds.upper_at(share);
        extremes.lower = std::min(extremes.lower, lower);
        extremes.upper = std::max(extremes.upper, upper);
        extremes.gap = std::max(extremes.gap, upper - lower);
    };
    look(from_share);
    look(to_share);
    for (const double kink : kinks) {
        if (kink > from_share && kink < to_share) {
            look(kink);
        }
    }
    return extremes;
}

void append_spans(std::vector<ClearanceSpan>& spans, const LinearBounds& bounds, double interest_mm,
                  double tightness_mm) {
    const Extremes whole = extremes_of(bounds, 0, 1);
    const double length = (bounds.to - bounds.from).mm;
    double slices = 1;
    if (whole.lower < interest_mm && whole.upper - whole.lower > tightness_mm) {
        // What the gap leaves of the tightness is spent on the change along the slice, at least a tenth of it.
        const double spare = std::max(tightness_mm - whole.gap, 0.1 * tightness_mm);
        double steepest = 0;
        for (const LinearBounds::Line& line : {bounds.lower[0], bounds.lower[1], bounds.upper[0], bounds.upper[1]}) {
            steepest = std::max(steepest, std::abs(line.at_to - line.at_from));
        }
        slices = std::clamp(std::ceil(steepest / (0.5 * spare)), 1.0, kMostSlices);
    }
    const auto count = static_cast<int>(slices);
    for (int i = 0; i < count; ++i) {
        const double from_share = i / slices;
        const double to_share = i + 1 == count ? 1.0 : (i + 1) / slices;
        const Extremes slice = extremes_of(bounds, from_share, to_share);
        ClearanceSpan span{i == 0 ? bounds.from : Travel{bounds.from.mm + from_share * length},
                           i + 1 == count ? bounds.to : Travel{bounds.from.mm + to_share * length},
                           std::max(0.0, slice.lower), std::max(0.0, slice.upper)};
        if (!spans.empty()) {
            ClearanceSpan& last = spans.back();
            span.from = last.to;
            const double lower = std::min(last.lower_mm, span.lower_mm);
            const double upper = std::max(last.upper_mm, span.upper_mm);
            const bool both_far = last.lower_mm >= interest_mm && span.lower_mm >= interest_mm;
            const bool both_zero = last.upper_mm == 0.0 && span.upper_mm == 0.0;
            const bool one_zero = (last.lower_mm == 0.0) != (span.lower_mm == 0.0);
            if (both_far || both_zero || (!one_zero && upper - lower <= tightness_mm)) {
                last = {last.from, span.to, lower, upper};
                continue;
            }
        }
        spans.push_back(span);
    }
}

} // namespace evenclose
