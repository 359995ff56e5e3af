// viewer/render/frame.hpp: all that a picture needs, as plain data. Whoever draws it knows nothing of presses.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"
#include "scene/vec.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace evenclose {

struct Colour {
    float red = 0, green = 0, blue = 0, alpha = 1;
}; // sRGB, 0 to 1

/// Looks from `eye_mm` to `target_mm`. Perspective with a vertical opening angle, or parallel when `parallel` is set
/// (then the picture's height at the target is 2 |eye - target| tan(angle / 2), so switching keeps the size).
struct Camera {
    Vec3 eye_mm{0.0, -3000.0, 1200.0}, target_mm{0.0, 0.0, 800.0}, up{0.0, 0.0, 1.0};
    double vertical_angle_rad = 0.5;
    bool parallel = false;
};

enum class Emphasis : std::uint8_t { plain, lit, dimmed, foul }; // lit: the chosen bodies; dimmed: all others then

struct DrawnBody {
    SharedMesh mesh;
    Pose pose;
    Colour colour;
    Emphasis emphasis = Emphasis::plain;
    std::uint32_t body = 0; // which body of the assembly, for picking
};

struct DrawnLine {
    Vec3 from_mm, to_mm;
    Colour colour;
    float width_px = 1.5F;
    bool on_top = false;
};
struct DrawnSpot {
    Vec3 at_mm;
    Colour colour;
    float radius_px = 6;
};

struct Frame {
    Camera camera;
    std::vector<DrawnBody> bodies;
    std::vector<DrawnLine> lines;
    std::vector<DrawnSpot> spots;
    bool floor = true; // a quiet floor at z = 0 with a scale
};

struct Image {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgba; // rows from the top, 4 bytes a pixel
};

} // namespace evenclose
