#include "checks/clearance/hierarchy.hpp"

#include <glm/geometric.hpp>
#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>
#include <tbb/parallel_invoke.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <limits>
#include <utility>

namespace evenclose {
namespace {

constexpr std::size_t kParallelFrom = 8192; // fewer triangles than this are no work for a second thread
constexpr float kWiden = 1e-6F;             // see the head of hierarchy.hpp
constexpr std::size_t kFacings = 6;
// Boxes of no more triangles than this are fitted to corners. Fitting to the children's boxes instead makes a patch twice
// as thick as it is, which doubles its pairs in both bodies; larger boxes are never the ones that decide.
constexpr std::size_t kFittedToCorners = 512;

/// What is sorted: a triangle's centroid (as the sum of its corners, from the origin) and its number.
struct Primitive {
    float sum[3];
    std::uint32_t triangle;
};

/// A box in the making, with the area-weighted normal of what it holds.
struct Fit {
    Vec3 centre{0.0}, normal{0.0}, along{0.0}, across{0.0};
    Vec3 half{0.0};
    Vec3 facing{0.0};
};

Vec3 any_across(const Vec3& unit) {
    const Vec3 size = glm::abs(unit);
    const Vec3 helper = size.x <= size.y && size.x <= size.z ? Vec3{1, 0, 0}
                        : size.y <= size.z                   ? Vec3{0, 1, 0}
                                                             : Vec3{0, 0, 1};
    return glm::normalize(glm::cross(unit, helper));
}

Vec3 unit_or(const Vec3& v, const Vec3& otherwise) {
    const double length = glm::length(v);
    return length > 1e-150 ? v / length : otherwise;
}

std::size_t facing_of(const Vec3& normal) {
    const Vec3 size = glm::abs(normal);
    if (size.z >= size.x && size.z >= size.y) {
        return normal.z >= 0 ? 0 : 1;
    }
    if (size.y >= size.x) {
        return normal.y >= 0 ? 2 : 3;
    }
    return normal.x >= 0 ? 4 : 5;
}

/// The corners below one node, from a place among them so that floats resolve them well; in order of the primitives.
struct NearCorners {
    static constexpr std::size_t kLanes = 8;

    void start(std::size_t from, const Vec3& somewhere_there) {
        first = from;
        origin = somewhere_there;
    }
    void put(std::size_t primitive, const std::array<Vec3, 3>& corners) {
        for (std::size_t k = 0; k < 3; ++k) {
            const Vec3 at = corners[k] - origin;
            const std::size_t place = 3 * (primitive - first) + k;
            x[place] = static_cast<float>(at.x);
            y[place] = static_cast<float>(at.y);
            z[place] = static_cast<float>(at.z);
        }
    }
    /// How far the corners of primitives [from, to) reach along `axis`, from the hierarchy's origin.
    void measure(const Vec3& axis, std::size_t from, std::size_t to, double& low, double& high) const {
        const auto ax = static_cast<float>(axis.x);
        const auto ay = static_cast<float>(axis.y);
        const auto az = static_cast<float>(axis.z);
        const std::size_t begin = 3 * (from - first);
        const std::size_t end = 3 * (to - first);
        std::array<float, kLanes> least;
        std::array<float, kLanes> most;
        least.fill(std::numeric_limits<float>::max());
        most.fill(std::numeric_limits<float>::lowest());
        std::size_t i = begin;
        for (; i + kLanes <= end; i += kLanes) {
            for (std::size_t lane = 0; lane < kLanes; ++lane) {
                const float at = ax * x[i + lane] + ay * y[i + lane] + az * z[i + lane];
                least[lane] = at < least[lane] ? at : least[lane];
                most[lane] = at > most[lane] ? at : most[lane];
            }
        }
        for (; i < end; ++i) {
            const float at = ax * x[i] + ay * y[i] + az * z[i];
            least[0] = std::min(least[0], at);
            most[0] = std::max(most[0], at);
        }
        const double base = glm::dot(axis, origin);
        low = base + *std::min_element(least.begin(), least.end());
        high = base + *std::max_element(most.begin(), most.end());
    }

    std::size_t first = 0;
    Vec3 origin{0.0};
    std::array<float, 3 * kFittedToCorners> x, y, z;
};

class Builder {
public:
    Builder(const TriangleMesh& mesh, const Vec3& origin, BoxNode* nodes, std::vector<Primitive>& primitives)
        : mesh_(mesh), origin_(origin), nodes_(nodes), primitives_(primitives) {}

