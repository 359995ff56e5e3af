// tests/bench/frame_bench.cpp: how long a frame takes, by number of triangles, still and moving, without a display.
//
// A mold half cut into many triangles amid the shop press, at 1280 x 800, as the window draws it: one renderer, the
// camera going round a little each frame. Median of the frames after the first, which is told by itself. Preparing the
// mesh (normals, edges, coarse stand-in) is told too; a window does it off its own thread.
//
//   frame_bench [triangles...]        default: 400000 2000000 4000000
#include "tests/viewer/render/shop_press.hpp"
#include "viewer/render/drawable_mesh.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/render/gl_handle.hpp"
#include "viewer/render/offscreen_context.hpp"
#include "viewer/render/ray_mesh.hpp"
#include "viewer/render/renderer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <vector>

using namespace evenclose;

namespace {

template <class Work> double milliseconds(const Work& work) {
    const auto from = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - from).count();
}

/// A framebuffer to draw into, as a window would have one.
struct Canvas {
    GlFramebuffer framebuffer = make_framebuffer();
    GlRenderbuffer colour = make_renderbuffer();
    Canvas(int width, int height) {
        glBindRenderbuffer(GL_RENDERBUFFER, colour.get());
        glRenderbufferStorage(GL_RENDERBUFFER, GL_RGBA8, width, height);
        glBindFramebuffer(GL_FRAMEBUFFER, framebuffer.get());
        glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, colour.get());
    }
};

struct Timing {
    double first = 0, median = 0;
};

Timing time_frames(Renderer& renderer, Frame frame, int width, int height, int count) {
    std::vector<double> times;
    const Camera start = frame.camera;
    for (int i = 0; i < count; ++i) {
        const double turn = 0.02 * i;
        const Vec3 out = start.eye_mm - start.target_mm;
        frame.camera.eye_mm = start.target_mm + Vec3{std::cos(turn) * out.x - std::sin(turn) * out.y,
                                                     std::sin(turn) * out.x + std::cos(turn) * out.y, out.z};
        times.push_back(milliseconds([&] {
            renderer.draw(frame, {0, 0, width, height});
            glFinish();
        }));
    }
    Timing timing{times.front(), 0};
    std::sort(times.begin() + 1, times.end());
    timing.median = times[1 + (times.size() - 1) / 2];
    return timing;
}

} // namespace

int main(int argc, char** argv) {
    std::vector<double> counts;
    for (int i = 1; i < argc; ++i) {
        counts.push_back(std::atof(argv[i]));
    }
    if (counts.empty()) {
        counts = {400e3, 2e6, 4e6};
    }
    const OffscreenContext context;
    Renderer renderer;
    fmt::print("{}\n", reinterpret_cast<const char*>(glGetString(GL_RENDERER)));
    constexpr int kWidth = 1280;
    constexpr int kHeight = 800;
    const Canvas canvas(kWidth, kHeight);
    fmt::print("{:>10} {:>9} {:>9} {:>9} {:>9} {:>9} {:>9} {:>9} {:>9}  ms\n", "triangles", "prepare", "rays", "first",
               "still", "lit", "dimmed", "moving", "inset");
    for (const double wanted : counts) {
        // Two halves of 4 along across triangles each, three times as many along as across.
        const double across = std::sqrt(wanted / 8.0 / 3.0);
        const Assembly assembly =
            assemble(test::shop_setup(static_cast<std::uint32_t>(3.0 * across), static_cast<std::uint32_t>(across)));
        std::size_t triangles = 0;
        const double prepare = milliseconds([&] {
            for (const Body& body : assembly.bodies) {
                triangles += body.mesh->triangles.size();
                (void)drawable_of(body.mesh);
            }
        });
        const double rays = milliseconds([&] {
            for (const Body& body : assembly.bodies) {
                (void)ray_mesh_of(body.mesh);
            }
        });
        Frame frame = frame_of(assembly, {.at = {60}});
        const Timing still = time_frames(renderer, frame, kWidth, kHeight, 6);
        frame.moving = true;
        const Timing moving = time_frames(renderer, frame, kWidth, kHeight, 12);
        const Timing inset = time_frames(renderer, frame, 280, 280, 12);
        frame.moving = false;
        for (DrawnBody& body : frame.bodies) {
            const Part part = assembly.bodies[body.body].part;
            body.emphasis = part == Part::mold_lower || part == Part::mold_upper ? Emphasis::lit : Emphasis::dimmed;
        }
        const Timing lit = time_frames(renderer, frame, kWidth, kHeight, 6);
        for (DrawnBody& body : frame.bodies) {
            body.emphasis = body.emphasis == Emphasis::lit ? Emphasis::dimmed : Emphasis::plain;
        }
        const Timing dimmed = time_frames(renderer, frame, kWidth, kHeight, 6);
        fmt::print("{:>10} {:>9.0f} {:>9.0f} {:>9.0f} {:>9.1f} {:>9.1f} {:>9.1f} {:>9.1f} {:>9.1f}\n", triangles,
                   prepare, rays, still.first, still.median, lit.median, dimmed.median, moving.median, inset.median);
    }
    return 0;
}
