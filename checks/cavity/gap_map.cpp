#include "checks/cavity/gap_map.hpp"

#include "checks/outline.hpp"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <utility>

namespace evenclose {
namespace {

// How far below the lower face a ray starts, over the stack's thickness: halves may be driven this far into each other
// before a gap is lost. More would let rays start outside thin halves.
constexpr double kBelow_mm = 10.0;
// Beyond this there is no cavity: ten stacks and a bit.
double farthest(double stack_mm) { return 10 * stack_mm + 50; }

// Adaptive sampling starts with squares of this many grid steps.
constexpr int kCoarsest = 8;

PlanGrid deck_grid(const TriangleMesh& lower, const TriangleMesh& upper, const std::vector<Vec2>& outline_mm,
                   double step_mm) {
    const Box below = bounds_of(lower);
    const Box above = bounds_of(upper);
    Vec2 low = glm::max(Vec2(below.low_mm), Vec2(above.low_mm));
    Vec2 high = glm::min(Vec2(below.high_mm), Vec2(above.high_mm));
    if (!(low.x < high.x && low.y < high.y)) {
        throw std::invalid_argument("the halves do not stand above each other");
    }
    if (!outline_mm.empty()) {
        low = high = outline_mm.front();
        for (const Vec2& corner : outline_mm) {
            low = glm::min(low, corner);
            high = glm::max(high, corner);
        }
        if (!(low.x < high.x && low.y < high.y)) {
            throw std::invalid_argument("the deck's outline has no area");
        }
    }
    return grid_over(low, high, step_mm);
}

/// Squares of the grid that are sampled in their middle and split in four where the gap changes quickly.
struct Square {
    int column = 0, row = 0; // of its first grid point
    int size = 1;            // in grid steps
};

bool alike(const GapSample& a, const GapSample& b, double resolution_mm) {
    return a.seen == b.seen && a.above == b.above &&
           (a.seen != Seen::faced ||
            std::abs(static_cast<double>(a.gap_mm) - static_cast<double>(b.gap_mm)) <= resolution_mm);
}

} // namespace

FacingHalves::FacingHalves(std::shared_ptr<const TriangleMesh> lower, std::shared_ptr<const TriangleMesh> upper,
                           double step_mm, std::vector<Vec2> outline_mm)
    : lower_(std::move(lower)), upper_(std::move(upper)), outline_mm_(std::move(outline_mm)),
      lower_map_(height_map(*lower_, deck_grid(*lower_, *upper_, outline_mm_, step_mm), SeenFrom::above)),
      upper_map_(height_map(*upper_, lower_map_.grid, SeenFrom::below)),
      lower_face_(forming_face(*lower_, lower_map_, SeenFrom::above)),
      upper_face_(forming_face(*upper_, upper_map_, SeenFrom::below)), tree_(*upper_) {}

void FacingHalves::along_normal(GapSample& sample, double stack_mm, const Pose& into_upper) const {
    const double below = stack_mm + kBelow_mm;
    const Vec3 normal{sample.normal};
    const Vec3 origin = into_upper.apply(sample.at_mm - below * normal);
    const Vec3 direction = into_upper.turn(normal);
    const auto met = tree_.first_along(origin, direction, below + farthest(stack_mm));
    sample.gap_mm = 0;
    sample.facing = glm::vec3{0.0F};
    if (!met) {
        sample.seen = Seen::no_opposite_face;
    } else if (upper_face_.forming[met->triangle] == 0) {
        sample.seen = Seen::past_the_rim;
    } else {
        sample.seen = Seen::faced;
        sample.gap_mm = static_cast<float>(met->along_mm - below);
        sample.facing = glm::vec3(inverse(into_upper).turn(-facet_normal(*upper_, met->triangle, SeenFrom::below)));
    }
}

GapSample FacingHalves::at(const HeightMap& below, const HeightMap& above, std::size_t index, double stack_mm) const {
    GapSample sample;
    const Vec2 place = below.grid.at_mm(index);
    sample.at_mm = {place.x, place.y, 0};
    if (!below.seen(index) || lower_face_.forming[below.triangle[index]] == 0) {
        return sample;
    }
    sample.at_mm.z = below.z_mm(index);
    sample.above = above.seen(index) && upper_face_.forming[above.triangle[index]] != 0;
    if (sample.above) {
        sample.stroke_gap_mm = static_cast<float>(above.z_mm(index) - below.z_mm(index));
    }
    sample.normal = glm::vec3(normal_at(*lower_, lower_face_, SeenFrom::above, below.triangle[index], sample.at_mm));
    along_normal(sample, stack_mm, {});
    return sample;
}

GapMap FacingHalves::map(const GapRequest& request) const {
    GapMap result;
    result.stack_mm = request.stack_mm;
    if (request.samples_a_mm2 > 0) {
        const double step = 1.0 / std::sqrt(request.samples_a_mm2);
        const PlanGrid grid = deck_grid(*lower_, *upper_, outline_mm_, step);
        const HeightMap below = height_map(*lower_, grid, SeenFrom::above);
        const HeightMap above = height_map(*upper_, grid, SeenFrom::below);
        std::vector<std::size_t> wanted;
        for (std::size_t i = 0; i < grid.size(); ++i) {
            if (inside_outline(outline_mm_, grid.at_mm(i))) {
                wanted.push_back(i);
            }
        }
        result.samples.resize(wanted.size());
        tbb::parallel_for(tbb::blocked_range<std::size_t>(0, wanted.size(), 1024), [&](const auto& range) {
            for (std::size_t k = range.begin(); k < range.end(); ++k) {
                GapSample& sample = result.samples[k] = at(below, above, wanted[k], request.stack_mm);
                const double slope = std::max(0.01, static_cast<double>(sample.normal.z));
                sample.area_mm2 = static_cast<float>(step * step / (sample.seen == Seen::no_lower_face ? 1.0 : slope));
            }
        });
        return result;
    }

    const PlanGrid& grid = lower_map_.grid;
    std::vector<Square> squares;
    for (int row = 0; row < grid.rows; row += kCoarsest) {
        for (int column = 0; column < grid.columns; column += kCoarsest) {
            squares.push_back({column, row, kCoarsest});
        }
    }
    std::vector<GapSample> samples;
    for (int size = kCoarsest; !squares.empty(); size /= 2) {
        samples.assign(squares.size(), {});
        std::vector<std::uint8_t> within(squares.size(), 0); // 0 outside the outline, 1 across its edge, 2 inside
        tbb::parallel_for(tbb::blocked_range<std::size_t>(0, squares.size(), 256), [&](const auto& range) {
            for (std::size_t k = range.begin(); k < range.end(); ++k) {
                const Square& square = squares[k];
                const int column = std::min(square.column + size / 2, grid.columns - 1);
                const int row = std::min(square.row + size / 2, grid.rows - 1);
                const Vec2 middle = grid.first_mm + (0.5 * (size - 1)) * Vec2{grid.step_mm} +
                                    grid.step_mm * Vec2{square.column, square.row};
                const bool across_edge = size > 1 && distance_to_outline_mm(outline_mm_, middle) < size * grid.step_mm;
                within[k] = across_edge                                                                            ? 1
                            : inside_outline(outline_mm_, size > 1 ? middle : grid.at_mm(grid.index(column, row))) ? 2
                                                                                                                   : 0;
                if (within[k] != 0) {
                    samples[k] = at(lower_map_, upper_map_, grid.index(column, row), request.stack_mm);
                }
            }
        });
        // Squares of this size beside each other, by their place.
        const int across = (grid.columns + size - 1) / size;
        const int up = (grid.rows + size - 1) / size;
        std::vector<std::int32_t> by_place(static_cast<std::size_t>(across) * static_cast<std::size_t>(up), -1);
        const auto place = [&](int column, int row) {
            return static_cast<std::size_t>(row) * static_cast<std::size_t>(across) + static_cast<std::size_t>(column);
        };
        for (std::size_t k = 0; k < squares.size(); ++k) {
            by_place[place(squares[k].column / size, squares[k].row / size)] = static_cast<std::int32_t>(k);
        }
        std::vector<Square> closer;
        for (std::size_t k = 0; k < squares.size(); ++k) {
            const Square& square = squares[k];
            const int column = square.column / size;
            const int row = square.row / size;
            const bool whole = square.column + size <= grid.columns && square.row + size <= grid.rows;
            if (within[k] == 0) {
                continue;
            }
            bool split = within[k] == 1 || !whole;
            for (const auto& [dx, dy] : {std::pair{1, 0}, {-1, 0}, {0, 1}, {0, -1}}) {
                if (split || column + dx < 0 || column + dx >= across || row + dy < 0 || row + dy >= up) {
                    continue;
                }
                const std::int32_t beside = by_place[place(column + dx, row + dy)];
                split = beside >= 0 && within[static_cast<std::size_t>(beside)] != 0 &&
                        !alike(samples[k], samples[static_cast<std::size_t>(beside)], request.resolution_mm);
            }
            if (split && size > 1) {
                const int half = size / 2;
                for (const int dy : {0, half}) {
                    for (const int dx : {0, half}) {
                        if (square.column + dx < grid.columns && square.row + dy < grid.rows) {
                            closer.push_back({square.column + dx, square.row + dy, half});
                        }
                    }
                }
            } else {
                const double side = size * grid.step_mm;
                const double slope = std::max(0.01, static_cast<double>(samples[k].normal.z));
                samples[k].area_mm2 =
                    static_cast<float>(side * side / (samples[k].seen == Seen::no_lower_face ? 1.0 : slope));
                result.samples.push_back(samples[k]);
            }
        }
        squares = std::move(closer);
    }
    return result;
}

GapMap FacingHalves::moved(const GapMap& map, const Pose& upper) const {
    GapMap result = map;
    const Pose into_upper = inverse(upper);
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, map.samples.size(), 512), [&](const auto& range) {
        for (std::size_t i = range.begin(); i < range.end(); ++i) {
            GapSample& sample = result.samples[i];
            if (sample.seen != Seen::no_lower_face) {
                along_normal(sample, map.stack_mm, into_upper);
                sample.above = false; // only along the normal
                sample.stroke_gap_mm = 0;
            }
        }
    });
    return result;
}

