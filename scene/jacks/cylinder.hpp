// scene/jacks/cylinder.hpp: a hydraulic or air cylinder: F = p A.
//
// Gauge pressure; seal friction and back pressure are left out: the real force is some percent less.
#pragma once

namespace evenclose {

struct Cylinder {
    double bore_mm = 0;
    double rod_mm = 0; // less than the bore
};

// Areas mm2, pressures MPa, forces N, volumes mm3.   Threads: pure, any.

[[nodiscard]] double bore_area_mm2(const Cylinder& cylinder);
[[nodiscard]] double rod_side_area_mm2(const Cylinder& cylinder); // the ring round the rod

[[nodiscard]] double push_N(const Cylinder& cylinder, double pressure_MPa);
[[nodiscard]] double pull_N(const Cylinder& cylinder, double pressure_MPa);
[[nodiscard]] double pressure_for_push_MPa(const Cylinder& cylinder, double load_N);

/// Pressure on the rod side over that on the bore side when the rod side cannot drain and the rod carries nothing: the
/// bore pushes on the trapped oil. A danger to hoses and seals that are rated for the pump.
[[nodiscard]] double intensification(const Cylinder& cylinder);

} // namespace evenclose
