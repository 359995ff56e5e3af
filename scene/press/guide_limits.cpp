#include "scene/press/guide_limits.hpp"

#include <cmath>

namespace evenclose {

double tilt_until_contact_rad(double bore_mm, double post_mm, double length_mm) {
    // D cos(phi) - L sin(phi) = R cos(phi + delta) with R = |(D, L)| and delta = atan(L / D). Written with the sine of
    // the difference, since for the usual small clearances acos(d / R) - delta loses half the digits.
    const double reach_mm = std::hypot(bore_mm, length_mm);
    const double side_mm = std::sqrt(reach_mm * reach_mm - post_mm * post_mm);
    // sin(a - b) with cos a = d / R, sin a = side / R, cos b = D / R, sin b = L / R; side - L without cancellation.
    const double side_less_length_mm = (bore_mm * bore_mm - post_mm * post_mm) / (side_mm + length_mm);
    const double sine = (side_less_length_mm * bore_mm + length_mm * (bore_mm - post_mm)) / (reach_mm * reach_mm);
    return std::asin(sine);
}

double binding_lever_mm(double length_mm, double friction) { return length_mm / (2.0 * friction); }

} // namespace evenclose
