// scene/jacks/hose.hpp: an inflatable hose between two flat, parallel plates.
//
// A skin that does not stretch and bends freely: its section is flat where it lies on the plates and half round at both
// sides. So the contact, and with it the force, falls as the plates part, and is gone at the free diameter. Long hose, its
// ends left out. A real skin is stiff: take the force as true to about 10 %.
#pragma once

namespace evenclose {

struct InflatableHose {
    double free_diameter_mm = 0; // inflated, unhindered
    double length_mm = 0;
};

// Needs: 0 <= height <= free diameter.   Threads: pure, any.

[[nodiscard]] double contact_width_mm(const InflatableHose& hose, double height_mm); // pi (D - h) / 2
[[nodiscard]] double force_N(const InflatableHose& hose, double height_mm, double pressure_MPa);
/// Infinite at the free diameter: there nothing touches.
[[nodiscard]] double pressure_for_MPa(const InflatableHose& hose, double height_mm, double load_N);
[[nodiscard]] double section_area_mm2(const InflatableHose& hose, double height_mm);
[[nodiscard]] double volume_mm3(const InflatableHose& hose, double height_mm);
/// The height at which the plates stand apart when this much is in the hose. Needs: 0 <= volume <= that at the free
/// diameter.
[[nodiscard]] double height_at_volume_mm(const InflatableHose& hose, double volume_mm3);

} // namespace evenclose
