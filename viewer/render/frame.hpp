// viewer/render/frame.hpp: all that a picture needs, as plain data. Whoever draws it knows nothing of presses.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"
#include "scene/vec.hpp"

#include <cstdint>
#include <memory>
#include <optional>
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

/// One colour a vertex of a mesh: a map of gaps or curvatures. Alpha is how much of it is laid over the body's colour,
/// 0: none there.
using Tint = std::vector<Colour>;
using SharedTint = std::shared_ptr<const Tint>;

/// A body whose colour has an alpha below 1 is seen through: only its nearest surface is laid over what is behind.
struct DrawnBody {
    SharedMesh mesh;
    Pose pose;
    Colour colour;
    Emphasis emphasis = Emphasis::plain;
    std::uint32_t body = 0; // which body of the assembly, for picking
    /// None, or as many as the mesh has vertices. Of vertices at one place the first one's colour counts.
    SharedTint tint{};
};

struct DrawnLine {
    Vec3 from_mm, to_mm;
    Colour colour;
    float width_px = 1.5F;
    bool on_top = false;
};
/// Always on top: a spot that is worth marking is worth seeing.
struct DrawnSpot {
    Vec3 at_mm;
    Colour colour;
    float radius_px = 6;
};

/// What lies on the side that `towards` points to is taken away, and solids are closed with a hatched face. Spots, lines
/// and floor stay.
struct SectionPlane {
    Vec3 through_mm{0.0}, towards{0.0, -1.0, 0.0};
};

/// What is round the bodies, and how emphasis is drawn: colours only, so that a dark picture is other data, not other
/// code. See viewer/render/palette.hpp for the two that we use.
struct Surroundings {
    Colour above{0.965F, 0.968F, 0.970F}, below{0.855F, 0.865F, 0.872F}; // the ground of the picture, top and foot
    Colour floor_line{0.36F, 0.40F, 0.44F, 0.55F};
    Colour floor_shadow{0.12F, 0.14F, 0.18F, 0.60F};
    float edge_darkness = 0.72F;             // feature edges: the body's own colour, this much darker
    Colour lit_outline{0.05F, 0.16F, 0.42F}; // round chosen bodies
    Colour foul{0.93F, 0.42F, 0.10F};        // fouling bodies: this with stripes of the next
    Colour foul_stripe{0.32F, 0.03F, 0.08F};
    Colour foul_outline{0.32F, 0.03F, 0.08F};
    Colour dimmed{0.93F, 0.935F, 0.94F};     // what dimmed bodies pale towards
    Colour dimmed_edge{0.22F, 0.24F, 0.27F}; // their edges, drawn faintly
};

struct Frame {
    Camera camera;
    std::vector<DrawnBody> bodies;
    std::vector<DrawnLine> lines;
    std::vector<DrawnSpot> spots;
    std::optional<SectionPlane> section{};
    bool floor = true; // a quiet floor at z = 0 with a scale
    Surroundings surroundings;
    float pixel_scale = 1; // line widths, outlines, hatch and spots are this many times as wide (display scale)
    bool moving = false;   // the picture changes at once again: a software rasteriser may draw it more coarsely
};

struct Image {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgba; // rows from the top, 4 bytes a pixel
};

} // namespace evenclose
