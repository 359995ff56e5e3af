// viewer/render/placed_body.hpp: a body of the frame together with its mesh on the graphics card.
#pragma once

#include "viewer/render/frame.hpp"
#include "viewer/render/gpu_mesh.hpp"

#include <glm/mat4x4.hpp>

#include <array>

namespace evenclose {

struct PlacedBody {
    const DrawnBody* drawn = nullptr;
    const GpuMesh* mesh = nullptr;
    const GpuTint* tint = nullptr; // null: none
    glm::mat4 model_to_eye{1.0F};
    Box box_mm; // in the world
};

[[nodiscard]] inline std::array<Vec3, 8> corners_of(const Box& box) {
    std::array<Vec3, 8> corners{};
    for (std::size_t i = 0; i < corners.size(); ++i) {
        corners[i] = {(i & 1U) != 0 ? box.high_mm.x : box.low_mm.x, (i & 2U) != 0 ? box.high_mm.y : box.low_mm.y,
                      (i & 4U) != 0 ? box.high_mm.z : box.low_mm.z};
    }
    return corners;
}

[[nodiscard]] inline Box placed(const Box& box, const Pose& pose) {
    Box result;
    for (const Vec3& corner : corners_of(box)) {
        result.add(pose.apply(corner));
    }
    return result;
}

} // namespace evenclose
