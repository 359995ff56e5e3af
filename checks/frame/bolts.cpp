#include "checks/frame/bolts.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <numbers>

namespace evenclose {
namespace {

constexpr double kLoadFactor = 1.5, kShearFactor = 1.25; // gamma_F; gamma_M2
constexpr double kTimber = 0.8 / 1.3;                    // k_mod, gamma_M
// Characteristic over mean density: C24 350 / 420 (EN 338).
constexpr double kCharacteristic = 350.0 / 420;
// Heavier than this a wood counts as hardwood (EN 338's softwood classes end at 550 mean).
constexpr double kHardwood_kg_per_m3 = 560;

double embedment_MPa(const BoltedSide& side, double d) {
    const double density = kCharacteristic * side.material.density_kg_per_m3;
    const double along = 0.082 * (1 - 0.01 * d) * density;
    const double k90 = (side.material.density_kg_per_m3 > kHardwood_kg_per_m3 ? 0.90 : 1.35) + 0.015 * d;
    const double s = std::sin(side.angle_to_grain_rad);
    const double c = std::cos(side.angle_to_grain_rad);
    return along / (k90 * s * s + c * c);
}

} // namespace

double stress_area_mm2(double diameter_mm) {
    // Coarse pitches, ISO 261 (from memory); A_s = pi/4 (d - 0.9382 P)^2, ISO 898-1.
    constexpr struct {
        double d, pitch;
    } kThreads[] = {{4, 0.7}, {5, 0.8},  {6, 1},  {8, 1.25}, {10, 1.5}, {12, 1.75},
                    {16, 2},  {20, 2.5}, {24, 3}, {30, 3.5}, {36, 4}};
    double pitch_share = kThreads[0].pitch / kThreads[0].d;
    for (const auto& thread : kThreads) {
        if (thread.d <= diameter_mm + 1e-9) {
            pitch_share = thread.pitch / thread.d;
        }
    }
    const double d = diameter_mm * (1 - 0.9382 * pitch_share);
    return 0.25 * std::numbers::pi * d * d;
}

double bolt_ultimate_MPa(const Material& grade) {
    const std::size_t point = grade.name.find('.');
    const double first = std::strtod(grade.name.substr(0, point).c_str(), nullptr);
    const bool is_class = point != std::string::npos && first >= 3 && first <= 12.9;
    return is_class ? 100 * first : grade.yield_MPa(20);
}

double timber_to_timber_N(double f1_MPa, double t1_mm, double f2_MPa, double t2_mm, double d_mm, double My_Nmm) {
    const double b = f2_MPa / f1_MPa;
    const double r = t2_mm / t1_mm;
    const double one = f1_MPa * t1_mm * d_mm;
    const double m1 = My_Nmm / (f1_MPa * d_mm * t1_mm * t1_mm);
    const double m2 = My_Nmm / (f1_MPa * d_mm * t2_mm * t2_mm);
    const double c = one / (1 + b) * (std::sqrt(b + 2 * b * b * (1 + r + r * r) + b * b * b * r * r) - b * (1 + r));
    const double d = 1.05 * one / (2 + b) * (std::sqrt(2 * b * (1 + b) + 4 * b * (2 + b) * m1) - b);
    const double e =
        1.05 * f1_MPa * t2_mm * d_mm / (1 + 2 * b) * (std::sqrt(2 * b * b * (1 + b) + 4 * b * (1 + 2 * b) * m2) - b);
    const double f = 1.15 * std::sqrt(2 * b / (1 + b)) * std::sqrt(2 * My_Nmm * f1_MPa * d_mm);
    return std::min({one, f2_MPa * t2_mm * d_mm, c, d, e, f});
}

double steel_to_timber_N(double f_MPa, double t_mm, double plate_mm, double d_mm, double My_Nmm) {
    const double whole = f_MPa * t_mm * d_mm;
    const double thin = std::min(0.4 * whole, 1.15 * std::sqrt(2 * My_Nmm * f_MPa * d_mm));
    const double thick = std::min({whole, whole * (std::sqrt(2 + 4 * My_Nmm / (f_MPa * d_mm * t_mm * t_mm)) - 1),
                                   2.3 * std::sqrt(My_Nmm * f_MPa * d_mm)});
    // Thin up to half a diameter, thick from one on.
    return std::lerp(thin, thick, std::clamp(2 * plate_mm / d_mm - 1, 0.0, 1.0));
}

BoltCapacity bolt_capacity(double diameter_mm, const Material& grade, const BoltedSide& first,
                           const BoltedSide& second) {
    const double ultimate = bolt_ultimate_MPa(grade);
    const double alpha = ultimate > 900 ? 0.5 : 0.6;
    BoltCapacity may{alpha * ultimate * stress_area_mm2(diameter_mm) / kShearFactor / kLoadFactor, "the bolt shears"};
    const double My = 0.3 * ultimate * std::pow(diameter_mm, 2.6);
    const bool first_metal = first.material.is_metal();
    const bool second_metal = second.material.is_metal();
    if (first_metal && second_metal) {
        return may;
    }
    const BoltedSide& timber = first_metal ? second : first;
    const BoltedSide& other = first_metal ? first : second;
    const double characteristic =
        first_metal || second_metal
            ? steel_to_timber_N(embedment_MPa(timber, diameter_mm), timber.thickness_mm, other.thickness_mm,
                                diameter_mm, My)
            : timber_to_timber_N(embedment_MPa(first, diameter_mm), first.thickness_mm,
                                 embedment_MPa(second, diameter_mm), second.thickness_mm, diameter_mm, My);
    if (const double gives = kTimber * characteristic / kLoadFactor; gives < may.allowed_N) {
        may = {gives, "the timber gives round the bolt"};
    }
    return may;
}

} // namespace evenclose
