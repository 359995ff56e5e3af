#include "viewer/render/octahedral.hpp"

#include <glm/geometric.hpp>

#include <cmath>

namespace evenclose {
namespace {

std::int16_t to_short(float unit) { return static_cast<std::int16_t>(std::lround(unit * 32767.0F)); }
float signed_one(float value) { return value >= 0 ? 1.0F : -1.0F; }

} // namespace

std::array<std::int16_t, 2> fold_octahedral(const glm::vec3& direction) {
    const float sum = std::abs(direction.x) + std::abs(direction.y) + std::abs(direction.z);
    if (!(sum > 0) || !std::isfinite(sum)) {
        return {0, 0};
    }
    float x = direction.x / sum;
    float y = direction.y / sum;
    if (direction.z < 0) {
        const float folded_x = (1 - std::abs(y)) * signed_one(x);
        y = (1 - std::abs(x)) * signed_one(y);
        x = folded_x;
    }
    return {to_short(x), to_short(y)};
}

glm::vec3 unfold_octahedral(std::array<std::int16_t, 2> folded) {
    const float x = static_cast<float>(folded[0]) / 32767.0F;
    const float y = static_cast<float>(folded[1]) / 32767.0F;
    glm::vec3 n{x, y, 1 - std::abs(x) - std::abs(y)};
    if (n.z < 0) {
        n.x = (1 - std::abs(y)) * signed_one(x);
        n.y = (1 - std::abs(x)) * signed_one(y);
    }
    return glm::normalize(n);
}

} // namespace evenclose
