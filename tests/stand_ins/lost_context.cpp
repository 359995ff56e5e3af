// tests/stand_ins/lost_context.cpp: a graphics driver that drops everything it holds, for a program that this is loaded into
// (LD_PRELOAD): where the file is there that EVENCLOSE_STAND_IN_LOST names, OpenGL says that its context was lost. Then the file
// goes, unless "always" stands in it.
//
// No driver of software can be made to lose a context. The program asks through libepoxy, whose entry is a pointer that anybody may
// set (epoxy/gl_generated.h).
#include <epoxy/gl.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

namespace {

GLenum EPOXY_CALLSPEC reset_status() {
    const char* const file = std::getenv("EVENCLOSE_STAND_IN_LOST");
    std::ifstream in(file != nullptr ? file : "");
    if (!in) {
        return GL_NO_ERROR;
    }
    std::string how;
    in >> how;
    if (how != "always") {
        std::filesystem::remove(file);
    }
    return GL_INNOCENT_CONTEXT_RESET;
}

__attribute__((constructor)) void stand_in() { epoxy_glGetGraphicsResetStatus = reset_status; }

} // namespace
