#include "checks/clearance/contact_kind.hpp"

#include "checks/clearance/box_bound.hpp"
#include "checks/clearance/piercing.hpp"
#include "checks/clearance/triangle_distance.hpp"

#include <glm/matrix.hpp>

#include <algorithm>
#include <array>

namespace evenclose {
namespace {

// A body in that many pieces is a cloud of stray shells; looking at more would take seconds a pose and tell no more.
constexpr std::size_t kMostShells = 4096;

/// Asked of a corner that does not lie on the outer surface: of one that does, the last bit would decide. Where all of
/// them do, nothing of the shell is known to be within.
Whereabouts shell_whereabouts(const ClearanceMesh& inner, const ShellEnds& ends, const ClearanceMesh& outer,
                              const Pose& into) {
    for (const std::uint32_t corner : ends) {
        const Vec3 point = into.apply(inner.mesh().vertices_mm[corner]);
        if (!near_surface(outer.mesh(), outer.hierarchy(), point, kTouch_mm)) {
            return whereabouts(outer.mesh(), outer.hierarchy(), outer.bounds(), point);
        }
    }
    return Whereabouts::outside;
}

Whereabouts shell_inside(const ClearanceMesh& inner, const Pose& inner_pose, const ClearanceMesh& outer,
                         const Pose& outer_pose) {
    const Pose into = inverse(outer_pose) * inner_pose;
    Box reach; // where the inner body can be at all
    for (int corner = 0; corner < 8; ++corner) {
        const Box& b = inner.bounds();
        reach.add(
            into.apply({(corner & 1) != 0 ? b.high_mm.x : b.low_mm.x, (corner & 2) != 0 ? b.high_mm.y : b.low_mm.y,
                        (corner & 4) != 0 ? b.high_mm.z : b.low_mm.z}));
    }
    for (int axis = 0; axis < 3; ++axis) {
        if (reach.low_mm[axis] > outer.bounds().high_mm[axis] || reach.high_mm[axis] < outer.bounds().low_mm[axis]) {
            return Whereabouts::outside;
        }
    }
    Whereabouts result = inner.shells().size() > kMostShells ? Whereabouts::cannot_tell : Whereabouts::outside;
    for (std::size_t i = 0; i < std::min(inner.shells().size(), kMostShells); ++i) {
        switch (shell_whereabouts(inner, inner.shells()[i], outer, into)) {
        case Whereabouts::inside:
            return Whereabouts::inside;
        case Whereabouts::cannot_tell:
            result = Whereabouts::cannot_tell;
            break;
        case Whereabouts::outside:
            break;
        }
    }
    return result;
}

} // namespace

Contact surface_contact(const PosedPair& pair, std::vector<TrianglePair>* meeting) {
    const Hierarchy& first = pair.first.hierarchy();
    const Hierarchy& second = pair.second.hierarchy();
    const Pose into = inverse(pair.first_pose) * pair.second_pose;
    const Vec3 shift = into.apply(second.origin());
    const auto corners = [](const TriangleMesh& mesh, std::uint32_t index, const Pose& pose) {
        const TriangleCorners& c = mesh.triangles[index];
        return Triangle{pose.apply(mesh.vertices_mm[c[0]]), pose.apply(mesh.vertices_mm[c[1]]),
                        pose.apply(mesh.vertices_mm[c[2]])};
    };
    // Which way a face looks is told by its corners' order: the other way for one of two that is inside out or mirrored.
    const bool other_way =
        (pair.first.inside_out() != pair.second.inside_out()) != (glm::determinant(into.rotation) < 0);
    const auto overlap_alike = [&](const Triangle& a, const Triangle& b) {
        return overlap_same_way(a, other_way ? Triangle{b[0], b[2], b[1]} : b);
    };
    Contact contact = Contact::clear;
    std::vector<std::pair<std::uint32_t, std::uint32_t>> stack{{Hierarchy::kRoot, Hierarchy::kRoot}};
    while (!stack.empty()) {
        const auto [ia, ib] = stack.back();
        stack.pop_back();
        const BoxNode& na = first.node(ia);
        const BoxNode& nb = second.node(ib);
        const PlacedBox a = placed(na, Mat3{1.0}, first.origin());
        const PlacedBox b = placed(nb, into.rotation, shift);
        const Vec3 offset = b.centre - a.centre;
        if (separation(a, b, offset).distance - axis_rounding(a, b, offset, 0) > kTouch_mm) {
            continue;
        }
        if (!na.leaf() && (nb.leaf() || na.radius >= nb.radius)) {
            stack.emplace_back(na.first, ib);
            stack.emplace_back(na.first + 1, ib);
            continue;
        }
        if (!nb.leaf()) {
            stack.emplace_back(ia, nb.first);
            stack.emplace_back(ia, nb.first + 1);
            continue;
        }
        for (std::uint32_t i = na.first; i < na.first + na.count; ++i) {
            const Triangle ta = corners(pair.first.mesh(), first.triangle(i), {});
            for (std::uint32_t j = nb.first; j < nb.first + nb.count; ++j) {
                const Triangle tb = corners(pair.second.mesh(), second.triangle(j), into);
                if (nearest_points(ta, tb).distance > kTouch_mm) {
                    continue;
                }
                if (meeting != nullptr) {
                    meeting->emplace_back(first.triangle(i), second.triangle(j));
                }
                if (contact != Contact::foul &&
                    (pierce(ta, tb) || (overlap_alike(ta, tb) && pair.first.closed() && pair.second.closed()))) {
                    contact = Contact::foul;
                    if (meeting == nullptr) {
                        return contact;
                    }
                } else if (contact == Contact::clear) {
                    contact = Contact::touching;
                }
            }
        }
    }
    if (meeting != nullptr) {
        std::sort(meeting->begin(), meeting->end());
    }
    return contact;
}

Whereabouts either_inside(const PosedPair& pair) {
    const Whereabouts a = shell_inside(pair.first, pair.first_pose, pair.second, pair.second_pose);
    if (a == Whereabouts::inside) {
        return a;
    }
    const Whereabouts b = shell_inside(pair.second, pair.second_pose, pair.first, pair.first_pose);
    return b == Whereabouts::outside ? a : b;
}

} // namespace evenclose
