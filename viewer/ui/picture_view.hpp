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
    /// Of the frame last drawn; x and y in pixels from its top left.
    [[nodiscard]] Renderer::Pick pick(int x, int y);

    /// Rows from the bottom, as OpenGL keeps them.
    [[nodiscard]] unsigned texture() const { return texture_; }
    [[nodiscard]] int width() const { return width_; }
    [[nodiscard]] int height() const { return height_; }
    [[nodiscard]] std::uint64_t drawn() const { return drawn_; } // how many times

private:
    void resize(int width, int height);

    Renderer renderer_;
    Frame frame_;
    unsigned framebuffer_ = 0, texture_ = 0;
    int width_ = 0, height_ = 0;
    std::uint64_t drawn_ = 0;
};

} // namespace evenclose
