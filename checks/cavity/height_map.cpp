#include "checks/cavity/height_map.hpp"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <atomic>
#include <bit>
#include <cmath>
#include <stdexcept>

namespace evenclose {
namespace {

constexpr std::uint64_t kEmpty = std::numeric_limits<std::uint64_t>::max();

/// Unsigned numbers in the order of the floats.
std::uint32_t ordered(float value) {
    const auto bits = std::bit_cast<std::uint32_t>(value);
    return (bits & 0x80000000U) != 0 ? ~bits : bits | 0x80000000U;
}
float unordered(std::uint32_t key) { return std::bit_cast<float>((key & 0x80000000U) != 0 ? key & 0x7FFFFFFFU : ~key); }

/// Keeps the smaller of what stands there and what is offered.
void offer(std::uint64_t& place, std::uint64_t word) {
    const std::atomic_ref<std::uint64_t> shared(place);
    std::uint64_t there = shared.load(std::memory_order_relaxed);
    while (word < there && !shared.compare_exchange_weak(there, word, std::memory_order_relaxed)) {
    }
}

class Raster {
public:
    Raster(const TriangleMesh& mesh, const PlanGrid& grid, SeenFrom side, double middle_mm)
        : mesh_(mesh), grid_(grid), sign_(side == SeenFrom::above ? -1.0 : 1.0), middle_mm_(middle_mm),
          a_step_(1.0 / grid.step_mm), words_(grid.size(), kEmpty) {}

    void draw(std::uint32_t triangle) {
        const TriangleCorners& corners = mesh_.triangles[triangle];
        const Vec3 a = in_steps(corners[0]);
        const Vec3 b = in_steps(corners[1]);
        const Vec3 c = in_steps(corners[2]);
        // A point of the grid on an edge belongs to both neighbours: rounding must not lose it between them.
        const int first_column = first_at(std::min({a.x, b.x, c.x}));
        const int last_column = last_at(std::max({a.x, b.x, c.x}), grid_.columns);
        const int first_row = first_at(std::min({a.y, b.y, c.y}));
        const int last_row = last_at(std::max({a.y, b.y, c.y}), grid_.rows);
        if (first_column > last_column || first_row > last_row) {
            return;
        }
        const double doubled = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
        const double size = std::abs(b.x - a.x) + std::abs(b.y - a.y) + std::abs(c.x - a.x) + std::abs(c.y - a.y);
        if (std::abs(doubled) < 1e-12 * size * size || size == 0) {
            return; // upright or degenerate: its neighbours have the grid point
        }
        const double inverse = 1.0 / doubled;
        const auto [least, most] = std::minmax({a.z, b.z, c.z});
        const double slack = -kSlack * (1.0 + size * std::abs(inverse) * size);
        for (int row = first_row; row <= last_row; ++row) {
            for (int column = first_column; column <= last_column; ++column) {
                const double x = column;
                const double y = row;
                const double at_b = ((x - a.x) * (c.y - a.y) - (y - a.y) * (c.x - a.x)) * inverse;
                const double at_c = ((b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x)) * inverse;
                if (at_b < slack || at_c < slack || at_b + at_c > 1.0 - slack) {
                    continue;
                }
                const double z = std::clamp(a.z + at_b * (b.z - a.z) + at_c * (c.z - a.z), least, most);
                const std::uint64_t key = ordered(static_cast<float>(sign_ * z));
                offer(words_[grid_.index(column, row)], key << 32U | triangle);
            }
        }
    }

    [[nodiscard]] HeightMap take() const {
        HeightMap map{grid_, middle_mm_, std::vector<float>(words_.size()), std::vector<std::uint32_t>(words_.size())};
        tbb::parallel_for(tbb::blocked_range<std::size_t>(0, words_.size(), 1 << 14), [&](const auto& range) {
            for (std::size_t i = range.begin(); i < range.end(); ++i) {
                map.triangle[i] = static_cast<std::uint32_t>(words_[i]);
                map.over_middle_mm[i] =
                    static_cast<float>(sign_) * unordered(static_cast<std::uint32_t>(words_[i] >> 32U));
            }
        });
        return map;
    }

private:
    // In grid steps and shares of a triangle: far above the rounding of doubles on a grid of 10^4 steps, far below what
    // a print could show.
    static constexpr double kSlack = 1e-10;

    [[nodiscard]] Vec3 in_steps(std::uint32_t vertex) const {
        const Vec3& v = mesh_.vertices_mm[vertex];
        return {(v.x - grid_.first_mm.x) * a_step_, (v.y - grid_.first_mm.y) * a_step_, v.z - middle_mm_};
    }
    static int first_at(double low) { return static_cast<int>(std::max(0.0, std::ceil(std::min(low, 1e9) - 1e-7))); }
    static int last_at(double high, int count) {
        return static_cast<int>(std::min(static_cast<double>(count) - 1, std::floor(std::max(high, -1e9) + 1e-7)));
    }

    const TriangleMesh& mesh_;
    const PlanGrid& grid_;
    double sign_, middle_mm_, a_step_;
    std::vector<std::uint64_t> words_;
};

} // namespace

PlanGrid grid_over(Vec2 low_mm, Vec2 high_mm, double step_mm) {
    const double columns = std::max(1.0, std::ceil((high_mm.x - low_mm.x) / step_mm - 1e-9));
    const double rows = std::max(1.0, std::ceil((high_mm.y - low_mm.y) / step_mm - 1e-9));
    if (!(columns * rows < 268435456.0)) {
        throw std::invalid_argument("cavity: the sampling asked for is too fine for the area");
    }
    return {low_mm + Vec2{0.5 * step_mm}, step_mm, static_cast<int>(columns), static_cast<int>(rows)};
}

HeightMap height_map(const TriangleMesh& mesh, const PlanGrid& grid, SeenFrom side) {
    Raster raster(mesh, grid, side, bounds_of(mesh).centre_mm().z);
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, mesh.triangles.size(), 1 << 12), [&](const auto& range) {
        for (std::size_t i = range.begin(); i < range.end(); ++i) {
            raster.draw(static_cast<std::uint32_t>(i));
        }
    });
    return raster.take();
}

} // namespace evenclose