std::vector<float> FacingHalves::stroke_gaps(const PlanGrid& grid) const {
    const HeightMap below = height_map(*lower_, grid, SeenFrom::above);
    const HeightMap above = height_map(*upper_, grid, SeenFrom::below);
    std::vector<float> gaps(grid.size());
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, gaps.size(), 1 << 14), [&](const auto& range) {
        for (std::size_t i = range.begin(); i < range.end(); ++i) {
            gaps[i] = below.seen(i) && above.seen(i) ? static_cast<float>(above.z_mm(i) - below.z_mm(i))
                                                     : std::numeric_limits<float>::quiet_NaN();
        }
    });
    return gaps;
}

GapMap displaced(const GapMap& map, const DisplacementField& lower, const DisplacementField& upper) {
    GapMap result = map;
    for (GapSample& sample : result.samples) {
        if (sample.seen != Seen::faced) {
            continue;
        }
        const Vec3 normal{sample.normal};
        const Vec3 facing{sample.facing};
        const Vec3 met = sample.at_mm + static_cast<double>(sample.gap_mm) * normal;
        Vec3 apart{0.0};
        if (upper) {
            apart += upper(met);
        }
        if (lower) {
            apart -= lower(sample.at_mm);
        }
        // The ray grazes the upper face where the two hardly face each other: nothing sensible can be said there.
        const double across = glm::dot(facing, normal);
        const double change = across > 0.1 ? glm::dot(facing, apart) / across : glm::dot(normal, apart);
        sample.gap_mm = static_cast<float>(static_cast<double>(sample.gap_mm) + change);
        if (sample.above) {
            const double up = std::max(0.1, static_cast<double>(sample.facing.z));
            sample.stroke_gap_mm =
                static_cast<float>(static_cast<double>(sample.stroke_gap_mm) + glm::dot(facing, apart) / up);
        }
    }
    return result;
}

} // namespace evenclose
