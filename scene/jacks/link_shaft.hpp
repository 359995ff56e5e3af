// scene/jacks/link_shaft.hpp: a shaft that couples two jack screws: how far the driven one may lag behind.
//
// Twist phi = T L / (G J) (Saint-Venant; a thin closed box by Bredt), and the play of the couplings on top. A lag in angle
// becomes one in height by the jack's rise a turn there. The diameter counts to the fourth power.
#pragma once

#include <variant>
#include <vector>

namespace evenclose {

struct RoundShaft {
    double diameter_mm = 0, bore_mm = 0; // bore 0: solid
};
/// A square or rectangular tube, its wall thin beside its width; corners taken as sharp.
struct BoxShaft {
    double width_mm = 0, depth_mm = 0, wall_mm = 0;
};
using ShaftSection = std::variant<RoundShaft, BoxShaft>;

/// A pin (or bolt) in a hole that is `clearance_mm` larger in diameter, at this radius from the axis.
struct PinCoupling {
    double clearance_mm = 0, radius_mm = 0;
};

/// A coupling whose play was felt or measured as an angle, from one stop to the other.
struct AngleCoupling {
    double play_rad = 0;
};
using Coupling = std::variant<PinCoupling, AngleCoupling>;

struct LinkShaft {
    ShaftSection section;
    double length_mm = 0;
    double shear_modulus_MPa = 0;
    std::vector<Coupling> couplings; // all along the train: plays add
};

// Torque N mm.   Threads: pure, any.

[[nodiscard]] double torsion_constant_mm4(const ShaftSection& section); // J
[[nodiscard]] double greatest_shear_MPa(const ShaftSection& section, double torque_Nmm);
[[nodiscard]] double twist_rad(const LinkShaft& shaft, double torque_Nmm);

/// From one stop to the other: clearance / radius. About the middle it is half of that either way.
[[nodiscard]] double play_rad(const Coupling& coupling);
[[nodiscard]] double play_rad(const LinkShaft& shaft); // of all couplings

/// How far the driven head may lie below the driving one, mm: twist and all the play, at this rise a turn.
[[nodiscard]] double height_lag_mm(const LinkShaft& shaft, double torque_Nmm, double rise_a_turn_mm);

} // namespace evenclose