    Fit build(std::uint32_t index, std::size_t from, std::size_t to) {
        const std::size_t count = to - from;
        if (count <= kFittedToCorners) {
            NearCorners corners;
            corners.start(from, mesh_.vertices_mm[mesh_.triangles[primitives_[from].triangle][0]] - origin_);
            return build_near(index, from, to, corners);
        }
        const std::size_t middle = split(from, to);
        const std::uint32_t left = two_more();
        Fit fit_left;
        Fit fit_right;
        if (count >= kParallelFrom) {
            tbb::parallel_invoke([&] { fit_left = build(left, from, middle); },
                                 [&] { fit_right = build(left + 1, middle, to); });
        } else {
            fit_left = build(left, from, middle);
            fit_right = build(left + 1, middle, to);
        }
        return store(index, joined(fit_left, fit_right), left, 0);
    }

    Fit build_near(std::uint32_t index, std::size_t from, std::size_t to, NearCorners& corners) {
        const std::size_t count = to - from;
        if (count <= Hierarchy::kLeafTriangles) {
            return store(index, fit_leaf(from, to, corners), static_cast<std::uint32_t>(from),
                         static_cast<std::uint32_t>(count));
        }
        const std::size_t middle = split(from, to);
        const std::uint32_t left = two_more();
        const Fit fit_left = build_near(left, from, middle, corners);
        const Fit fit_right = build_near(left + 1, middle, to, corners);
        Fit fit = joined(fit_left, fit_right);
        Vec3 low{0.0};
        Vec3 high{0.0};
        corners.measure(fit.normal, from, to, low.x, high.x);
        corners.measure(fit.along, from, to, low.y, high.y);
        corners.measure(fit.across, from, to, low.z, high.z);
        place(fit, low, high);
        return store(index, fit, left, 0);
    }

    /// The few nodes above the six ways of facing.
    Fit build_top(std::uint32_t index, const std::vector<std::pair<std::size_t, std::size_t>>& ranges, std::size_t from,
                  std::size_t to) {
        if (to - from == 1) {
            return build(index, ranges[from].first, ranges[from].second);
        }
        const std::uint32_t left = two_more();
        const std::size_t middle = from + (to - from) / 2;
        Fit fit_left;
        Fit fit_right;
        tbb::parallel_invoke([&] { fit_left = build_top(left, ranges, from, middle); },
                             [&] { fit_right = build_top(left + 1, ranges, middle, to); });
        return store(index, joined(fit_left, fit_right), left, 0);
    }

    [[nodiscard]] std::size_t used() const { return used_.load(); }

private:
    std::uint32_t two_more() { return used_.fetch_add(2, std::memory_order_relaxed); }

    /// Halves the longest side of the box of centroids; by rank where that would be lopsided. Only the numbering of
    /// nodes depends on which thread comes first, and nothing depends on the numbering.
    std::size_t split(std::size_t from, std::size_t to) {
        float low[3] = {1e30F, 1e30F, 1e30F};
        float high[3] = {-1e30F, -1e30F, -1e30F};
        for (std::size_t i = from; i < to; ++i) {
            for (int axis = 0; axis < 3; ++axis) {
                low[axis] = std::min(low[axis], primitives_[i].sum[axis]);
                high[axis] = std::max(high[axis], primitives_[i].sum[axis]);
            }
        }
        int axis = 0;
        for (int other = 1; other < 3; ++other) {
            if (high[other] - low[other] > high[axis] - low[axis]) {
                axis = other;
            }
        }
        const float half_way = 0.5F * (low[axis] + high[axis]);
        Primitive* const p = primitives_.data();
        std::size_t middle = from;
        for (std::size_t i = from; i < to; ++i) { // without a branch: which side is a coin toss
            const Primitive moved = p[i];
            p[i] = p[middle];
            p[middle] = moved;
            middle += moved.sum[axis] < half_way ? 1 : 0;
        }
        const std::size_t least = std::max<std::size_t>(1, (to - from) / 16);
        if (middle - from < least || to - middle < least) {
            middle = from + (to - from) / 2;
            std::nth_element(p + from, p + middle, p + to, [axis](const Primitive& a, const Primitive& b) {
                return a.sum[axis] != b.sum[axis] ? a.sum[axis] < b.sum[axis] : a.triangle < b.triangle;
            });
        }
        return middle;
    }

