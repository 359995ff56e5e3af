#include "scene/jacks/link_shaft.hpp"

#include <numbers>

namespace evenclose {
namespace {

constexpr double kPi = std::numbers::pi;

double to_the_fourth(double x) { return x * x * x * x; }

double torsion_constant(const RoundShaft& shaft) {
    return kPi / 32 * (to_the_fourth(shaft.diameter_mm) - to_the_fourth(shaft.bore_mm));
}

/// Area within the mid-line of the wall.
double enclosed_mm2(const BoxShaft& box) { return (box.width_mm - box.wall_mm) * (box.depth_mm - box.wall_mm); }

double torsion_constant(const BoxShaft& box) {
    const double mid_line = 2 * (box.width_mm - box.wall_mm) + 2 * (box.depth_mm - box.wall_mm);
    return 4 * enclosed_mm2(box) * enclosed_mm2(box) * box.wall_mm / mid_line;
}

double greatest_shear(const RoundShaft& shaft, double torque) {
    return torque * 0.5 * shaft.diameter_mm / torsion_constant(shaft);
}

double greatest_shear(const BoxShaft& box, double torque) { return torque / (2 * enclosed_mm2(box) * box.wall_mm); }

} // namespace

double torsion_constant_mm4(const ShaftSection& section) {
    return std::visit([](const auto& kind) { return torsion_constant(kind); }, section);
}

double greatest_shear_MPa(const ShaftSection& section, double torque_Nmm) {
    return std::visit([&](const auto& kind) { return greatest_shear(kind, torque_Nmm); }, section);
}

double twist_rad(const LinkShaft& shaft, double torque_Nmm) {
    return torque_Nmm * shaft.length_mm / (shaft.shear_modulus_MPa * torsion_constant_mm4(shaft.section));
}

double play_rad(const Coupling& coupling) {
    if (const auto* pin = std::get_if<PinCoupling>(&coupling)) {
        return pin->clearance_mm / pin->radius_mm;
    }
    return std::get<AngleCoupling>(coupling).play_rad;
}

double play_rad(const LinkShaft& shaft) {
    double sum = 0;
    for (const Coupling& coupling : shaft.couplings) {
        sum += play_rad(coupling);
    }
    return sum;
}

double height_lag_mm(const LinkShaft& shaft, double torque_Nmm, double rise_a_turn_mm) {
    return rise_a_turn_mm * (twist_rad(shaft, torque_Nmm) + play_rad(shaft)) / (2 * kPi);
}

} // namespace evenclose
