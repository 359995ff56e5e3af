#include "checks/mold_half.hpp"

#include <algorithm>

namespace evenclose {

const Body* half_of(const Assembly& assembly, Part part) {
    const auto body =
        std::find_if(assembly.bodies.begin(), assembly.bodies.end(), [&](const Body& b) { return b.part == part; });
    return body == assembly.bodies.end() ? nullptr : &*body;
}

double closing_lift_mm(const Assembly& assembly) { return assembly.daylight_mm - assembly.shut_height_mm; }

Pose pose_when_closed(const Assembly& assembly, const Body& on_platen) {
    return {on_platen.placement.rotation, on_platen.placement.translation_mm + Vec3{0, 0, closing_lift_mm(assembly)}};
}

} // namespace evenclose
