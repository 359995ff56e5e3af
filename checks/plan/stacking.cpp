#include "checks/plan/stacking.hpp"

#include <algorithm>
#include <cassert>

namespace evenclose {

double daylight_needed_mm(const std::vector<StackedMold>& molds, const StackLimits& limits) {
    assert(!molds.empty());
    double sum = static_cast<double>(molds.size() - 1) * limits.platen_mm + limits.tilt_mm;
    for (const StackedMold& mold : molds) {
        sum += mold.sandwich_mm + limits.loading_clearance_mm;
    }
    return sum;
}

double closed_height_mm(const std::vector<StackedMold>& molds, const StackLimits& limits) {
    assert(!molds.empty());
    double sum = static_cast<double>(molds.size() - 1) * limits.platen_mm;
    for (const StackedMold& mold : molds) {
        sum += mold.shut_mm;
    }
    return sum;
}

PressChange least_change(const std::vector<StackedMold>& molds, const PressRoom& press, const StackLimits& limits) {
    const double needed = daylight_needed_mm(molds, limits);
    const double closed = closed_height_mm(molds, limits);
    const double as_it_stands =
        std::max(0.0, 0.5 * (press.daylight_mm - closed + limits.stroke_reserve_mm - press.stroke_mm));
    if (as_it_stands <= press.daylight_mm - needed) {
        return {0, as_it_stands};
    }
    const double longer = std::max(0.0, needed - closed + limits.stroke_reserve_mm - press.stroke_mm);
    return {std::max(0.0, needed - press.daylight_mm + longer), longer};
}

} // namespace evenclose
