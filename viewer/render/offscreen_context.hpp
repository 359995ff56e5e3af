// viewer/render/offscreen_context.hpp: an OpenGL context of our own that needs no display: EGL without a surface.
//
// Tried in turn: Mesa's surfaceless platform, each EGL device, the default display.
// Threads: current on the thread that made it, which must also be the one that destroys it. A thread on which another
// context is current must not make one; draw_offscreen therefore uses a thread of its own.
#pragma once

#include <memory>

namespace evenclose {

class OffscreenContext {
public:
    /// Faults: std::runtime_error telling what was tried and what each said.
    OffscreenContext();
    ~OffscreenContext();
    OffscreenContext(const OffscreenContext&) = delete;
    OffscreenContext& operator=(const OffscreenContext&) = delete;

private:
    struct Inner;
    std::unique_ptr<Inner> inner_;
};

} // namespace evenclose
