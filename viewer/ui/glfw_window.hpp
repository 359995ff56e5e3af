// viewer/ui/glfw_window.hpp: the window on the desktop: opened, its input gathered, its drawing context.
//
// Threads: the main one only, but for wake().
#pragma once

#include "viewer/ui/window.hpp"

#include <optional>
#include <string>
#include <variant>
#include <vector>

struct GLFWwindow;

namespace evenclose {

struct KeyPress {
    int key = 0, mods = 0; // as GLFW numbers them
    bool again = false;    // a held key comes again and again
};

struct Cursor {
    float x = 0, y = 0;
};

/// What came in since the last frame.
struct Input {
    bool any = false;                                    // something that may change what is seen
    std::vector<std::variant<KeyPress, char32_t>> typed; // in order: a press comes before the character it makes
    std::optional<Cursor> pressed_at;                    // where a mouse button went down, however far it moved since
    std::vector<std::string> dropped;                    // files
};

class GlfwWindow {
public:
    /// Faults: std::runtime_error saying what is missing: no display, no OpenGL 3.3.
    explicit GlfwWindow(const WindowRequest& request);
    ~GlfwWindow();
    GlfwWindow(const GlfwWindow&) = delete;
    GlfwWindow& operator=(const GlfwWindow&) = delete;

    /// Waits for input or wake(), no longer than `seconds`; 0 does not wait.
    [[nodiscard]] Input wait(double seconds);
    void show_frame();
    void set_title(const std::string& title);

    [[nodiscard]] bool should_close() const;
    void stay_open(); // takes back that it should close
    [[nodiscard]] bool minimised() const;
    /// How much larger than usual the desktop wants things; EVENCLOSE_SCALE overrules it.
    [[nodiscard]] float display_scale() const;
    [[nodiscard]] GLFWwindow* handle() const { return window_; }

    /// Threads: any.
    static void wake();

private:
    static GlfwWindow& of(GLFWwindow* window);
    void listen();

    GLFWwindow* window_ = nullptr;
    Input input_;
    Cursor cursor_;
    std::string title_;
};

} // namespace evenclose
