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
inline constexpr double kNPerPoundForce = 4.4482216152605;

enum class LengthUnit { mm, cm, m, inch, foot };

/// What could not be read, and what would be.
struct Unreadable {
    std::string why;
}; // "no length: \"12 elephants\"; write 38, 38 mm, 1 1/2 in or 1-1/2\""
template <class T> using Read = std::variant<T, Unreadable>;

/// `38`, `38 mm`, `3.8 cm`, `1.5 m`, `1 1/2 in`, `1-1/2"`, `31 7/8 in`, `2' 8"`, `-3 mm`. A bare number is taken in
/// `bare`. Never NaN or infinite.
[[nodiscard]] Read<double> read_length_mm(std::string_view text, LengthUnit bare = LengthUnit::mm);
/// N, kN, lbf, kgf, "t" / "metric ton", "short ton", "long ton"; a bare number is N.
[[nodiscard]] Read<double> read_force_N(std::string_view text);
/// MPa, kPa, bar, psi, ksi, N/mm2, kgf/cm2; a bare number is MPa.
[[nodiscard]] Read<double> read_pressure_MPa(std::string_view text);
/// deg, °, mrad, rad; a bare number is degrees.
[[nodiscard]] Read<double> read_angle_rad(std::string_view text);
/// "mm", "cm", "m", "in", "inch", "ft"...
[[nodiscard]] std::optional<LengthUnit> read_length_unit(std::string_view text);
[[nodiscard]] double mm_per(LengthUnit unit);
[[nodiscard]] const char* name_of(LengthUnit unit); // "mm", "cm", "m", "in", "ft"

enum class UnitSystem { metric, inch };

/// "12.5 mm" (to `decimals`, trailing zeros dropped), or to the nearest 1/64: "1 1/2 in", "~31 7/8 in" when inexact.
[[nodiscard]] std::string show_length(double mm, UnitSystem system, int decimals = 2);
[[nodiscard]] std::string show_force(double newton, UnitSystem system); // "38.4 kN", "8633 lbf"
[[nodiscard]] std::string show_pressure(double mpa, UnitSystem system); // "0.97 MPa", "141 psi"
[[nodiscard]] std::string show_angle(double rad);                       // "1.50 mrad (0.086 deg)"

} // namespace evenclose
