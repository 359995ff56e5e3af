#include "viewer/ui/layout.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {

float fitting_scale(float width, float height, float display_scale) {
    const float room = std::min(width / kLeastWidth_pt, height / kLeastHeight_pt);
    const float asked = std::clamp(display_scale, 0.5F, 4.0F);
    // The small grace keeps 1/8 steps that fit exactly from being rounded away.
    const float stepped = std::floor(std::min(asked, room) * 8.0F + 1e-3F) / 8.0F;
    return std::max(stepped, 0.5F);
}

Layout layout_for(float width, float height, float scale) {
    const auto between = [scale](float share, float least_pt, float most_pt) {
        return std::floor(std::clamp(share, least_pt * scale, most_pt * scale));
    };
    const float header = std::floor(68.0F * scale);
    const float ledger = between(0.29F * height, 196.0F, 340.0F);
    const float bench = between(0.21F * width, 262.0F, 320.0F);
    const float rail = between(0.21F * width, 252.0F, 330.0F);
    const float middle = std::max(height - header - ledger, 1.0F);

    Layout layout;
    layout.header = {0, 0, width, header};
    layout.bench = {0, header, bench, middle};
    layout.picture = {bench, header, std::max(width - bench - rail, 1.0F), middle};
    layout.rail = {layout.picture.right(), header, rail, middle};
    layout.ledger = {0, header + middle, width, ledger};
    return layout;
}

} // namespace evenclose
