// viewer/app/rail_scale.hpp: travel to height on the screen and back, travel upward. Threads: pure, any.
#pragma once

#include "scene/motion/assembly.hpp"

namespace evenclose {

/// Where the rail ends at the top: at the end of stroke, or at closed where that lies beyond reach but not far beyond.
/// Always above 0.
[[nodiscard]] Travel rail_top(const Assembly& assembly);

struct RailScale {
    Travel top;
    float open_y = 0, top_y = 0; // on the screen, where y grows downward

    [[nodiscard]] float y_of(Travel at) const { return open_y + static_cast<float>(at.mm / top.mm) * (top_y - open_y); }
    /// Not clamped. Needs: open_y and top_y differ.
    [[nodiscard]] Travel travel_at(float y) const {
        return {top.mm * static_cast<double>((y - open_y) / (top_y - open_y))};
    }
};

} // namespace evenclose