    Fit fit_leaf(std::size_t from, std::size_t to, NearCorners& near) {
        // By triangle number, so that the leaf does not depend on how partitioning shuffled equals.
        std::sort(primitives_.begin() + static_cast<std::ptrdiff_t>(from),
                  primitives_.begin() + static_cast<std::ptrdiff_t>(to),
                  [](const Primitive& a, const Primitive& b) { return a.triangle < b.triangle; });
        std::array<Vec3, 3 * Hierarchy::kLeafTriangles> corners;
        std::size_t count = 0;
        Fit fit;
        for (std::size_t i = from; i < to; ++i) {
            const TriangleCorners& c = mesh_.triangles[primitives_[i].triangle];
            for (const std::uint32_t corner : c) {
                corners[count++] = mesh_.vertices_mm[corner] - origin_;
            }
            near.put(i, {corners[count - 3], corners[count - 2], corners[count - 1]});
            fit.facing += glm::cross(corners[count - 2] - corners[count - 3], corners[count - 1] - corners[count - 3]);
        }
        fit.normal = unit_or(fit.facing, Vec3{0, 0, 1});
        double best_area = std::numeric_limits<double>::infinity();
        Vec3 best_low{0.0};
        Vec3 best_high{0.0};
        for (int candidate = 0; candidate < 3; ++candidate) { // the smallest rectangle has a side along an edge
            const Vec3 edge =
                corners[static_cast<std::size_t>((candidate + 1) % 3)] - corners[static_cast<std::size_t>(candidate)];
            const Vec3 flat = edge - glm::dot(edge, fit.normal) * fit.normal;
            const double length = glm::length(flat);
            if (length <= 1e-9 * glm::length(edge) || length < 1e-150) {
                continue;
            }
            measure(fit.normal, flat / length, corners.data(), count, fit, best_low, best_high, best_area);
        }
        if (!std::isfinite(best_area)) {
            measure(fit.normal, any_across(fit.normal), corners.data(), count, fit, best_low, best_high, best_area);
        }
        place(fit, best_low, best_high);
        return fit;
    }

    static void measure(const Vec3& normal, const Vec3& along, const Vec3* points, std::size_t count, Fit& fit,
                        Vec3& best_low, Vec3& best_high, double& best_area) {
        const Vec3 across = glm::cross(normal, along);
        Vec3 low{std::numeric_limits<double>::infinity()};
        Vec3 high{-std::numeric_limits<double>::infinity()};
        for (std::size_t i = 0; i < count; ++i) {
            const Vec3 at{glm::dot(normal, points[i]), glm::dot(along, points[i]), glm::dot(across, points[i])};
            low = glm::min(low, at);
            high = glm::max(high, at);
        }
        keep_if_smaller(along, across, low, high, fit, best_low, best_high, best_area);
    }

    static void keep_if_smaller(const Vec3& along, const Vec3& across, const Vec3& low, const Vec3& high, Fit& fit,
                                Vec3& best_low, Vec3& best_high, double& best_area) {
        const double area = (high.y - low.y) * (high.z - low.z);
        if (area < best_area) {
            best_area = area;
            fit.along = along;
            fit.across = across;
            best_low = low;
            best_high = high;
        }
    }

    static void place(Fit& fit, const Vec3& low, const Vec3& high) {
        const Vec3 middle = 0.5 * (low + high);
        fit.centre = middle.x * fit.normal + middle.y * fit.along + middle.z * fit.across;
        fit.half = 0.5 * (high - low);
    }

    static Fit joined(const Fit& a, const Fit& b) {
        Fit fit;
        fit.facing = a.facing + b.facing;
        // Parts that face all ways have no normal to speak of: then the greater part's.
        const double size_a = glm::length(a.facing);
        const double size_b = glm::length(b.facing);
        fit.normal = glm::length(fit.facing) > 0.3 * (size_a + size_b) ? unit_or(fit.facing, a.normal)
                     : size_a >= size_b                                ? a.normal
                                                                       : b.normal;
        double best_area = std::numeric_limits<double>::infinity();
        Vec3 best_low{0.0};
        Vec3 best_high{0.0};
        const Vec3 directions[3] = {b.centre - a.centre, a.along, b.along};
        for (const Vec3& direction : directions) {
            const Vec3 flat = direction - glm::dot(direction, fit.normal) * fit.normal;
            const double length = glm::length(flat);
            if (length > 1e-3 * glm::length(direction) && length > 1e-150) {
                join(a, b, flat / length, fit, best_low, best_high, best_area);
            }
        }
        if (!std::isfinite(best_area)) {
            join(a, b, any_across(fit.normal), fit, best_low, best_high, best_area);
        }
        place(fit, best_low, best_high);
        return fit;
    }

