#include "checks/clearance/support.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

namespace evenclose {
namespace {

// Axes are unit and square to 2e-7 only; paid with 4e-7 of the lengths that enter, as everywhere.
double reach_of(const BoxNode& node, const Vec3& direction) {
    const Vec3 normal{node.normal[0], node.normal[1], node.normal[2]};
    const Vec3 along{node.along[0], node.along[1], node.along[2]};
    return direction.x * node.centre[0] + direction.y * node.centre[1] + direction.z * node.centre[2] +
           node.half[0] * std::abs(glm::dot(direction, normal)) + node.half[1] * std::abs(glm::dot(direction, along)) +
           node.half[2] * std::abs(glm::dot(direction, glm::cross(normal, along))) +
           4e-7 * static_cast<double>(node.radius);
}

} // namespace

Reach reach_below(const TriangleMesh& mesh, const Hierarchy& hierarchy, std::uint32_t node, const Vec3& direction,
                  double enough, int most_nodes) {
    struct Open {
        double reach;
        std::uint32_t node;
    };
    constexpr std::size_t kDeepest = 64;
    Open open[kDeepest];
    std::size_t count = 0;
    open[count++] = {std::numeric_limits<double>::infinity(), node};
    double by_corners = -std::numeric_limits<double>::infinity();
    double unopened = -std::numeric_limits<double>::infinity();
    Reach result;
    while (count > 0) {
        const Open next = open[--count];
        const BoxNode& box = hierarchy.node(next.node);
        if (next.reach <= std::max(enough, by_corners) || (!box.leaf() && (--most_nodes < 0 || count + 2 > kDeepest))) {
            unopened = std::max(unopened, next.reach);
            continue;
        }
        if (box.leaf()) {
            for (std::uint32_t place = box.first; place < box.first + box.count; ++place) {
                for (const std::uint32_t corner : mesh.triangles[hierarchy.triangle(place)]) {
                    const Vec3 at = mesh.vertices_mm[corner] - hierarchy.origin();
                    const double reach = glm::dot(direction, at);
                    if (reach > by_corners) {
                        by_corners = reach;
                        result.corner_mm = at;
                        result.corner_known = true;
                    }
                }
            }
            continue;
        }
        const double left = reach_of(hierarchy.node(box.first), direction);
        const double right = reach_of(hierarchy.node(box.first + 1), direction);
        const bool left_first = left >= right;
        open[count++] = left_first ? Open{right, box.first + 1} : Open{left, box.first};
        open[count++] = left_first ? Open{left, box.first} : Open{right, box.first + 1};
    }
    result.bound = std::max(by_corners, unopened);
    return result;
}

} // namespace evenclose
