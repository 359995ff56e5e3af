// checks/frame/plate_grid.hpp: head or platen as a grid of shells at mid-thickness.
#pragma once

#include "checks/frame/solve.hpp"
#include "scene/materials/material.hpp"
#include "scene/press/press.hpp"

#include <array>
#include <cstddef>
#include <vector>

namespace evenclose {

struct PlateGrid {
    Vec2 low_mm{0.0}, cell_mm{0.0};
    int along = 0, across = 0; // cells
    double z_mm = 0;           // of its mid-plane
    std::vector<std::size_t> nodes;
    std::size_t first_plate = 0;
    double thickness_mm = 0;
    Material material; // a stand-in where it is not known
    bool material_known = false;

    [[nodiscard]] std::size_t nearest(Vec2 at_mm) const; // node
    /// Height by which it moves at a place in plan, between its nodes; held to its edge.
    [[nodiscard]] double rise_mm(const FrameState& state, Vec2 at_mm) const;

    /// The four nodes around a place, with the share of each, as bilinear as `rise_mm`.
    struct Share {
        std::size_t node = 0;
        double part = 0;
    };
    [[nodiscard]] std::array<Share, 4> around(Vec2 at_mm) const;
};

/// Puts a plate into the frame, its mid-plane at `z_mm`, `thickness_factor` times as thick.
[[nodiscard]] PlateGrid add_plate(SpaceFrame& frame, const Platen& platen, double z_mm, double thickness_factor,
                                  const std::vector<Material>& own);

} // namespace evenclose
