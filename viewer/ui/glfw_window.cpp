#include "viewer/ui/glfw_window.hpp"

#include <GLFW/glfw3.h>
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <stdexcept>
#include <utility>

namespace evenclose {
namespace {

std::string& last_fault() {
    static std::string words;
    return words;
}

void note_fault(int, const char* words) { last_fault() = words; }

Input& input_of(GLFWwindow* window) { return *static_cast<Input*>(glfwGetWindowUserPointer(window)); }

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

} // namespace

GlfwWindow::GlfwWindow(const WindowRequest& request) {
    glfwSetErrorCallback(note_fault);
    if (glfwInit() == GLFW_FALSE) {
        throw std::runtime_error(fmt::format("no window can be opened here ({})", last_fault()));
    }
    glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 3);
    glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
    glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
    glfwWindowHint(GLFW_DEPTH_BITS, 0); // the press is drawn into a picture of its own
    glfwWindowHint(GLFW_STENCIL_BITS, 0);
    glfwWindowHintString(GLFW_X11_CLASS_NAME, "evenclose");
    glfwWindowHintString(GLFW_X11_INSTANCE_NAME, "evenclose");
    const auto [width, height] = sensible_size(request);
    window_ = glfwCreateWindow(width, height, "Evenclose", nullptr, nullptr);
    if (window_ == nullptr) {
        const std::string why = last_fault();
        glfwTerminate();
        throw std::runtime_error(fmt::format("no window with OpenGL 3.3 can be opened here ({})", why));
    }
    glfwMakeContextCurrent(window_);
    glfwSwapInterval(1);
    glfwSetWindowSizeLimits(window_, 640, 400, GLFW_DONT_CARE, GLFW_DONT_CARE);
    listen();
}

GlfwWindow::~GlfwWindow() {
    glfwDestroyWindow(window_);
    glfwTerminate();
}

void GlfwWindow::listen() {
    glfwSetWindowUserPointer(window_, &input_);
    input_.any = true;
    glfwSetKeyCallback(window_, [](GLFWwindow* window, int key, int, int action, int mods) {
        Input& input = input_of(window);
        input.any = true;
        if (action != GLFW_RELEASE) {
            input.keys.push_back({key, mods});
        }
    });
    glfwSetCharCallback(window_, [](GLFWwindow* window, unsigned int character) {
        input_of(window).any = true;
        input_of(window).characters.push_back(static_cast<char32_t>(character));
    });
    glfwSetDropCallback(window_, [](GLFWwindow* window, int count, const char** files) {
        Input& input = input_of(window);
        input.any = true;
        input.dropped.insert(input.dropped.end(), files, files + count);
    });
    glfwSetCursorPosCallback(window_, [](GLFWwindow* window, double, double) { input_of(window).any = true; });
    glfwSetMouseButtonCallback(window_, [](GLFWwindow* window, int, int, int) { input_of(window).any = true; });
    glfwSetScrollCallback(window_, [](GLFWwindow* window, double, double) { input_of(window).any = true; });
    glfwSetCursorEnterCallback(window_, [](GLFWwindow* window, int) { input_of(window).any = true; });
    glfwSetWindowFocusCallback(window_, [](GLFWwindow* window, int) { input_of(window).any = true; });
    glfwSetFramebufferSizeCallback(window_, [](GLFWwindow* window, int, int) { input_of(window).any = true; });
    glfwSetWindowRefreshCallback(window_, [](GLFWwindow* window) { input_of(window).any = true; });
    glfwSetWindowContentScaleCallback(window_, [](GLFWwindow* window, float, float) { input_of(window).any = true; });
}

Input GlfwWindow::wait(double seconds) {
    if (seconds > 0 && !input_.any) {
        glfwWaitEventsTimeout(seconds);
    } else {
        glfwPollEvents();
    }
    return std::exchange(input_, {});
}

void GlfwWindow::show_frame() { glfwSwapBuffers(window_); }

void GlfwWindow::set_title(const std::string& title) {
    if (title != title_) {
        glfwSetWindowTitle(window_, title.c_str());
        title_ = title;
    }
}

bool GlfwWindow::should_close() const { return glfwWindowShouldClose(window_) == GLFW_TRUE; }

bool GlfwWindow::minimised() const { return glfwGetWindowAttrib(window_, GLFW_ICONIFIED) == GLFW_TRUE; }

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

bool display_available() {
    const bool there = glfwInit() == GLFW_TRUE;
    if (there) {
        glfwTerminate();
    }
    return there;
}

} // namespace evenclose
