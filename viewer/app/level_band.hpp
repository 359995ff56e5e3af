// viewer/app/level_band.hpp: the platen's tilt over the travel as a curve to be drawn: what the deck's ends may differ by,
// as the press is built and as it would be without its link shafts. Pure arithmetic, tested without a screen.
#pragma once

#include "checks/level/level_curves.hpp"

#include <string>
#include <vector>

namespace evenclose {

/// The curve that counts for the platen, and the one to compare it with (drives by themselves, where shafts are counted
/// or heights were measured); null where there is none.
struct LevelPairing {
    const LevelCurve* counts = nullptr;
    const LevelCurve* compared = nullptr;
};
[[nodiscard]] LevelPairing level_pairing(const std::vector<LevelCurve>& curves);

/// Up to which difference of the deck's ends a curve is drawn, either way, mm: all of the one that counts, and the limit
/// with some room. What goes beyond (the one that is compared) runs off the side: that it does is what it tells.
[[nodiscard]] double level_reach_mm(const LevelPairing& pairing, double limit_mm);

/// Between two points: straight. Needs: a curve with points.
[[nodiscard]] LevelPoint level_at(const LevelCurve& curve, Travel at);

} // namespace evenclose
