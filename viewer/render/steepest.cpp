#include "viewer/render/steepest.hpp"

#include <cmath>

namespace evenclose {

Slope steepest(const SlopeRange& range) {
    return {std::abs(range.low.x) > std::abs(range.high.x) ? range.low.x : range.high.x,
            std::abs(range.low.y) > std::abs(range.high.y) ? range.low.y : range.high.y};
}

} // namespace evenclose
