#include "checks/print/pieces.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// A part that is as long as the printer goes in to a hundredth of a millimetre.
constexpr double kFits = 1e-5;

int parts(double length_mm, double room_mm) {
    return static_cast<int>(std::min(1e6, std::max(1.0, std::ceil(length_mm / room_mm - kFits))));
}

} // namespace

Pieces pieces_of(const Vec3& half_mm, const Vec3& build_volume_mm) {
    // As it lies first, then turned about Z, then stood on a side or an end.
    constexpr std::array<std::array<int, 3>, 6> kWays{
        {{0, 1, 2}, {1, 0, 2}, {0, 2, 1}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}}};
    Pieces best;
    bool first = true;
    for (const auto& way : kWays) {
        Pieces pieces;
        for (std::size_t axis = 0; axis < 3; ++axis) {
            const auto k = static_cast<int>(axis);
            pieces.count[axis] = parts(half_mm[k], build_volume_mm[way[axis]]);
            pieces.size_mm[k] = half_mm[k] / pieces.count[axis];
            pieces.room_mm[k] = build_volume_mm[way[axis]];
        }
        pieces.as_it_lies = first;
        if (first || pieces.all() < best.all()) {
            best = pieces;
        }
        first = false;
    }
    return best;
}

PieceJoints joints_of(const Box& half, const Pieces& pieces) {
    PieceJoints joints;
    for (int axis = 0; axis < 3; ++axis) {
        const auto k = static_cast<std::size_t>(axis);
        for (int joint = 1; joint < pieces.count[k]; ++joint) {
            joints[k].push_back(half.low_mm[axis] + joint * pieces.size_mm[axis]);
        }
    }
    return joints;
}

} // namespace evenclose
