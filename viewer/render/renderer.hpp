// viewer/render/renderer.hpp: draws a Frame with OpenGL 3.3 core, in whichever context is current.
//
// Threads: the one that owns the context. Meshes are kept on the GPU as long as somebody else holds them.
#pragma once

#include "viewer/render/frame.hpp"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace evenclose {

class Renderer {
public:
    /// Needs: a current OpenGL >= 3.3 core context. Faults: std::runtime_error with the driver's own words.
    Renderer();
    ~Renderer();
    Renderer(const Renderer&) = delete;
    Renderer& operator=(const Renderer&) = delete;

    struct Area {
        int x = 0, y = 0, width = 0, height = 0;
    }; // pixels of the bound framebuffer, from its lower left

    /// Draws into `area` of the framebuffer that is bound now; clears only that area. Anti-aliased by itself. OpenGL's
    /// state is left as found. A body without a mesh or with a pose that is not finite is passed over, and so are
    /// triangles that cannot be drawn; a camera that cannot see (eye at its target, not finite) shows the bare ground.
    /// Faults: std::runtime_error when the driver has no memory for it.
    void draw(const Frame& frame, Area area);

    /// The body under a pixel, x and y from the top left of a picture of that size, or no_body. By a ray, exact.
    static constexpr std::uint32_t no_body = 0xFFFFFFFFU;
    struct Pick {
        std::uint32_t body = no_body;
        Vec3 at_mm{0.0};
    };
    [[nodiscard]] Pick pick(const Frame& frame, int width, int height, int x, int y);

private:
    struct Inner;
    std::unique_ptr<Inner> inner_;
};

/// Draws without any display through an EGL surfaceless context of its own. Faults: std::runtime_error saying what is
/// missing (no EGL driver, OpenGL too old).
[[nodiscard]] Image draw_offscreen(const Frame& frame, int width, int height);
/// Several pictures at the price of one context. Faults: as above, and std::invalid_argument for a size without pixels.
/// Threads: any, also one that has a window's context current.
[[nodiscard]] std::vector<Image> draw_offscreen(const std::vector<Frame>& frames, int width, int height);

/// The same for many, one at a time: each is asked for when it is its turn and handed over when it is drawn; `take` gives
/// whether the next one is wanted. Both are called on the drawing thread; what they throw is thrown here.
void draw_offscreen(std::size_t count, const std::function<Frame(std::size_t)>& frame_at, int width, int height,
                    const std::function<bool(std::size_t, Image)>& take);

/// The bytes of a PNG file (ISO/IEC 15948). Faults: std::runtime_error for a picture without pixels.
[[nodiscard]] std::string png_bytes(const Image& image);
/// Faults: std::runtime_error with the file and the system's reason. Written as a new file, then renamed.
void write_png(const Image& image, const std::string& file);

} // namespace evenclose