    static void join(const Fit& a, const Fit& b, const Vec3& along, Fit& fit, Vec3& best_low, Vec3& best_high,
                     double& best_area) {
        const Vec3 across = glm::cross(fit.normal, along);
        const Vec3 axes[3] = {fit.normal, along, across};
        Vec3 low{0.0};
        Vec3 high{0.0};
        for (int i = 0; i < 3; ++i) {
            const double at_a = glm::dot(axes[i], a.centre);
            const double at_b = glm::dot(axes[i], b.centre);
            const double reach_a = std::abs(glm::dot(axes[i], a.normal)) * a.half.x +
                                   std::abs(glm::dot(axes[i], a.along)) * a.half.y +
                                   std::abs(glm::dot(axes[i], a.across)) * a.half.z;
            const double reach_b = std::abs(glm::dot(axes[i], b.normal)) * b.half.x +
                                   std::abs(glm::dot(axes[i], b.along)) * b.half.y +
                                   std::abs(glm::dot(axes[i], b.across)) * b.half.z;
            low[i] = std::min(at_a - reach_a, at_b - reach_b);
            high[i] = std::max(at_a + reach_a, at_b + reach_b);
        }
        keep_if_smaller(along, across, low, high, fit, best_low, best_high, best_area);
    }

    /// Writes the node, widened for its rounding; hands on what was written, so that parents hold the rounded box.
    Fit store(std::uint32_t index, Fit fit, std::uint32_t first, std::uint32_t count) {
        BoxNode& node = nodes_[index];
        const double widen = kWiden * (glm::length(fit.centre) + glm::length(fit.half)) + 1e-9;
        fit.half += widen;
        for (int axis = 0; axis < 3; ++axis) {
            node.centre[axis] = static_cast<float>(fit.centre[axis]);
            node.normal[axis] = static_cast<float>(fit.normal[axis]);
            node.along[axis] = static_cast<float>(fit.along[axis]);
            node.half[axis] = std::nextafter(static_cast<float>(fit.half[axis]), std::numeric_limits<float>::max());
        }
        node.first = first;
        node.count = count;
        node.radius = static_cast<float>(glm::length(fit.half) * (1 + 1e-6));
        return fit;
    }

    const TriangleMesh& mesh_;
    const Vec3 origin_;
    BoxNode* nodes_;
    std::vector<Primitive>& primitives_;
    std::atomic<std::uint32_t> used_{1}; // the root
};

} // namespace

Hierarchy::Hierarchy(const TriangleMesh& mesh) : origin_(bounds_of(mesh).centre_mm()) {
    const std::size_t count = mesh.triangles.size();
    std::vector<std::uint8_t> facing(count);
    std::vector<Primitive> primitives(count);
    // Centroids and facings block by block, then each to its place by facing, stable: the same for any thread count.
    constexpr std::size_t kBlock = 16384;
    const std::size_t blocks = (count + kBlock - 1) / kBlock;
    std::vector<std::array<std::size_t, kFacings>> starts(blocks, std::array<std::size_t, kFacings>{});
    std::vector<Primitive> unsorted(count);
    tbb::parallel_for(std::size_t{0}, blocks, [&](std::size_t block) {
        for (std::size_t i = block * kBlock; i < std::min(count, (block + 1) * kBlock); ++i) {
            const TriangleCorners& c = mesh.triangles[i];
            const Vec3 p0 = mesh.vertices_mm[c[0]] - origin_;
            const Vec3 p1 = mesh.vertices_mm[c[1]] - origin_;
            const Vec3 p2 = mesh.vertices_mm[c[2]] - origin_;
            const Vec3 sum = p0 + p1 + p2;
            unsorted[i] = {{static_cast<float>(sum.x), static_cast<float>(sum.y), static_cast<float>(sum.z)},
                           static_cast<std::uint32_t>(i)};
            const std::size_t way = facing_of(glm::cross(p1 - p0, p2 - p0));
            facing[i] = static_cast<std::uint8_t>(way);
            ++starts[block][way];
        }
    });
    std::vector<std::pair<std::size_t, std::size_t>> ranges;
    std::size_t place = 0;
    for (std::size_t way = 0; way < kFacings; ++way) {
        const std::size_t from = place;
        for (std::size_t block = 0; block < blocks; ++block) {
            place += std::exchange(starts[block][way], place);
        }
        if (place > from) {
            ranges.emplace_back(from, place);
        }
    }
    tbb::parallel_for(std::size_t{0}, blocks, [&](std::size_t block) {
        for (std::size_t i = block * kBlock; i < std::min(count, (block + 1) * kBlock); ++i) {
            primitives[starts[block][facing[i]]++] = unsorted[i];
        }
    });
    std::vector<Primitive>().swap(unsorted);
    nodes_ = std::make_unique_for_overwrite<BoxNode[]>(2 * count + 16);
    Builder builder(mesh, origin_, nodes_.get(), primitives);
    builder.build_top(kRoot, ranges, 0, ranges.size());
    node_count_ = builder.used();
    order_.resize(count);
    tbb::parallel_for(tbb::blocked_range<std::size_t>(0, count, kBlock), [&](const auto& range) {
        for (std::size_t i = range.begin(); i != range.end(); ++i) {
            order_[i] = primitives[i].triangle;
        }
    });
}

} // namespace evenclose
