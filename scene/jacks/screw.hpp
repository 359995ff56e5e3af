// scene/jacks/screw.hpp: power screws: the torque to raise and to lower a load, and whether it stays up by itself.
//
// Theory: the thread as an inclined plane wrapped round the mean diameter, with a thrust collar below it (Budynas and
// Nisbett, Shigley's Mechanical Engineering Design, ch. 8). The flank angle enters as f / cos(alpha), the usual
// engineering form; the stricter one with the normal flank angle differs by some hundredths of a percent.
// Valid below yield and without buckling of the screw. Friction at rest is more than in motion: give the lesser one to ask
// whether it holds, the greater one to ask whether the drive is strong enough.
#pragma once

namespace evenclose {

struct PowerScrew {
    double major_diameter_mm = 0;
    double pitch_mm = 0;
    int starts = 1;
    double mean_diameter_mm = 0;
    double flank_angle_rad = 0; // half of the angle between the flanks: square 0, ISO trapezoidal 15 deg, Acme 14.5 deg
    double thread_friction = 0;
    double collar_friction = 0;
    double collar_diameter_mm = 0; // mean diameter of the thrust collar; with a rolling bearing take friction 0

    [[nodiscard]] double lead_mm() const { return starts * pitch_mm; }
    [[nodiscard]] double lead_angle_rad() const;
};

/// Square thread: mean diameter = major - pitch / 2.
[[nodiscard]] PowerScrew square_screw(double major_diameter_mm, double pitch_mm, int starts, double thread_friction);
/// ISO trapezoidal (ISO 2904): flanks at 15 deg, mean (pitch) diameter = major - pitch / 2.
[[nodiscard]] PowerScrew trapezoidal_screw(double major_diameter_mm, double pitch_mm, int starts,
                                           double thread_friction);

// All torques in N mm; load in N, 0 or more, along the axis.   Threads: pure, any.

/// Needs: a thread that can be turned under load: pi dm > f l / cos(alpha). Else infinite: it jams.
[[nodiscard]] double thread_raising_torque(const PowerScrew& screw, double load_N);
/// Below 0: the load drives the thread down, and this much must hold it.
[[nodiscard]] double thread_lowering_torque(const PowerScrew& screw, double load_N);
[[nodiscard]] double collar_torque(const PowerScrew& screw, double load_N);
[[nodiscard]] double raising_torque(const PowerScrew& screw, double load_N);  // thread and collar
[[nodiscard]] double lowering_torque(const PowerScrew& screw, double load_N); // thread and collar

/// Work out over work in when raising; the same at any load. With the collar, or of the thread alone.
[[nodiscard]] double efficiency(const PowerScrew& screw);
[[nodiscard]] double thread_efficiency(const PowerScrew& screw);

/// What keeps the load up when the drive lets go. A lowering torque above 0 alone does not tell: it may be all collar,
/// and a greased or rolling collar lets the screw run down.
enum class Holding { thread_holds, collar_holds, runs_down };
[[nodiscard]] Holding holding_of(const PowerScrew& screw);
[[nodiscard]] const char* name_of(Holding holding);

/// Stresses in the screw while raising, MPa; axial and bearing ones are below 0 (compression). Root diameter = major -
/// pitch; the first engaged thread carries 0.38 of the load (Shigley, ch. 8).
struct ScrewStress {
    double torsion_MPa = 0;      // 16 T / (pi dr^3), collar included
    double axial_MPa = 0;        // of the root section
    double bearing_MPa = 0;      // on the flank of the first thread
    double root_bending_MPa = 0; // at the root of the first thread
};
[[nodiscard]] ScrewStress stress_while_raising(const PowerScrew& screw, double load_N);

} // namespace evenclose
