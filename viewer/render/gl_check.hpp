// viewer/render/gl_check.hpp: what OpenGL has to complain about, as an exception in debug builds.
#pragma once

namespace evenclose {

/// Faults (debug builds only): std::runtime_error "OpenGL, while drawing edges: invalid operation", with the driver's own
/// words where the context keeps a log (GL_KHR_debug). In release builds it costs nothing: asking makes the driver wait.
#ifdef NDEBUG
inline void check_gl(const char* /*doing*/) {}
#else
void check_gl(const char* doing);
#endif

} // namespace evenclose
