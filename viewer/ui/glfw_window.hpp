// viewer/ui/glfw_window.hpp: the window on the desktop: opened, its input gathered, its drawing context.
//
// Threads: the main one only, but for wake().
#pragma once

#include "viewer/ui/input_order.hpp"
#include "viewer/ui/window.hpp"

#include <optional>
#include <string>
#include <vector>

struct GLFWwindow;

namespace evenclose {

/// What came in since the last frame.
struct Input {
    bool any = false;                 // something that may change what is seen
    std::vector<InputEvent> events;   // in order: a key's press comes before the character it makes
    std::vector<std::string> dropped; // files
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
    /// Whether the driver has dropped all that it held for this window, as it does when the graphics card was reset. Never so
    /// where the driver cannot tell (OpenGL 4.5, GL_KHR_robustness, GL_ARB_robustness).
    [[nodiscard]] bool context_lost() const;
    /// Another window with a context of its own in this one's place; what OpenGL held is gone. Faults: as the constructor.
    void open_anew();
    void set_title(const std::string& title);

    /// Lets Dear ImGui know, at the next frame.
    void show(const ButtonMove& move);

    [[nodiscard]] bool should_close() const;
    void stay_open(); // takes back that it should close
    [[nodiscard]] bool minimised() const;
    /// How much larger than usual the desktop wants things; EVENCLOSE_SCALE overrules it.
    [[nodiscard]] float display_scale() const;
    /// The window as the desktop's portal names it: "x11:1a00007"; empty where it has no such name.
    [[nodiscard]] std::string portal_name() const;
    [[nodiscard]] GLFWwindow* handle() const { return window_; }

    /// Threads: any.
    static void wake();

private:
    /// The library behind it, which jobs may wake also while one window takes another's place.
    struct Library {
        Library();
        ~Library();
        Library(const Library&) = delete;
        Library& operator=(const Library&) = delete;
    };

    static GlfwWindow& of(GLFWwindow* window);
    void open(int width, int height);
    void listen();

    enum class TellsLoss { never, by_core, by_arb };

    Library library_;
    TellsLoss tells_loss_ = TellsLoss::never; // asked of the driver once, since context_lost() is asked each frame
    GLFWwindow* window_ = nullptr;
    Input input_;
    Cursor cursor_;
    std::string title_;
};

} // namespace evenclose
