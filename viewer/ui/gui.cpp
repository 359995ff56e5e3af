#include "viewer/ui/gui.hpp"

#include "viewer/ui/look.hpp"

#include <backends/imgui_impl_glfw.h>
#include <backends/imgui_impl_opengl3.h>

#include <imgui.h>

namespace evenclose {

Gui::Gui(GLFWwindow* window) {
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    ImGui_ImplGlfw_InitForOpenGL(window, false); // see GlfwWindow::listen()
    ImGui_ImplOpenGL3_Init("#version 330 core");
}

Gui::~Gui() {
    ImGui_ImplOpenGL3_Shutdown();
    ImGui_ImplGlfw_Shutdown();
    ImGui::DestroyContext();
}

void Gui::use(float scale, Theme theme) {
    if (theme != theme_) {
        theme_ = theme;
        use_theme(theme);
        set_style(scale);
    }
    if (scale == scale_) {
        return;
    }
    scale_ = scale;
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    fonts_ = make_fonts(scale);
    ImGui_ImplOpenGL3_CreateFontsTexture();
    set_style(scale);
}

} // namespace evenclose
