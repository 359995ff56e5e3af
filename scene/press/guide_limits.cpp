#include "scene/press/guide_limits.hpp"

#include <algorithm>
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

double engaged_length_mm(const Guide& guide, double face_z_mm) {
    const double top = face_z_mm - guide.sleeve_below_top_mm;
    return std::max(0.0, std::min(top, guide.post_to_z_mm) - std::max(top - guide.length_mm, guide.post_from_z_mm));
}

double binding_lever_mm(double length_mm, double friction) { return length_mm / (2.0 * friction); }

} // namespace evenclose
