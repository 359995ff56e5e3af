// What is typed faster than frames are drawn reaches the text field whole.
#include "viewer/ui/text_keys.hpp"

#include <GLFW/glfw3.h>
#include <doctest/doctest.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include <string>
#include <string_view>
#include <utility>

using namespace evenclose;

namespace {

/// A text field, drawn without a window, and a keyboard.
class Field {
public:
    explicit Field(std::string text) : text_(std::move(text)) {
        ImGui::CreateContext();
        ImGuiIO& io = ImGui::GetIO();
        io.DisplaySize = {400, 100};
        io.KeyMap[ImGuiKey_A] = GLFW_KEY_A;
        io.KeyMap[ImGuiKey_Backspace] = GLFW_KEY_BACKSPACE;
        io.IniFilename = nullptr;
        unsigned char* pixels = nullptr;
        int width = 0;
        int height = 0;
        io.Fonts->GetTexDataAsAlpha8(&pixels, &width, &height);
        frame();
        frame(); // the focus takes a frame
    }
    Field(const Field&) = delete;
    Field& operator=(const Field&) = delete;
    ~Field() { ImGui::DestroyContext(); }

    void press(int key, int mods = 0) { keys_.add(KeyPress{key, mods, false}); }
    void type(std::string_view text) {
        for (const char c : text) {
            keys_.add(static_cast<char32_t>(c));
        }
    }
    std::string after_all() {
        for (int i = 0; i < 40 && (keys_.waiting() || i < 3); ++i) {
            frame();
        }
        return text_;
    }

private:
    void frame() {
        keys_.show_next([](int) { return false; }, active_);
        ImGui::NewFrame();
        ImGui::SetNextWindowPos({0, 0});
        ImGui::Begin("window");
        if (!active_) {
            ImGui::SetKeyboardFocusHere();
        }
        ImGui::InputText("##field", &text_);
        active_ = ImGui::IsItemActive();
        ImGui::End();
        ImGui::Render();
    }

    TextKeys keys_;
    std::string text_;
    bool active_ = false;
};

} // namespace

TEST_CASE("text keys: everything is marked and typed over, all of it before the next frame") {
    Field field("/shop/nothing.json");
    field.press(GLFW_KEY_A, GLFW_MOD_CONTROL);
    field.type("/shop/press/");
    CHECK(field.after_all() == "/shop/press/");
}

TEST_CASE("text keys: a word, two steps back, another word") {
    Field field("");
    field.press(GLFW_KEY_A, GLFW_MOD_CONTROL);
    field.type("decks");
    field.press(GLFW_KEY_BACKSPACE);
    field.press(GLFW_KEY_BACKSPACE);
    field.type("orate");
    CHECK(field.after_all() == "decorate");
}
