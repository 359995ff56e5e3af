// scene/units/units.hpp: reads and shows lengths, forces, pressures and angles as a shop writes them.
//
// Inside everything is mm, N, MPa, rad. Exact factors: international inch and pound, NIST SP 811 (REFERENCE 10).
// "1-1/2" is one and a half, not a subtraction. "ton" alone is refused: metric and short ton differ by 10 %.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>

namespace evenclose {

inline constexpr double kMmPerInch = 25.4;
inline constexpr double kMmPerFoot = 304.8;
inline constexpr double kNPerPoundForce = 4.4482216152605; // 0.45359237 kg x 9.80665 m/s2
inline constexpr double kNPerKilogramForce = 9.80665;      // standard gravity
inline constexpr double kNPerMetricTon = 9806.65;          // tonne-force
inline constexpr double kNPerShortTon = 8896.443230521;    // 2000 lbf
inline constexpr double kNPerLongTon = 9964.01641818352;   // 2240 lbf
inline constexpr double kMPaPerPsi = 0.006894757293168362; // lbf / 645.16 mm2, nearest double
inline constexpr double kMPaPerKgfPerCm2 = 0.0980665;      // technical atmosphere
inline constexpr double kNmmPerPoundInch = 112.9848290276167;
inline constexpr double kNmmPerPoundFoot = 1355.8179483314;
inline constexpr double kKgPerPound = 0.45359237;
inline constexpr double kMm3PerCubicInch = 16387.064;
inline constexpr double kMm4PerInch4 = 416231.4256;
inline constexpr double kKgPerM3PerPoundPerCubicFoot = 16.01846337396014;

enum class LengthUnit { mm, cm, m, inch, foot };

/// What could not be read, and what would be.
struct Unreadable {
    std::string why;
}; // "no length: \"12 elephants\"; write 38, 38 mm, 1 1/2 in or 1-1/2\""
template <class T> using Read = std::variant<T, Unreadable>;

/// `38`, `38 mm`, `3.8 cm`, `1.5 m`, `1 1/2 in`, `1-1/2"`, `31 7/8 in`, `2' 8"`, `-3 mm`. A bare number is taken in
/// `bare`. Never NaN or infinite.
[[nodiscard]] Read<double> read_length_mm(std::string_view text, LengthUnit bare = LengthUnit::mm);
/// N, kN, lbf, kip, kgf, "t" (the tonne's own symbol) or "metric ton", "short ton", "long ton"; a bare number is N. "ton"
/// and "T" alone are refused, so are lb and kg: those are masses.
[[nodiscard]] Read<double> read_force_N(std::string_view text);
/// MPa, GPa, kPa, bar, psi, ksi, N/mm2, kgf/cm2; a bare number is MPa. "mPa" is refused: a thousandth of a pascal.
[[nodiscard]] Read<double> read_pressure_MPa(std::string_view text);
/// deg, °, mrad, rad; a bare number is degrees.
[[nodiscard]] Read<double> read_angle_rad(std::string_view text);
/// N mm, N m, kN m, lbf in, lbf ft; a bare number is N mm.
[[nodiscard]] Read<double> read_torque_Nmm(std::string_view text);
/// kg, g, lb, oz, and "t" or "metric ton"; a bare number is kg.
[[nodiscard]] Read<double> read_mass_kg(std::string_view text);
/// kg/m3, g/cm3, lb/ft3; a bare number is kg/m3.
[[nodiscard]] Read<double> read_density_kg_per_m3(std::string_view text);
/// °C, C, °F, F, K; a bare number is °C. Below absolute zero is refused.
[[nodiscard]] Read<double> read_temperature_C(std::string_view text);
/// rpm, r/min, turns/s, deg/s; a bare number is turns a minute.
[[nodiscard]] Read<double> read_speed_turns_per_s(std::string_view text);
/// l/min, l/s, ml/s, ml/min, cm3/s, gal/min (US gallon), in3/min, in3/s; a bare number is l/min.
[[nodiscard]] Read<double> read_flow_mm3_per_s(std::string_view text);
/// "2 %", "2 percent", "0.02": all 0.02. "1/50" too.
[[nodiscard]] Read<double> read_ratio(std::string_view text);
/// "mm", "cm", "m", "in", "inch", "ft"...
[[nodiscard]] std::optional<LengthUnit> read_length_unit(std::string_view text);
[[nodiscard]] double mm_per(LengthUnit unit);
[[nodiscard]] const char* name_of(LengthUnit unit); // "mm", "cm", "m", "in", "ft"

enum class UnitSystem { metric, inch };

/// "12.5 mm" (to `decimals`, trailing zeros dropped), or to the nearest 1/64: "1 1/2 in", "~31 7/8 in" when inexact;
/// below a quarter inch, when no 64th fits, in thousandths as a feeler gauge is marked: "~0.020 in".
[[nodiscard]] std::string show_length(double mm, UnitSystem system, int decimals = 2);
[[nodiscard]] std::string show_force(double newton, UnitSystem system); // "38.4 kN", "8633 lbf"
[[nodiscard]] std::string show_pressure(double mpa, UnitSystem system); // "0.97 MPa", "141 psi"
[[nodiscard]] std::string show_angle(double rad);                       // "1.50 mrad (0.086 deg)"
[[nodiscard]] std::string show_mass(double kg, UnitSystem system);      // "12.4 kg", "27.3 lb"

} // namespace evenclose
