#include "viewer/app/measurement.hpp"

#include <fmt/format.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <numbers>

namespace evenclose {
namespace {

// Less apart than any shop measures.
constexpr double kOnePlane_mm = 1e-3;

std::string degrees(double rad) {
    const double deg = rad * 180.0 / std::numbers::pi;
    return fmt::format("{:.{}f}°", deg, deg < 1 ? 3 : 2);
}

} // namespace

PointsMeasured measure_points(const Vec3& from_mm, const Vec3& to_mm) {
    return {glm::length(to_mm - from_mm), glm::abs(to_mm - from_mm)};
}

FacesMeasured measure_faces(const FacePlane& first, const FacePlane& second) {
    FacesMeasured measured;
    // From sine and cosine both: the arc cosine alone is blind below 1e-8.
    measured.leaning_rad = std::atan2(glm::length(glm::cross(first.normal, second.normal)),
                                      std::abs(glm::dot(first.normal, second.normal)));
    measured.parallel = measured.leaning_rad <= kParallel_rad;
    const double off = glm::dot(second.through_mm - first.through_mm, first.normal);
    measured.foot_mm = second.through_mm - off * first.normal;
    if (measured.leaning_rad <= kNearlyParallel_rad) {
        measured.distance_mm = std::abs(off);
    }
    return measured;
}

MeasureWords words_of(const PointsMeasured& measured, UnitSystem units) {
    return {show_length(measured.distance_mm, units),
            fmt::format("X {}, Y {}, Z {}", show_length(measured.along_mm.x, units),
                        show_length(measured.along_mm.y, units), show_length(measured.along_mm.z, units))};
}

MeasureWords words_of(const FacesMeasured& measured, UnitSystem units) {
    if (measured.parallel && measured.distance_mm.value_or(0) < kOnePlane_mm) {
        return {show_length(0, units), "both faces lie in one plane; Points measures how far apart they are in it"};
    }
    if (measured.parallel) {
        return {show_length(measured.distance_mm.value_or(0), units), "between parallel faces"};
    }
    if (measured.distance_mm) {
        // A lean is told in degrees and as a shop sets it: so much in so much.
        return {show_length(*measured.distance_mm, units),
                fmt::format("at the second place; {} out of parallel, 1 in {:.0f}", degrees(measured.leaning_rad),
                            1.0 / std::tan(measured.leaning_rad))};
    }
    return {degrees(measured.leaning_rad), "between the faces"};
}

} // namespace evenclose
