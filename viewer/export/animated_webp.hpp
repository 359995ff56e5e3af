// viewer/export/animated_webp.hpp: pictures as one moving file: animated WebP (Google, "WebP Container Specification"), which
// any browser of today shows. Pictures are packed as they come, so that a long film needs little memory.
#pragma once

#include "viewer/render/frame.hpp"

#include <memory>
#include <string>

namespace evenclose {

class AnimatedWebp {
public:
    /// Faults: std::runtime_error with the library's own words, or for a size that the format cannot hold (16383 at most).
    AnimatedWebp(int width, int height);
    ~AnimatedWebp();
    AnimatedWebp(const AnimatedWebp&) = delete;
    AnimatedWebp& operator=(const AnimatedWebp&) = delete;

    /// Shown for so long. Needs: a picture of that size, shown_ms > 0. Faults: std::runtime_error.
    void add(const Image& image, int shown_ms);
    /// The file's bytes; it starts again at its end, for ever. Needs: a picture at least; called once. Faults: std::runtime_error.
    [[nodiscard]] std::string bytes();

private:
    struct Inner;
    std::unique_ptr<Inner> inner_;
};

} // namespace evenclose
