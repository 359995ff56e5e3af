#include "scene/jacks/height_law.hpp"

#include <limits>

namespace evenclose {
namespace {

constexpr double kNoEnd = std::numeric_limits<double>::infinity();

// Each kind answers: rise, drive, most rise, rate, effort a newton of load, efficiency, and what holds it.

double rise_of(const ScrewLaw& law, double turns) { return law.screw.lead_mm() * turns; }
double drive_to(const ScrewLaw& law, double rise) { return rise / law.screw.lead_mm(); }
double most_of(const ScrewLaw&) { return kNoEnd; }
double rate_of(const ScrewLaw& law, double) { return law.screw.lead_mm(); }
double effort_a_newton(const ScrewLaw& law, double) { return raising_torque(law.screw, 1.0); }
double efficiency_of(const ScrewLaw& law) { return efficiency(law.screw); }

double closed_height(const RhombusLaw& law) { return height_at_span_mm(law.jack(), law.closed_span_mm); }
double span_at(const RhombusLaw& law, double rise) { return span_at_height_mm(law.jack(), closed_height(law) + rise); }
double rise_of(const RhombusLaw& law, double turns) { return height_after_mm(law.jack(), turns) - closed_height(law); }
double drive_to(const RhombusLaw& law, double rise) {
    const double a_turn = (law.both_ends_threaded ? 2 : 1) * law.screw.lead_mm();
    return (law.closed_span_mm - span_at(law, rise)) / a_turn;
}
double most_of(const RhombusLaw& law) { return 2 * law.arm_mm - closed_height(law); }
double rate_of(const RhombusLaw& law, double rise) { return rise_a_turn_mm(law.jack(), span_at(law, rise)); }
double effort_a_newton(const RhombusLaw& law, double rise) {
    const double pull = screw_pull_a_load(law.jack(), span_at(law, rise));
    return law.both_ends_threaded ? 2 * thread_raising_torque(law.screw, pull) : raising_torque(law.screw, pull);
}
double efficiency_of(const RhombusLaw& law) {
    return law.both_ends_threaded ? thread_efficiency(law.screw) : efficiency(law.screw);
}

double closed_height(const StageLaw& law) { return height_at_base_mm(law.lift(), law.closed_base_mm); }
double base_at(const StageLaw& law, double rise) { return base_at_height_mm(law.lift(), closed_height(law) + rise); }
double rise_of(const StageLaw& law, double turns) {
    return height_at_base_mm(law.lift(), base_after_mm(law.lift(), turns)) - closed_height(law);
}
double drive_to(const StageLaw& law, double rise) {
    return (law.closed_base_mm - base_at(law, rise)) / law.screw.lead_mm();
}
double most_of(const StageLaw& law) { return law.stages * law.arm_mm - closed_height(law); }
double rate_of(const StageLaw& law, double rise) { return rise_a_turn_mm(law.lift(), base_at(law, rise)); }
double effort_a_newton(const StageLaw& law, double rise) {
    return raising_torque(law.screw, base_pull_a_load(law.lift(), base_at(law, rise)));
}
double efficiency_of(const StageLaw& law) { return efficiency(law.screw); }

double rise_of(const CylinderLaw& law, double volume) { return volume / bore_area_mm2(law.cylinder); }
double drive_to(const CylinderLaw& law, double rise) { return rise * bore_area_mm2(law.cylinder); }
double most_of(const CylinderLaw&) { return kNoEnd; }
double rate_of(const CylinderLaw& law, double) { return 1 / bore_area_mm2(law.cylinder); }
double effort_a_newton(const CylinderLaw& law, double) { return pressure_for_push_MPa(law.cylinder, 1.0); }
double efficiency_of(const CylinderLaw&) { return 1; }

double rise_of(const HoseLaw& law, double volume) {
    return height_at_volume_mm(law.hose, volume_mm3(law.hose, law.closed_height_mm) + volume) - law.closed_height_mm;
}
double drive_to(const HoseLaw& law, double rise) {
    return volume_mm3(law.hose, law.closed_height_mm + rise) - volume_mm3(law.hose, law.closed_height_mm);
}
double most_of(const HoseLaw& law) { return law.hose.free_diameter_mm - law.closed_height_mm; }
double effort_a_newton(const HoseLaw& law, double rise) {
    return pressure_for_MPa(law.hose, law.closed_height_mm + rise, 1.0);
}
// dV/dh is the contact area (hose.hpp), which is load over pressure.
double rate_of(const HoseLaw& law, double rise) { return effort_a_newton(law, rise); }
double efficiency_of(const HoseLaw&) { return 1; }

Holding holding(const ScrewLaw& law) { return holding_of(law.screw); }
Holding holding(const RhombusLaw& law) {
    PowerScrew screw = law.screw;
    if (law.both_ends_threaded) { // the two nuts pull against each other: no collar
        screw.collar_friction = 0;
    }
    return holding_of(screw);
}
Holding holding(const StageLaw& law) { return holding_of(law.screw); }
Holding holding(const CylinderLaw&) { return Holding::runs_down; }
Holding holding(const HoseLaw&) { return Holding::runs_down; }

} // namespace

DriveKind drive_of(const HeightLaw& law) {
    const bool pumped = std::holds_alternative<CylinderLaw>(law) || std::holds_alternative<HoseLaw>(law);
    return pumped ? DriveKind::volume : DriveKind::turns;
}

double rise_mm(const HeightLaw& law, double drive) {
    return std::visit([&](const auto& kind) { return rise_of(kind, drive); }, law);
}

double drive_for(const HeightLaw& law, double rise_mm) {
    return std::visit([&](const auto& kind) { return drive_to(kind, rise_mm); }, law);
}

double most_rise_mm(const HeightLaw& law) {
    return std::visit([](const auto& kind) { return most_of(kind); }, law);
}

double rate(const HeightLaw& law, double rise_mm) {
    return std::visit([&](const auto& kind) { return rate_of(kind, rise_mm); }, law);
}

double effort(const HeightLaw& law, double rise_mm, double load_N) {
    if (load_N == 0) {
        return 0; // also where no effort would raise a load: a hose at its free diameter
    }
    return load_N * std::visit([&](const auto& kind) { return effort_a_newton(kind, rise_mm); }, law);
}

double force_N(const HeightLaw& law, double rise_mm, double effort) {
    return effort / std::visit([&](const auto& kind) { return effort_a_newton(kind, rise_mm); }, law);
}

double efficiency(const HeightLaw& law) {
    return std::visit([](const auto& kind) { return efficiency_of(kind); }, law);
}

Holding holding_of(const HeightLaw& law) {
    return std::visit([](const auto& kind) { return holding(kind); }, law);
}

double seconds_between(const HeightLaw& law, double from_rise_mm, double to_rise_mm, double drive_a_second) {
    return (drive_for(law, to_rise_mm) - drive_for(law, from_rise_mm)) / drive_a_second;
}

} // namespace evenclose
