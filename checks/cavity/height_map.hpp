// checks/cavity/height_map.hpp: a mesh as it is seen along the stroke: at each point of a grid in plan, how high its
// highest (or lowest) face lies, and which triangle that is.
//
// Rasterised: every triangle is visited once and offers its plane's height at the grid points it covers; the best offer
// stays. That needs no tree, so it is the quickest way to the gap along the stroke. Height and triangle are packed in
// one word and exchanged atomically; ties go to the lower triangle number, so the answer does not depend on threads.
//
// Heights are exact for the facets to within 4e-6 mm on a part 100 mm tall (single precision about the middle height).
// Orientation is not looked at, so an inside-out mesh gives the same map.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

namespace evenclose {

/// Points `step_mm` apart in X and Y, row by row from `first_mm`.
struct PlanGrid {
    Vec2 first_mm{0.0};
    double step_mm = 1;
    int columns = 0, rows = 0;

    [[nodiscard]] std::size_t size() const {
        return static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows);
    }
    [[nodiscard]] std::size_t index(int column, int row) const {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(column);
    }
    [[nodiscard]] Vec2 at_mm(std::size_t index) const {
        const auto across = static_cast<std::size_t>(columns);
        const std::size_t column = index % across;
        const std::size_t row = index / across;
        return first_mm + step_mm * Vec2{static_cast<double>(column), static_cast<double>(row)};
    }
};

/// A grid over the rectangle, its points in the middles of squares of `step_mm`, so that each stands for step^2.
/// Needs: low <= high, finite; step > 0.   Faults: std::invalid_argument beyond 2^28 points.
[[nodiscard]] PlanGrid grid_over(Vec2 low_mm, Vec2 high_mm, double step_mm);

enum class SeenFrom { above, below };

struct HeightMap {
    static constexpr std::uint32_t kNone = std::numeric_limits<std::uint32_t>::max();

    PlanGrid grid;
    double middle_mm = 0;                // heights are told from here
    std::vector<float> over_middle_mm;   // meaningless where nothing is seen
    std::vector<std::uint32_t> triangle; // kNone where nothing is seen

    [[nodiscard]] bool seen(std::size_t index) const { return triangle[index] != kNone; }
    [[nodiscard]] double z_mm(std::size_t index) const {
        return middle_mm + static_cast<double>(over_middle_mm[index]);
    }
};

/// Needs: finite corners, fewer than 2^32 - 1 triangles. Degenerate triangles and those that stand upright are not seen.
/// Threads: runs on TBB's.
[[nodiscard]] HeightMap height_map(const TriangleMesh& mesh, const PlanGrid& grid, SeenFrom side);

} // namespace evenclose
