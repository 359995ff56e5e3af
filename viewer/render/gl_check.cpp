#include "viewer/render/gl_check.hpp"

#ifndef NDEBUG

#include <epoxy/gl.h>
#include <fmt/format.h>

#include <array>
#include <stdexcept>
#include <string>

namespace evenclose {
namespace {

const char* words_for(GLenum error) {
    switch (error) {
    case GL_INVALID_ENUM:
        return "invalid enum";
    case GL_INVALID_VALUE:
        return "invalid value";
    case GL_INVALID_OPERATION:
        return "invalid operation";
    case GL_INVALID_FRAMEBUFFER_OPERATION:
        return "invalid framebuffer operation";
    case GL_OUT_OF_MEMORY:
        return "out of memory";
    default:
        return "unknown error";
    }
}

std::string logged_words() {
    std::string words;
    GLint flags = 0;
    glGetIntegerv(GL_CONTEXT_FLAGS, &flags);
    if ((static_cast<GLuint>(flags) & GL_CONTEXT_FLAG_DEBUG_BIT) == 0) {
        return words;
    }
    std::array<char, 2048> text{};
    GLenum type = 0;
    while (glGetDebugMessageLog(1, text.size(), nullptr, &type, nullptr, nullptr, nullptr, text.data()) == 1) {
        if (type == GL_DEBUG_TYPE_ERROR) {
            words += std::string("; ") + text.data();
        }
    }
    return words;
}

} // namespace

void check_gl(const char* doing) {
    const GLenum error = glGetError();
    if (error == GL_NO_ERROR) {
        return;
    }
    for (int i = 0; i < 100 && glGetError() != GL_NO_ERROR; ++i) { // one flag each; a lost context never ends
    }
    throw std::runtime_error(fmt::format("OpenGL, {}: {}{}", doing, words_for(error), logged_words()));
}

} // namespace evenclose

#endif
