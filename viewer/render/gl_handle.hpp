// viewer/render/gl_handle.hpp: an OpenGL object's name that is given back with its owner.
//
// Threads: the one that owns the context, which must be current when the handle goes.
#pragma once

#include <epoxy/gl.h>

#include <utility>

namespace evenclose {

template <class Give> class GlHandle {
public:
    GlHandle() = default;
    explicit GlHandle(GLuint name) : name_(name) {}
    GlHandle(GlHandle&& other) noexcept : name_(std::exchange(other.name_, 0)) {}
    GlHandle& operator=(GlHandle&& other) noexcept {
        std::swap(name_, other.name_);
        return *this;
    }
    GlHandle(const GlHandle&) = delete;
    GlHandle& operator=(const GlHandle&) = delete;
    ~GlHandle() {
        if (name_ != 0) {
            Give{}(name_);
        }
    }
    [[nodiscard]] GLuint get() const { return name_; }

private:
    GLuint name_ = 0;
};

struct GiveBuffer {
    void operator()(GLuint name) const { glDeleteBuffers(1, &name); }
};
struct GiveVertexArray {
    void operator()(GLuint name) const { glDeleteVertexArrays(1, &name); }
};
struct GiveTexture {
    void operator()(GLuint name) const { glDeleteTextures(1, &name); }
};
struct GiveFramebuffer {
    void operator()(GLuint name) const { glDeleteFramebuffers(1, &name); }
};
struct GiveRenderbuffer {
    void operator()(GLuint name) const { glDeleteRenderbuffers(1, &name); }
};
struct GiveProgram {
    void operator()(GLuint name) const { glDeleteProgram(name); }
};
struct GiveShader {
    void operator()(GLuint name) const { glDeleteShader(name); }
};

using GlBuffer = GlHandle<GiveBuffer>;
using GlVertexArray = GlHandle<GiveVertexArray>;
using GlTexture = GlHandle<GiveTexture>;
using GlFramebuffer = GlHandle<GiveFramebuffer>;
using GlRenderbuffer = GlHandle<GiveRenderbuffer>;

inline GlBuffer make_buffer() {
    GLuint name = 0;
    glGenBuffers(1, &name);
    return GlBuffer(name);
}
inline GlVertexArray make_vertex_array() {
    GLuint name = 0;
    glGenVertexArrays(1, &name);
    return GlVertexArray(name);
}
inline GlTexture make_texture() {
    GLuint name = 0;
    glGenTextures(1, &name);
    return GlTexture(name);
}
inline GlFramebuffer make_framebuffer() {
    GLuint name = 0;
    glGenFramebuffers(1, &name);
    return GlFramebuffer(name);
}
inline GlRenderbuffer make_renderbuffer() {
    GLuint name = 0;
    glGenRenderbuffers(1, &name);
    return GlRenderbuffer(name);
}

} // namespace evenclose
