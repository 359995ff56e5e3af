// viewer/app/measurement.hpp: what a measure between two points, or between two flat faces, comes to.
//
// A face is the plane through the place that was clicked, along the surface there. Two planes are parallel where they lean
// by less than a square on a bench can tell; then their distance is the same everywhere. Else what is told is how they lean,
// and, as long as they nearly face each other, how far the second place is from the first plane.
//
// Pure. Threads: any.
#pragma once

#include "scene/units/units.hpp"
#include "scene/vec.hpp"

#include <optional>
#include <string>

namespace evenclose {

// 0.05 mm over a metre: below a machinist's square (DIN 875 allows a grade 0 blade of 1 m some 15 um, a grade 1 30 um; from
// memory), above what float coordinates of an STL of 1 m do to a normal.
inline constexpr double kParallel_rad = 5e-5;
// Beyond this two faces do not face each other any more: a distance would be of one place only.
inline constexpr double kNearlyParallel_rad = 0.1745; // 10 degrees

struct FacePlane {
    Vec3 through_mm{0.0};
    Vec3 normal{0.0, 0.0, 1.0}; // unit; its sign does not count
};

struct PointsMeasured {
    double distance_mm = 0;
    Vec3 along_mm{0.0}; // along X, Y and Z, none negative
};
[[nodiscard]] PointsMeasured measure_points(const Vec3& from_mm, const Vec3& to_mm);

struct FacesMeasured {
    double leaning_rad = 0; // between the planes, 0 to a right angle
    bool parallel = false;
    /// Of the second place from the first plane; none where they do not nearly face each other.
    std::optional<double> distance_mm;
    Vec3 foot_mm{0.0}; // that place brought square onto the first plane
};
/// Needs: unit normals.
[[nodiscard]] FacesMeasured measure_faces(const FacePlane& first, const FacePlane& second);

/// The number, as it is written on the drawing and copied, and what is said beside it.
struct MeasureWords {
    std::string value, note;
};
[[nodiscard]] MeasureWords words_of(const PointsMeasured& measured, UnitSystem units);
[[nodiscard]] MeasureWords words_of(const FacesMeasured& measured, UnitSystem units);

} // namespace evenclose
