#include "scene/materials/allowable.hpp"

#include <cmath>

namespace evenclose {

double duration_factor(LoadDuration duration) {
    switch (duration) {
    case LoadDuration::permanent:
        return 0.9;
    case LoadDuration::ten_years:
        return 1.0;
    case LoadDuration::two_months:
        return 1.15;
    case LoadDuration::seven_days:
        return 1.25;
    case LoadDuration::ten_minutes:
        return 1.6;
    case LoadDuration::impact:
        return 2.0;
    }
    return 0.9;
}

double size_factor(double depth_mm) {
    // Dressed depths in inches: 3.5, 5.5, 7.25, 9.25, 11.25. Half a millimetre for rounded metric drawings.
    constexpr double kRounding_mm = 0.5;
    constexpr struct {
        double to_in, factor;
    } kSteps[] = {{3.5, 1.5}, {5.5, 1.3}, {7.25, 1.2}, {9.25, 1.1}, {11.25, 1.0}};
    for (const auto& step : kSteps) {
        if (depth_mm <= step.to_in * 25.4 + kRounding_mm) {
            return step.factor;
        }
    }
    return 0.9;
}

double bending_allowable_MPa(const TimberStress& timber, double depth_mm, LoadDuration duration) {
    return timber.bending_MPa * duration_factor(duration) * (timber.sized ? size_factor(depth_mm) : 1.0);
}

double bearing_area_factor(double length_along_grain_mm, double from_end_mm) {
    constexpr double kHelped_mm = 0.375 * 25.4;
    constexpr double kLong_mm = 6 * 25.4;
    constexpr double kNearEnd_mm = 3 * 25.4;
    if (length_along_grain_mm >= kLong_mm || from_end_mm < kNearEnd_mm) {
        return 1.0;
    }
    return (length_along_grain_mm + kHelped_mm) / length_along_grain_mm;
}

double hankinson_MPa(double along_MPa, double across_MPa, double angle_to_grain_rad) {
    const double s = std::sin(angle_to_grain_rad);
    const double c = std::cos(angle_to_grain_rad);
    return along_MPa * across_MPa / (along_MPa * s * s + across_MPa * c * c);
}

double bearing_allowable_N(const TimberStress& timber, double length_along_grain_mm, double width_mm,
                           double from_end_mm) {
    return timber.bearing_across_MPa * bearing_area_factor(length_along_grain_mm, from_end_mm) * length_along_grain_mm *
           width_mm;
}

double at_moisture(double at_12, double green, double moisture_percent, double intersection_percent) {
    if (moisture_percent >= intersection_percent) {
        return green;
    }
    return at_12 * std::pow(at_12 / green, (12 - moisture_percent) / (intersection_percent - 12));
}

TimberStress graded(const ClearWood& wood) {
    constexpr double kFifthPercentile = 1.645; // standard deviations below the mean
    constexpr double kBendingSpread = 0.16;
    constexpr double kShearSpread = 0.14;
    constexpr double kCompressionSpread = 0.18;
    const double divisor = wood.softwood ? 2.1 : 2.3;
    TimberStress stress;
    stress.bending_MPa = wood.rupture_MPa * (1 - kFifthPercentile * kBendingSpread) / divisor * 0.45;
    stress.tension_MPa = 0.55 * stress.bending_MPa;
    stress.shear_MPa = wood.shear_MPa * (1 - kFifthPercentile * kShearSpread) / divisor * 0.5;
    stress.compression_MPa =
        wood.compression_MPa * (1 - kFifthPercentile * kCompressionSpread) / (wood.softwood ? 1.9 : 2.1) * 0.52;
    stress.bearing_across_MPa = wood.across_MPa / 1.67;
    return stress;
}

} // namespace evenclose
