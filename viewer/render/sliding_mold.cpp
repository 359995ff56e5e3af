#include "viewer/render/sliding_mold.hpp"

#include "viewer/render/camera_fit.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/render/placed_body.hpp"

#include <algorithm>

namespace evenclose {
namespace {

constexpr double kOpening_rad = 0.50; // as the other views of a whole press

} // namespace

std::vector<DrawnBody> sliding_pieces(const Assembly& assembly, const SlidingMold& sliding, const Palette& palette) {
    std::vector<DrawnBody> drawn;
    for (std::size_t step = 0; step <= sliding.step && step < sliding.path->steps.size(); ++step) {
        for (const LoadPiece& piece : sliding.path->steps[step].pieces) {
            const auto body = std::find_if(assembly.bodies.begin(), assembly.bodies.end(),
                                           [&](const Body& b) { return b.name == piece.name; });
            Pose pose = piece.seated;
            if (step == sliding.step) {
                pose.translation_mm += (sliding.gone_mm - sliding.path->distance_mm) * sliding.path->along;
            }
            drawn.push_back({piece.mesh, pose,
                             body != assembly.bodies.end() ? colour_of(*body, palette) : palette.veneer,
                             Emphasis::plain, static_cast<std::uint32_t>(body - assembly.bodies.begin())});
        }
    }
    return drawn;
}

Camera camera_for_loading(const Assembly& assembly, const LoadPath& path, double aspect) {
    Box all;
    for (const Body& body : assembly.bodies) {
        if (body.drawn && body.mesh && body.part != Part::floor) {
            const Box box = bounds_of(*body.mesh, body.placement);
            all.add(box.low_mm);
            all.add(box.high_mm);
        }
    }
    for (const LoadStep& step : path.steps) {
        for (const LoadPiece& piece : step.pieces) {
            Pose outside = piece.seated;
            outside.translation_mm -= path.distance_mm * path.along;
            const Box box = bounds_of(*piece.mesh, outside);
            all.add(box.low_mm);
            all.add(box.high_mm);
        }
    }
    const auto corners = corners_of(all);
    // Aside of the way in, so that the mold does not hide the press that it goes into.
    const Vec3 aside = glm::cross(path.along, Vec3{0, 0, 1});
    return fit_camera({corners.begin(), corners.end()},
                      {.towards_viewer = -0.8 * path.along + 0.75 * aside + Vec3{0, 0, 0.42},
                       .up = {0, 0, 1},
                       .vertical_angle_rad = kOpening_rad,
                       .parallel = false,
                       .aspect = aspect});
}

} // namespace evenclose
