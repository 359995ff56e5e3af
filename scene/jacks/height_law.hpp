// scene/jacks/height_law.hpp: how a jack answers its drive: rise over turns (or volume), and the effort it asks.
//
// One set of questions for every kind of jack. The drive counts from closed (lowest): turns of the screw, or mm3 pumped
// in. Effort is what the drive must bring to raise the load: torque in N mm, or gauge pressure in MPa. Work in = effort
// times drive (a turn is 2 pi), and work in times efficiency = load times rise.
//
// A kind is added by giving it the same questions: see the struct of any kind below.
#pragma once

#include "scene/jacks/cylinder.hpp"
#include "scene/jacks/hose.hpp"
#include "scene/jacks/scissor.hpp"
#include "scene/jacks/screw.hpp"

#include <variant>

namespace evenclose {

struct ScrewLaw {
    PowerScrew screw;
};
/// The rhombus' screw pulls with the span. Threaded at both ends: two nuts, no collar; at one end: one nut, and the other
/// end pulls on the collar.
struct RhombusLaw {
    double arm_mm = 0, closed_span_mm = 0;
    bool both_ends_threaded = true;
    PowerScrew screw;
    [[nodiscard]] RhombusJack jack() const { return {arm_mm, closed_span_mm, screw.lead_mm(), both_ends_threaded}; }
};
struct StageLaw {
    int stages = 1;
    double arm_mm = 0, closed_base_mm = 0;
    PowerScrew screw;
    [[nodiscard]] StageLift lift() const { return {stages, arm_mm, closed_base_mm, screw.lead_mm()}; }
};
struct CylinderLaw {
    Cylinder cylinder;
};
/// Closed height is that of the flattened hose.
struct HoseLaw {
    InflatableHose hose;
    double closed_height_mm = 0;
};

using HeightLaw = std::variant<ScrewLaw, RhombusLaw, StageLaw, CylinderLaw, HoseLaw>;

enum class DriveKind { turns, volume };
[[nodiscard]] DriveKind drive_of(const HeightLaw& law);

// Needs: a rise that the linkage or hose can reach (see most_rise_mm); load 0 or more.   Threads: pure, any.

/// Rise above closed after so many turns (or mm3), and back.
[[nodiscard]] double rise_mm(const HeightLaw& law, double drive);
[[nodiscard]] double drive_for(const HeightLaw& law, double rise_mm);

/// Where the geometry ends (span or base 0, hose at its free diameter). Infinite for screw and cylinder: their stroke is
/// a matter of how they are built.
[[nodiscard]] double most_rise_mm(const HeightLaw& law);

/// Rise a turn (or a mm3) at this rise.
[[nodiscard]] double rate(const HeightLaw& law, double rise_mm);

/// Torque (N mm) or pressure (MPa) that just raises the load at this rise.
[[nodiscard]] double effort(const HeightLaw& law, double rise_mm, double load_N);
/// The load that an effort just raises at this rise, N.
[[nodiscard]] double force_N(const HeightLaw& law, double rise_mm, double effort);

[[nodiscard]] double efficiency(const HeightLaw& law);

/// What keeps the load up when the drive lets go. Cylinder and hose: `runs_down`, since only a valve holds them, and a
/// valve or a hose may leak.
[[nodiscard]] Holding holding_of(const HeightLaw& law);

/// Seconds from one rise to another at a steady drive speed (turns or mm3 a second).
[[nodiscard]] double seconds_between(const HeightLaw& law, double from_rise_mm, double to_rise_mm,
                                     double drive_a_second);

} // namespace evenclose
