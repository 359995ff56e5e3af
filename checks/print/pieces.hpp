// checks/print/pieces.hpp: a half cut into equal pieces that the printer takes, by planes square to the axes.
#pragma once

#include "scene/vec.hpp"

#include <array>
#include <vector>

namespace evenclose {

struct Pieces {
    std::array<int, 3> count{1, 1, 1}; // along X, Y, Z of the mold frame
    Vec3 size_mm{0.0};                 // of each
    Vec3 room_mm{0.0};                 // that the printer has for one, as it is laid on it
    bool as_it_lies = true;            // false: turned on the printer
    [[nodiscard]] int all() const { return count[0] * count[1] * count[2]; }
};

/// Needs: sizes above 0.   Threads: pure, any.
[[nodiscard]] Pieces pieces_of(const Vec3& half_mm, const Vec3& build_volume_mm);

/// Where the cutting planes fall along X, Y, Z of the mold frame.
using PieceJoints = std::array<std::vector<double>, 3>;
[[nodiscard]] PieceJoints joints_of(const Box& half, const Pieces& pieces);

} // namespace evenclose
