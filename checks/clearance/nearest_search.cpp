#include "checks/clearance/nearest_search.hpp"

#include "checks/clearance/box_bound.hpp"

#include <algorithm>
#include <limits>
#include <utility>

namespace evenclose {
namespace {

constexpr int kDivesInVain = 12; // then what is found is taken for good enough

struct Open {
    double lower;
    std::size_t number; // ties to the last opened, so that overlapping boxes are gone through depth first
    std::uint32_t a, b;
    bool operator<(const Open& other) const {
        return lower != other.lower ? lower > other.lower : number < other.number;
    }
};

Triangle corners_at(const TriangleMesh& mesh, std::uint32_t index, const Pose& pose) {
    const TriangleCorners& c = mesh.triangles[index];
    return Triangle{pose.apply(mesh.vertices_mm[c[0]]), pose.apply(mesh.vertices_mm[c[1]]),
                    pose.apply(mesh.vertices_mm[c[2]])};
}

} // namespace

Guess contact_guess(const TriangleMesh& first_mesh, const Hierarchy& first, const TriangleMesh& second_mesh,
                    const Hierarchy& second, const RelativeMotion& motion, Travel at, Slope slope_first,
                    Slope slope_second, std::size_t most_boxes) {
    const Pose pose_a = motion.pose_of_first(at, slope_first);
    const Pose pose_b = motion.pose_of_second(at, slope_second);
    const Vec3 shift_a = pose_a.apply(first.origin());
    const Vec3 shift_b = pose_b.apply(second.origin());
    Guess found;
    found.nearest.distance = std::numeric_limits<double>::infinity();
    std::vector<std::pair<std::uint32_t, std::uint32_t>> stack{{Hierarchy::kRoot, Hierarchy::kRoot}};
    for (std::size_t looked = 0; !stack.empty() && looked < most_boxes; ++looked) {
        const auto [ia, ib] = stack.back();
        stack.pop_back();
        const BoxNode& a = first.node(ia);
        const BoxNode& b = second.node(ib);
        const PlacedBox box_a = placed(a, pose_a.rotation, shift_a);
        const PlacedBox box_b = placed(b, pose_b.rotation, shift_b);
        if (separation(box_a, box_b, box_b.centre - box_a.centre).distance > kTouch_mm) {
            continue;
        }
        if (!a.leaf() && (b.leaf() || a.radius >= b.radius)) {
            stack.emplace_back(a.first, ib);
            stack.emplace_back(a.first + 1, ib);
        } else if (!b.leaf()) {
            stack.emplace_back(ia, b.first);
            stack.emplace_back(ia, b.first + 1);
        } else {
            for (std::uint32_t i = a.first; i < a.first + a.count; ++i) {
                const Triangle of_first = corners_at(first_mesh, first.triangle(i), pose_a);
                for (std::uint32_t j = b.first; j < b.first + b.count; ++j) {
                    const NearestPoints seen =
                        nearest_points(of_first, corners_at(second_mesh, second.triangle(j), pose_b));
                    if (seen.distance <= kTouch_mm) {
                        return {{first.triangle(i), second.triangle(j), slope_first, slope_second}, seen};
                    }
                }
            }
        }
    }
    return found;
}

Guess nearest_guess(const TriangleMesh& first_mesh, const Hierarchy& first, const TriangleMesh& second_mesh,
                    const Hierarchy& second, const RelativeMotion& motion, Travel at, Slope slope_first,
                    Slope slope_second, std::size_t most_boxes, const Witness* known) {
    const Pose pose_a = motion.pose_of_first(at, slope_first);
    const Pose pose_b = motion.pose_of_second(at, slope_second);
    const Vec3 shift_a = pose_a.apply(first.origin());
    const Vec3 shift_b = pose_b.apply(second.origin());
    Guess best;
    best.nearest.distance = std::numeric_limits<double>::infinity();
    const auto look_at = [&](std::uint32_t i, std::uint32_t j) {
        const NearestPoints seen =
            nearest_points(corners_at(first_mesh, i, pose_a), corners_at(second_mesh, j, pose_b));
        if (seen.distance < best.nearest.distance) {
            best = {{i, j, slope_first, slope_second}, seen};
        }
    };
    look_at(first.triangle(0), second.triangle(0)); // so that there always is something
    if (known != nullptr) {
        look_at(known->of_first, known->of_second);
    }
    std::vector<Open> open;
    std::size_t looked = 0;
    const auto look_at_boxes = [&](std::uint32_t a, std::uint32_t b) {
        const PlacedBox box_a = placed(first.node(a), pose_a.rotation, shift_a);
        const PlacedBox box_b = placed(second.node(b), pose_b.rotation, shift_b);
        const Vec3 offset = box_b.centre - box_a.centre;
        const double lower = separation(box_a, box_b, offset).distance;
        // Overlapping boxes by how near their middles are.
        return Open{lower > 0 ? lower : -1 / (1 + glm::length(offset)), looked++, a, b};
    };
    open.push_back(look_at_boxes(Hierarchy::kRoot, Hierarchy::kRoot));
    int dives_in_vain = 0;
    while (!open.empty() && looked < most_boxes && dives_in_vain < kDivesInVain && best.nearest.distance > 0) {
        Open next = open.front();
        std::pop_heap(open.begin(), open.end());
        open.pop_back();
        if (next.lower >= best.nearest.distance) {
            break;
        }
        // Down to the leaves at once, by the nearer half each time; the other halves wait.
        while (true) {
            const BoxNode& a = first.node(next.a);
            const BoxNode& b = second.node(next.b);
            if (a.leaf() && b.leaf()) {
                break;
            }
            const bool split_a = !a.leaf() && (b.leaf() || a.radius >= b.radius);
            Open left = look_at_boxes(split_a ? a.first : next.a, split_a ? next.b : b.first);
            Open right = look_at_boxes(split_a ? a.first + 1 : next.a, split_a ? next.b : b.first + 1);
            if (left < right) { // the nearer is the greater
                std::swap(left, right);
            }
            if (right.lower < best.nearest.distance) {
                open.push_back(right);
                std::push_heap(open.begin(), open.end());
            }
            next = left;
        }
        const BoxNode& a = first.node(next.a);
        const BoxNode& b = second.node(next.b);
        const double before = best.nearest.distance;
        for (std::uint32_t i = a.first; i < a.first + a.count; ++i) {
            for (std::uint32_t j = b.first; j < b.first + b.count; ++j) {
                look_at(first.triangle(i), second.triangle(j));
            }
        }
        dives_in_vain = best.nearest.distance < before ? 0 : dives_in_vain + 1;
    }
    return best;
}

} // namespace evenclose
