#include "scene/jacks/screw.hpp"

#include <cmath>
#include <limits>
#include <numbers>

namespace evenclose {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kFirstThreadShare = 0.38;

/// f / cos(alpha): the friction that a flank of that angle has the effect of.
double flank_friction(const PowerScrew& screw) { return screw.thread_friction / std::cos(screw.flank_angle_rad); }

PowerScrew screw_of(double major_diameter_mm, double pitch_mm, int starts, double flank_angle_rad, double friction) {
    PowerScrew screw;
    screw.major_diameter_mm = major_diameter_mm;
    screw.pitch_mm = pitch_mm;
    screw.starts = starts;
    screw.mean_diameter_mm = major_diameter_mm - 0.5 * pitch_mm;
    screw.flank_angle_rad = flank_angle_rad;
    screw.thread_friction = friction;
    return screw;
}

} // namespace

double PowerScrew::lead_angle_rad() const { return std::atan(lead_mm() / (kPi * mean_diameter_mm)); }

PowerScrew square_screw(double major_diameter_mm, double pitch_mm, int starts, double thread_friction) {
    return screw_of(major_diameter_mm, pitch_mm, starts, 0.0, thread_friction);
}

PowerScrew trapezoidal_screw(double major_diameter_mm, double pitch_mm, int starts, double thread_friction) {
    return screw_of(major_diameter_mm, pitch_mm, starts, kPi / 12, thread_friction);
}

double thread_raising_torque(const PowerScrew& screw, double load_N) {
    const double f = flank_friction(screw);
    const double round = kPi * screw.mean_diameter_mm;
    const double free = round - f * screw.lead_mm();
    if (free <= 0) {
        return std::numeric_limits<double>::infinity();
    }
    return 0.5 * load_N * screw.mean_diameter_mm * (screw.lead_mm() + f * round) / free;
}

double thread_lowering_torque(const PowerScrew& screw, double load_N) {
    const double f = flank_friction(screw);
    const double round = kPi * screw.mean_diameter_mm;
    return 0.5 * load_N * screw.mean_diameter_mm * (f * round - screw.lead_mm()) / (round + f * screw.lead_mm());
}

double collar_torque(const PowerScrew& screw, double load_N) {
    return 0.5 * load_N * screw.collar_friction * screw.collar_diameter_mm;
}

double raising_torque(const PowerScrew& screw, double load_N) {
    return thread_raising_torque(screw, load_N) + collar_torque(screw, load_N);
}

double lowering_torque(const PowerScrew& screw, double load_N) {
    return thread_lowering_torque(screw, load_N) + collar_torque(screw, load_N);
}

double efficiency(const PowerScrew& screw) { return screw.lead_mm() / (2 * kPi * raising_torque(screw, 1.0)); }

double thread_efficiency(const PowerScrew& screw) {
    return screw.lead_mm() / (2 * kPi * thread_raising_torque(screw, 1.0));
}

Holding holding_of(const PowerScrew& screw) {
    if (thread_lowering_torque(screw, 1.0) > 0) {
        return Holding::thread_holds;
    }
    return lowering_torque(screw, 1.0) > 0 ? Holding::collar_holds : Holding::runs_down;
}

const char* name_of(Holding holding) {
    switch (holding) {
    case Holding::thread_holds:
        return "the thread holds";
    case Holding::collar_holds:
        return "only the collar holds";
    case Holding::runs_down:
        return "runs down by itself";
    }
    return "";
}

ScrewStress stress_while_raising(const PowerScrew& screw, double load_N) {
    const double root = screw.major_diameter_mm - screw.pitch_mm;
    const double first_thread_N = kFirstThreadShare * load_N;
    return {
        .torsion_MPa = 16 * raising_torque(screw, load_N) / (kPi * root * root * root),
        .axial_MPa = -4 * load_N / (kPi * root * root),
        .bearing_MPa = -2 * first_thread_N / (kPi * screw.mean_diameter_mm * screw.pitch_mm),
        .root_bending_MPa = 6 * first_thread_N / (kPi * root * screw.pitch_mm),
    };
}

} // namespace evenclose
