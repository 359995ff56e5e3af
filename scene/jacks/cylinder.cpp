#include "scene/jacks/cylinder.hpp"

#include <numbers>

namespace evenclose {
namespace {

double disc_mm2(double diameter_mm) { return std::numbers::pi / 4 * diameter_mm * diameter_mm; }

} // namespace

double bore_area_mm2(const Cylinder& cylinder) { return disc_mm2(cylinder.bore_mm); }
double rod_side_area_mm2(const Cylinder& cylinder) { return disc_mm2(cylinder.bore_mm) - disc_mm2(cylinder.rod_mm); }
double push_N(const Cylinder& cylinder, double pressure_MPa) { return pressure_MPa * bore_area_mm2(cylinder); }
double pull_N(const Cylinder& cylinder, double pressure_MPa) { return pressure_MPa * rod_side_area_mm2(cylinder); }
double pressure_for_push_MPa(const Cylinder& cylinder, double load_N) { return load_N / bore_area_mm2(cylinder); }
double intensification(const Cylinder& cylinder) { return bore_area_mm2(cylinder) / rod_side_area_mm2(cylinder); }

} // namespace evenclose
