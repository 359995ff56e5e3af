#include "checks/plan/taller_press.hpp"

#include <fmt/format.h>

namespace evenclose {

std::string no_such_press(const Press& press, const PressChange& change) {
    if (change.longer_stroke_mm <= 0) {
        return "";
    }
    for (const Jack& jack : press.jacks) {
        if (std::holds_alternative<ScissorJack>(jack.kind) || std::holds_alternative<HoseJack>(jack.kind)) {
            return fmt::format("{} is a {}: it takes another one for more stroke", jack.name, name_of(jack.kind));
        }
    }
    return press.measured_heights ? "its heights were measured with the jacks that stand in it" : "";
}

Press taller(const Press& press, const PressChange& change, double stronger) {
    Press result = press;
    const double from = goes_up_from_mm(press);
    const auto raise = [&](double& z) { z += z > from ? change.raise_head_mm : 0; };
    for (Member& member : result.members) {
        raise(member.a_mm.z);
        raise(member.b_mm.z);
    }
    for (Guide& guide : result.guides) {
        raise(guide.post_from_z_mm);
        raise(guide.post_to_z_mm);
    }
    result.head_underside_z_mm += change.raise_head_mm;
    for (Jack& jack : result.jacks) {
        jack.stroke_mm += change.longer_stroke_mm;
        jack.closed_height_mm += change.longer_stroke_mm;
        jack.rated_load_N *= stronger;
    }
    return result;
}

} // namespace evenclose
