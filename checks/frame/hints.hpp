// checks/frame/hints.hpp: what the frame check does not judge, but looks at: ways to fail that a beam's stresses do not show.
//
// - Lateral-torsional buckling of plates on edge and of angles: critical moment pi/L sqrt(E I_minor G J) of a beam under
//   equal end moments, without warping (S. P. Timoshenko and J. M. Gere, Theory of Elastic Stability, sec. 6.2), over the
//   factor that yield has; between A and B, as if nothing in between held it. An angle's one-sidedness is not in it, so it
//   is a hint. Tubes, pipes and rods do not tip this way.
// - An angle's leg where a neighbour presses on it beside the heel: a cantilever plate from the root, as long as the face
//   plus twice the lever (45 degrees; common practice): 6 F e / (b t^2) against yield over its factor.
// - Bolted joints whose bolts are not told: the shear there.
#pragma once

#include "checks/frame/stand.hpp"

#include <string>
#include <vector>

namespace evenclose {

struct FrameHint {
    enum class Kind { tips, leg, bolts } kind = Kind::tips;
    std::string part, other; // other: what presses, or is bolted to it
    double use = 0;          // of what is allowed; bolts: not known, 0
    double value = 0;        // N mm (tips), MPa (leg), N (bolts)
    double allowed = 0;
    Vec3 at_mm{0.0};
};

/// Worst of each part and kind, worst first.   Threads: pure, any.
[[nodiscard]] std::vector<FrameHint> hints_of(const Press& press, const Joints& joints, const StoodFrame& stood);

/// pi/L sqrt(E I G J), N mm. Needs: all above 0.
[[nodiscard]] double tipping_moment_Nmm(double E_MPa, double minor_mm4, double G_MPa, double J_mm4, double length_mm);

} // namespace evenclose
