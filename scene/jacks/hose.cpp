#include "scene/jacks/hose.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace evenclose {
namespace {

constexpr double kPi = std::numbers::pi;

} // namespace

double contact_width_mm(const InflatableHose& hose, double height_mm) {
    return 0.5 * kPi * (hose.free_diameter_mm - height_mm);
}

double force_N(const InflatableHose& hose, double height_mm, double pressure_MPa) {
    return pressure_MPa * contact_width_mm(hose, height_mm) * hose.length_mm;
}

double pressure_for_MPa(const InflatableHose& hose, double height_mm, double load_N) {
    const double contact_mm2 = contact_width_mm(hose, height_mm) * hose.length_mm;
    return contact_mm2 > 0 ? load_N / contact_mm2 : std::numeric_limits<double>::infinity();
}

double section_area_mm2(const InflatableHose& hose, double height_mm) {
    return 0.25 * kPi * height_mm * height_mm + contact_width_mm(hose, height_mm) * height_mm;
}

double volume_mm3(const InflatableHose& hose, double height_mm) {
    return section_area_mm2(hose, height_mm) * hose.length_mm;
}

double height_at_volume_mm(const InflatableHose& hose, double volume_mm3) {
    // A = pi (2 D h - h^2) / 4, so h = D - sqrt(D^2 - 4 A / pi); written so that a near-empty hose loses no digits.
    const double d = hose.free_diameter_mm;
    const double four_a = 4 * volume_mm3 / (kPi * hose.length_mm);
    return four_a / (d + std::sqrt(std::max(0.0, d * d - four_a)));
}

} // namespace evenclose
