#include "checks/clearance/nearest_search.hpp"

#include "checks/clearance/box_bound.hpp"

#include <algorithm>
#include <limits>

namespace evenclose {
namespace {

struct Open {
    double lower;
    std::size_t number; // ties to the last opened, so that overlapping boxes are gone through depth first
    std::uint32_t a, b;
    bool operator<(const Open& other) const {
        return lower != other.lower ? lower > other.lower : number < other.number;
    }
};

} // namespace

Guess nearest_guess(const TriangleMesh& first_mesh, const Hierarchy& first, const TriangleMesh& second_mesh,
                    const Hierarchy& second, const RelativeMotion& motion, Travel at, SlopeShare share_first,
                    SlopeShare share_second, std::size_t most_boxes, const Witness* known) {
    const Pose pose_a = motion.pose_of_first(at, share_first);
    const Pose pose_b = motion.pose_of_second(at, share_second);
    const Vec3 shift_a = pose_a.apply(first.origin());
    const Vec3 shift_b = pose_b.apply(second.origin());
    const auto corners = [](const TriangleMesh& mesh, std::uint32_t index, const Pose& pose) {
        const TriangleCorners& c = mesh.triangles[index];
        return Triangle{pose.apply(mesh.vertices_mm[c[0]]), pose.apply(mesh.vertices_mm[c[1]]),
                        pose.apply(mesh.vertices_mm[c[2]])};
    };
    Guess best;
    best.nearest.distance = std::numeric_limits<double>::infinity();
    const auto look_at = [&](std::uint32_t i, std::uint32_t j) {
        const NearestPoints seen = nearest_points(corners(first_mesh, i, pose_a), corners(second_mesh, j, pose_b));
        if (seen.distance < best.nearest.distance) {
            best = {{i, j, share_first, share_second}, seen};
        }
    };
    look_at(first.triangle(0), second.triangle(0)); // so that there always is something
    if (known != nullptr) {
        look_at(known->of_first, known->of_second);
    }
    std::vector<Open> open;
    std::size_t looked = 0;
    const auto put = [&](std::uint32_t a, std::uint32_t b) {
        const PlacedBox box_a = placed(first.node(a), pose_a.rotation, shift_a);
        const PlacedBox box_b = placed(second.node(b), pose_b.rotation, shift_b);
        const double lower = std::max(0.0, separation(box_a, box_b, box_b.centre - box_a.centre).distance);
        ++looked;
        if (lower < best.nearest.distance) {
            open.push_back({lower, looked, a, b});
            std::push_heap(open.begin(), open.end());
        }
    };
    put(Hierarchy::kRoot, Hierarchy::kRoot);
    std::size_t leaves_in_vain = 0;
    while (!open.empty() && looked < most_boxes && leaves_in_vain < 12 && best.nearest.distance > 0) {
        const Open next = open.front();
        std::pop_heap(open.begin(), open.end());
        open.pop_back();
        if (next.lower >= best.nearest.distance) {
            break;
        }
        const BoxNode& a = first.node(next.a);
        const BoxNode& b = second.node(next.b);
        if (a.leaf() && b.leaf()) {
            const double before = best.nearest.distance;
            for (std::uint32_t i = a.first; i < a.first + a.count; ++i) {
                for (std::uint32_t j = b.first; j < b.first + b.count; ++j) {
                    look_at(first.triangle(i), second.triangle(j));
                }
            }
            leaves_in_vain = best.nearest.distance < before ? 0 : leaves_in_vain + 1;
        } else if (!a.leaf() && (b.leaf() || a.radius >= b.radius)) {
            put(a.first, next.b);
            put(a.first + 1, next.b);
        } else {
            put(next.a, b.first);
            put(next.a, b.first + 1);
        }
    }
    return best;
}

} // namespace evenclose
