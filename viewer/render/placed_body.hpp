// viewer/render/placed_body.hpp: a body of the frame together with its mesh on the graphics card.
#pragma once

#include "viewer/render/frame.hpp"
#include "viewer/render/gpu_mesh.hpp"

#include <glm/mat4x4.hpp>

namespace evenclose {

struct PlacedBody {
    const DrawnBody* drawn = nullptr;
    const GpuMesh* mesh = nullptr;
    glm::mat4 model_to_eye{1.0F};
    Box box_mm; // in the world
};

/// Whether only its nearest surface is laid over what is behind.
[[nodiscard]] inline bool seen_through(const DrawnBody& body) {
    return body.emphasis == Emphasis::dimmed || (body.colour.alpha < 1 && body.emphasis == Emphasis::plain);
}

} // namespace evenclose
