#include "viewer/ui/glfw_window.hpp"

#include <backends/imgui_impl_glfw.h>
#include <epoxy/gl.h>
#include <fmt/format.h>

#include <GLFW/glfw3.h>

#include <algorithm>
#include <cstdlib>
#include <dlfcn.h>
#include <stdexcept>
#include <utility>

namespace evenclose {
namespace {

std::string& last_fault() {
    static std::string words;
    return words;
}

void note_fault(int, const char* words) { last_fault() = words; }

std::pair<int, int> sensible_size(const WindowRequest& request) {
    if (request.width > 0 && request.height > 0) {
        return {request.width, request.height};
    }
    int x = 0;
    int y = 0;
    int width = 1280;
    int height = 800;
    if (GLFWmonitor* monitor = glfwGetPrimaryMonitor()) {
        glfwGetMonitorWorkarea(monitor, &x, &y, &width, &height);
    }
    // Leaves a margin on a large screen, all of a small one.
    const auto part = [](int whole, int least) { return std::min(std::max(whole * 9 / 10, least), whole); };
    return {part(width, 1280), part(height, 800)};
}

/// With Ctrl a letter is meant, wherever the keyboard's layout has it; one that has none of these letters is taken by places.
int meant_key(int key, int scancode, int mods) {
    const char* name = (mods & GLFW_MOD_CONTROL) != 0 ? glfwGetKeyName(key, scancode) : nullptr;
    return name != nullptr && name[0] >= 'a' && name[0] <= 'z' && name[1] == '\0' ? GLFW_KEY_A + (name[0] - 'a') : key;
}

} // namespace

GlfwWindow::Library::Library() {
    glfwSetErrorCallback(note_fault);
    if (glfwInit() == GLFW_FALSE) {
        throw std::runtime_error(fmt::format("no window can be opened here ({})", last_fault()));
    }
}

GlfwWindow::Library::~Library() { glfwTerminate(); }

GlfwWindow::GlfwWindow(const WindowRequest& request) {
    const auto [width, height] = sensible_size(request);
    open(width, height);
}

void GlfwWindow::open(int width, int height) {
    glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
    glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
    glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
    glfwWindowHint(GLFW_CONTEXT_ROBUSTNESS, GLFW_LOSE_CONTEXT_ON_RESET); // where there is such a thing
    glfwWindowHint(GLFW_DEPTH_BITS, 0);                                  // the press is drawn into a picture of its own
    glfwWindowHint(GLFW_STENCIL_BITS, 0);
    glfwWindowHintString(GLFW_X11_CLASS_NAME, "evenclose");
    glfwWindowHintString(GLFW_X11_INSTANCE_NAME, "evenclose");
    window_ = glfwCreateWindow(width, height, title_.empty() ? "Evenclose" : title_.c_str(), nullptr, nullptr);
    if (window_ == nullptr) {
        throw std::runtime_error(fmt::format("no window with OpenGL 3.3 can be opened here ({})", last_fault()));
    }
    glfwMakeContextCurrent(window_);
    tells_loss_ = epoxy_gl_version() >= 45 || epoxy_has_gl_extension("GL_KHR_robustness") ? TellsLoss::by_core
                  : epoxy_has_gl_extension("GL_ARB_robustness")                           ? TellsLoss::by_arb
                                                                                          : TellsLoss::never;
    glfwSwapInterval(1);
    glfwSetWindowSizeLimits(window_, 640, 400, GLFW_DONT_CARE, GLFW_DONT_CARE);
    listen();
}

void GlfwWindow::open_anew() {
    int x = 0;
    int y = 0;
    int width = 0;
    int height = 0;
    const bool maximised = glfwGetWindowAttrib(window_, GLFW_MAXIMIZED) == GLFW_TRUE;
    glfwGetWindowPos(window_, &x, &y);
    glfwGetWindowSize(window_, &width, &height);
    glfwDestroyWindow(std::exchange(window_, nullptr));
    glfwWindowHint(GLFW_MAXIMIZED, maximised ? GLFW_TRUE : GLFW_FALSE);
    open(width, height);
    if (!maximised) {
        glfwSetWindowPos(window_, x, y);
    }
}

bool GlfwWindow::context_lost() const {
    switch (tells_loss_) {
    case TellsLoss::by_core:
        return glGetGraphicsResetStatus() != GL_NO_ERROR;
    case TellsLoss::by_arb:
        return glGetGraphicsResetStatusARB() != GL_NO_ERROR;
    default:
        return false;
    }
}

GlfwWindow::~GlfwWindow() { glfwDestroyWindow(window_); }

GlfwWindow& GlfwWindow::of(GLFWwindow* window) { return *static_cast<GlfwWindow*>(glfwGetWindowUserPointer(window)); }

// The back end's own callbacks are called from ours, but for keys and characters, see text_keys.hpp, and buttons, see
// input_order.hpp.
void GlfwWindow::listen() {
    glfwSetWindowUserPointer(window_, this);
    input_.any = true;
    glfwSetKeyCallback(window_, [](GLFWwindow* window, int key, int scancode, int action, int mods) {
        Input& input = of(window).input_;
        input.any = true;
        if (action != GLFW_RELEASE) {
            input.events.emplace_back(KeyPress{meant_key(key, scancode, mods), mods, action == GLFW_REPEAT, key});
        }
    });
    glfwSetCharCallback(window_, [](GLFWwindow* window, unsigned int character) {
        Input& input = of(window).input_;
        input.any = true;
        input.events.emplace_back(static_cast<char32_t>(character));
    });
    glfwSetDropCallback(window_, [](GLFWwindow* window, int count, const char** files) {
        Input& input = of(window).input_;
        input.any = true;
        input.dropped.insert(input.dropped.end(), files, files + count);
    });
    glfwSetCursorPosCallback(window_, [](GLFWwindow* window, double x, double y) {
        of(window).cursor_ = {static_cast<float>(x), static_cast<float>(y)};
        of(window).input_.any = true;
    });
    glfwSetMouseButtonCallback(window_, [](GLFWwindow* window, int button, int action, int mods) {
        Input& input = of(window).input_;
        input.any = true;
        input.events.emplace_back(ButtonMove{button, mods, action == GLFW_PRESS, of(window).cursor_});
    });
    const auto something = [](GLFWwindow* window) { of(window).input_.any = true; };
    glfwSetWindowRefreshCallback(window_, something);
    glfwSetScrollCallback(window_, [](GLFWwindow* window, double x, double y) {
        ImGui_ImplGlfw_ScrollCallback(window, x, y);
        of(window).input_.any = true;
    });
    glfwSetCursorEnterCallback(window_, [](GLFWwindow* window, int entered) {
        ImGui_ImplGlfw_CursorEnterCallback(window, entered);
        of(window).input_.any = true;
    });
    glfwSetWindowFocusCallback(window_, [](GLFWwindow* window, int focused) {
        ImGui_ImplGlfw_WindowFocusCallback(window, focused);
        of(window).input_.any = true;
    });
    glfwSetFramebufferSizeCallback(window_, [](GLFWwindow* window, int, int) { of(window).input_.any = true; });
    glfwSetWindowContentScaleCallback(window_, [](GLFWwindow* window, float, float) { of(window).input_.any = true; });
}

Input GlfwWindow::wait(double seconds) {
    if (seconds > 0 && !input_.any) {
        glfwWaitEventsTimeout(seconds);
    } else {
        glfwPollEvents();
    }
    return std::exchange(input_, {});
}

void GlfwWindow::show(const ButtonMove& move) {
    ImGui_ImplGlfw_MouseButtonCallback(window_, move.button, move.down ? GLFW_PRESS : GLFW_RELEASE, move.mods);
}

void GlfwWindow::show_frame() { glfwSwapBuffers(window_); }

void GlfwWindow::set_title(const std::string& title) {
    if (title != title_) {
        glfwSetWindowTitle(window_, title.c_str());
        title_ = title;
    }
}

bool GlfwWindow::should_close() const { return glfwWindowShouldClose(window_) == GLFW_TRUE; }

void GlfwWindow::stay_open() { glfwSetWindowShouldClose(window_, GLFW_FALSE); }

bool GlfwWindow::minimised() const { return glfwGetWindowAttrib(window_, GLFW_ICONIFIED) == GLFW_TRUE; }

std::string GlfwWindow::portal_name() const {
    // Looked for by name: GLFW comes in builds for X11 and for Wayland, and only the one has it.
    using Named = unsigned long (*)(GLFWwindow*); // as <GLFW/glfw3native.h> has it, which would want the headers of X11
    const auto named = reinterpret_cast<Named>(dlsym(RTLD_DEFAULT, "glfwGetX11Window"));
    const unsigned long number = named != nullptr ? named(window_) : 0;
    return number != 0 ? fmt::format("x11:{:x}", number) : std::string();
}

float GlfwWindow::display_scale() const {
    if (const char* asked = std::getenv("EVENCLOSE_SCALE")) {
        const float scale = std::strtof(asked, nullptr);
        if (scale >= 0.5F && scale <= 4.0F) {
            return scale;
        }
    }
    float x = 1;
    float y = 1;
    glfwGetWindowContentScale(window_, &x, &y);
    return std::clamp(std::max(x, y), 1.0F, 4.0F);
}

void GlfwWindow::wake() { glfwPostEmptyEvent(); }

} // namespace evenclose
