// viewer/ui/gui.hpp: Dear ImGui's context and its back ends for one window and that window's OpenGL context.
//
// Threads: the one that owns the window. One at a time: Dear ImGui keeps its context in a global.
#pragma once

#include "viewer/app/theme.hpp"
#include "viewer/ui/fonts.hpp"

#include <optional>

struct GLFWwindow;

namespace evenclose {

class Gui {
public:
    explicit Gui(GLFWwindow* window);
    ~Gui();
    Gui(const Gui&) = delete;
    Gui& operator=(const Gui&) = delete;

    /// Letters and colours; nothing is made anew that is as before.
    void use(float scale, Theme theme);
    [[nodiscard]] const Fonts& fonts() const { return fonts_; }
    [[nodiscard]] float scale() const { return scale_; }

private:
    Fonts fonts_;
    float scale_ = 0;
    std::optional<Theme> theme_;
};

} // namespace evenclose
