#include "viewer/render/offscreen_context.hpp"

#include <epoxy/egl.h>
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <array>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace evenclose {
namespace {

std::string words_for(EGLint error) {
    switch (error) {
    case EGL_NOT_INITIALIZED:
        return "no driver answered (EGL_NOT_INITIALIZED)";
    case EGL_BAD_ACCESS:
        return "already in use by another thread (EGL_BAD_ACCESS)";
    case EGL_BAD_ALLOC:
        return "no memory or no device (EGL_BAD_ALLOC)";
    case EGL_BAD_MATCH:
        return "no OpenGL 3.3 core (EGL_BAD_MATCH)";
    case EGL_BAD_CONFIG:
        return "no OpenGL 3.3 core (EGL_BAD_CONFIG)";
    default:
        return fmt::format("EGL error 0x{:x}", error);
    }
}

bool has(EGLDisplay display, std::string_view extension) {
    const char* all = eglQueryString(display, EGL_EXTENSIONS);
    return all != nullptr && (std::string(" ") + all + " ").find(fmt::format(" {} ", extension)) != std::string::npos;
}

struct Candidate {
    std::string name;
    EGLDisplay display = EGL_NO_DISPLAY;
};

std::vector<Candidate> candidates() {
    std::vector<Candidate> found;
    if (has(EGL_NO_DISPLAY, "EGL_EXT_platform_base")) {
        if (has(EGL_NO_DISPLAY, "EGL_MESA_platform_surfaceless")) {
            found.push_back(
                {"surfaceless", eglGetPlatformDisplayEXT(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr)});
        }
        if (has(EGL_NO_DISPLAY, "EGL_EXT_platform_device") && has(EGL_NO_DISPLAY, "EGL_EXT_device_enumeration")) {
            std::array<EGLDeviceEXT, 16> devices{};
            EGLint count = 0;
            if (eglQueryDevicesEXT(devices.size(), devices.data(), &count) == EGL_TRUE) {
                for (EGLint i = 0; i < count; ++i) {
                    found.push_back({fmt::format("device {}", i),
                                     eglGetPlatformDisplayEXT(EGL_PLATFORM_DEVICE_EXT, devices[i], nullptr)});
                }
            }
        }
    }
    found.push_back({"default display", eglGetDisplay(EGL_DEFAULT_DISPLAY)});
    return found;
}

} // namespace

struct OffscreenContext::Inner {
    EGLDisplay display = EGL_NO_DISPLAY;
    EGLContext context = EGL_NO_CONTEXT;

    /// Empty when it worked, else what stood in the way.
    std::string attempt(EGLDisplay candidate) {
        if (candidate == EGL_NO_DISPLAY || eglInitialize(candidate, nullptr, nullptr) != EGL_TRUE) {
            return words_for(eglGetError());
        }
        // Never eglTerminate: the display is shared by the whole process, a window's context included.
        if (eglBindAPI(EGL_OPENGL_API) != EGL_TRUE) {
            return "no desktop OpenGL";
        }
        if (!has(candidate, "EGL_KHR_surfaceless_context")) {
            return "no context without a surface";
        }
        constexpr std::array<EGLint, 3> kAnySurface = {EGL_RENDERABLE_TYPE, EGL_OPENGL_BIT, EGL_NONE};
        EGLConfig config = EGL_NO_CONFIG_KHR;
        EGLint count = 0;
        const std::array<EGLint, 5> config_wanted = {EGL_SURFACE_TYPE, 0, kAnySurface[0], kAnySurface[1], EGL_NONE};
        if (!has(candidate, "EGL_KHR_no_config_context") &&
            (eglChooseConfig(candidate, config_wanted.data(), &config, 1, &count) != EGL_TRUE || count == 0)) {
            return "no configuration for OpenGL";
        }
#ifdef NDEBUG
        constexpr EGLint kDebug = EGL_FALSE;
#else
        constexpr EGLint kDebug = EGL_TRUE; // keeps a log, see gl_check.hpp
#endif
        const std::array<EGLint, 9> wanted = {EGL_CONTEXT_MAJOR_VERSION_KHR,
                                              3,
                                              EGL_CONTEXT_MINOR_VERSION_KHR,
                                              3,
                                              EGL_CONTEXT_OPENGL_PROFILE_MASK_KHR,
                                              EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT_KHR,
                                              EGL_CONTEXT_OPENGL_DEBUG,
                                              kDebug,
                                              EGL_NONE};
        context = eglCreateContext(candidate, config, EGL_NO_CONTEXT, wanted.data());
        if (context == EGL_NO_CONTEXT) {
            return words_for(eglGetError());
        }
        if (eglMakeCurrent(candidate, EGL_NO_SURFACE, EGL_NO_SURFACE, context) != EGL_TRUE) {
            std::string why = words_for(eglGetError());
            eglDestroyContext(candidate, context);
            return why;
        }
        display = candidate;
        return {};
    }
};

OffscreenContext::OffscreenContext() : inner_(std::make_unique<Inner>()) {
    std::vector<std::string> refusals;
    for (const Candidate& candidate : candidates()) {
        const std::string why = inner_->attempt(candidate.display);
        if (why.empty()) {
            return;
        }
        refusals.push_back(fmt::format("{}: {}", candidate.name, why));
    }
    throw std::runtime_error(fmt::format("no OpenGL to draw with but without a display; install a driver for it "
                                         "(Debian: libegl-mesa0 and libgl1-mesa-dri). Tried {}",
                                         fmt::join(refusals, "; ")));
}

OffscreenContext::~OffscreenContext() {
    eglMakeCurrent(inner_->display, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
    eglDestroyContext(inner_->display, inner_->context);
    eglReleaseThread();
}

} // namespace evenclose
