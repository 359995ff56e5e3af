// viewer/ui/picture_view.hpp: the picture of the press as a texture that is drawn anew only when something in it changed.
//
// Threads: the one that owns the window's OpenGL context.
#pragma once

#include "viewer/render/renderer.hpp"

#include <cstdint>

namespace evenclose {

class PictureView {
public:
    /// Faults: as Renderer.
    PictureView() = default;
    ~PictureView();
    PictureView(const PictureView&) = delete;
    PictureView& operator=(const PictureView&) = delete;

    /// Faults: std::runtime_error when the driver gives no texture of that size. Needs: width, height > 0.
    void draw(const Frame& frame, int width, int height);
    /// A second picture by the same renderer, for an inset; picking and drawn() know nothing of it. Faults: as draw.
    void draw_inset(const Frame& frame, int width, int height);
    /// Of the frame last drawn; x and y in pixels from its top left.
    [[nodiscard]] Renderer::Pick pick(int x, int y);

    /// Rows from the bottom, as OpenGL keeps them.
    [[nodiscard]] unsigned texture() const { return whole_.texture; }
    [[nodiscard]] unsigned inset_texture() const { return inset_.texture; }
    [[nodiscard]] int width() const { return whole_.width; }
    [[nodiscard]] int height() const { return whole_.height; }
    [[nodiscard]] const Frame& frame() const { return frame_; }  // that was last drawn
    [[nodiscard]] std::uint64_t drawn() const { return drawn_; } // how many times

private:
    /// A texture that can be drawn into.
    struct Target {
        unsigned framebuffer = 0, texture = 0;
        int width = 0, height = 0;
    };
    static void resize(Target& target, int width, int height);
    void draw_into(Target& target, const Frame& frame, int width, int height);

    Renderer renderer_;
    Frame frame_;
    Target whole_, inset_;
    std::uint64_t drawn_ = 0;
};

} // namespace evenclose
