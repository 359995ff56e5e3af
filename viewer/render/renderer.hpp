// viewer/render/renderer.hpp: draws a Frame with OpenGL 3.3 core, in whichever context is current.
//
// Threads: the one that owns the context. Meshes are kept on the GPU as long as somebody else holds them.
#pragma once

#include "viewer/render/frame.hpp"

#include <memory>

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

    /// Draws into `area` of the framebuffer that is bound now; clears only that area. Anti-aliased by itself.
    void draw(const Frame& frame, Area area);

    /// The body under a pixel (from the top left of the area last drawn with this frame), or no_body.
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

/// Faults: std::runtime_error with the file and the system's reason. Written as a new file, then renamed.
void write_png(const Image& image, const std::string& file);

} // namespace evenclose
