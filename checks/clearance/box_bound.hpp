// checks/clearance/box_bound.hpp: a lower bound, linear in the rise, on the distance of two oriented boxes.
//
// Any direction n separates two boxes by n . (centre - centre) less how far each reaches along n; while one box rides
// along `up` that is linear in the rise, and with unit n the distance is never less (the separating axis theorem's easy
// half). The direction tried is that of the gap seen in one box's own axes, the nearest point of the other box's
// wrapping: sharp for facing patches (a single axis) as for edges and corners (several).
//
// Rounding: stored axes are unit and square to each other only to 2e-7 (floats), which the answer pays with 4e-7 of the
// lengths that enter it.
#pragma once

#include "checks/clearance/hierarchy.hpp"

#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace evenclose {

struct PlacedBox {
    Vec3 centre;
    Vec3 axis[3];
    double half[3];
    double sum_of_halves;
};

/// Where nothing turns. `shift` brings the mesh's coordinates, counted from the hierarchy's origin, into the frame.
[[nodiscard]] inline PlacedBox placed_as_is(const BoxNode& node, const Vec3& shift) {
    PlacedBox box;
    box.centre = Vec3{node.centre[0], node.centre[1], node.centre[2]} + shift;
    box.axis[0] = {node.normal[0], node.normal[1], node.normal[2]};
    box.axis[1] = {node.along[0], node.along[1], node.along[2]};
    box.axis[2] = glm::cross(box.axis[0], box.axis[1]);
    box.half[0] = node.half[0];
    box.half[1] = node.half[1];
    box.half[2] = node.half[2];
    box.sum_of_halves = box.half[0] + box.half[1] + box.half[2];
    return box;
}

/// The same, turned first.
[[nodiscard]] inline PlacedBox placed(const BoxNode& node, const Mat3& turn, const Vec3& shift) {
    PlacedBox box = placed_as_is(node, Vec3{0.0});
    box.centre = turn * box.centre + shift;
    box.axis[0] = turn * box.axis[0];
    box.axis[1] = turn * box.axis[1];
    box.axis[2] = glm::cross(box.axis[0], box.axis[1]);
    return box;
}

struct Separation {
    double distance; // along `direction` at the offset asked for; negative where the boxes overlap along it
    Vec3 direction;  // from a to b, unit to 2e-7
};

/// `offset`: centre of b less centre of a.
[[nodiscard]] inline Separation separation(const PlacedBox& a, const PlacedBox& b, const Vec3& offset) {
    double turn[3][3];
    double along_a[3];
    double along_b[3];
    double gap_a[3];
    double gap_b[3];
    for (int j = 0; j < 3; ++j) {
        along_a[j] = glm::dot(a.axis[j], offset);
        along_b[j] = glm::dot(b.axis[j], offset);
        gap_b[j] = std::abs(along_b[j]) - b.half[j];
    }
    for (int i = 0; i < 3; ++i) {
        gap_a[i] = std::abs(along_a[i]) - a.half[i];
        for (int j = 0; j < 3; ++j) {
            turn[i][j] = glm::dot(a.axis[i], b.axis[j]);
            const double size = std::abs(turn[i][j]);
            gap_a[i] -= b.half[j] * size;
            gap_b[j] -= a.half[i] * size;
        }
    }
    double squared_a = 0;
    double squared_b = 0;
    double step_a[3];
    double step_b[3];
    for (int i = 0; i < 3; ++i) {
        step_a[i] = std::copysign(std::max(gap_a[i], 0.0), along_a[i]);
        step_b[i] = std::copysign(std::max(gap_b[i], 0.0), along_b[i]);
        squared_a += step_a[i] * step_a[i];
        squared_b += step_b[i] * step_b[i];
    }
    if (squared_a == 0 && squared_b == 0) { // no axis of either parts them: the one that comes nearest to it
        int best = 0;
        for (int i = 1; i < 3; ++i) {
            best = gap_a[i] > gap_a[best] ? i : best;
        }
        int best_b = 0;
        for (int j = 1; j < 3; ++j) {
            best_b = gap_b[j] > gap_b[best_b] ? j : best_b;
        }
        if (gap_a[best] >= gap_b[best_b]) {
            return {gap_a[best], std::copysign(1.0, along_a[best]) * a.axis[best]};
        }
        return {gap_b[best_b], std::copysign(1.0, along_b[best_b]) * b.axis[best_b]};
    }
    double sum = 0;
    if (squared_a >= squared_b) {
        const double scale = 1.0 / std::sqrt(squared_a);
        for (int i = 0; i < 3; ++i) {
            step_a[i] *= scale;
            sum += step_a[i] * along_a[i] - a.half[i] * std::abs(step_a[i]);
        }
        for (int j = 0; j < 3; ++j) {
            sum -= b.half[j] * std::abs(step_a[0] * turn[0][j] + step_a[1] * turn[1][j] + step_a[2] * turn[2][j]);
        }
        return {sum, step_a[0] * a.axis[0] + step_a[1] * a.axis[1] + step_a[2] * a.axis[2]};
    }
    const double scale = 1.0 / std::sqrt(squared_b);
    for (int j = 0; j < 3; ++j) {
        step_b[j] *= scale;
        sum += step_b[j] * along_b[j] - b.half[j] * std::abs(step_b[j]);
    }
    for (int i = 0; i < 3; ++i) {
        sum -= a.half[i] * std::abs(step_b[0] * turn[i][0] + step_b[1] * turn[i][1] + step_b[2] * turn[i][2]);
    }
    return {sum, step_b[0] * b.axis[0] + step_b[1] * b.axis[1] + step_b[2] * b.axis[2]};
}

/// What a separation of two boxes must be lessened by for the rounding of their axes.
[[nodiscard]] inline double axis_rounding(const PlacedBox& a, const PlacedBox& b, const Vec3& offset, double ride_mm) {
    return 4e-7 * (std::abs(offset.x) + std::abs(offset.y) + std::abs(offset.z) + a.sum_of_halves + b.sum_of_halves +
                   std::abs(ride_mm));
}

} // namespace evenclose
