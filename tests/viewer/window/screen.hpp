// tests/viewer/window/screen.hpp: a screen of its own for each test (Xvfb), with a mouse, keys and pictures of it.
#pragma once

#include "tests/viewer/window/child_process.hpp"
#include "viewer/render/frame.hpp"

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

namespace evenclose::test {

/// A folder that goes with the test.
class TestFolder {
public:
    TestFolder();
    ~TestFolder();
    TestFolder(const TestFolder&) = delete;
    TestFolder& operator=(const TestFolder&) = delete;
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

class Screen {
public:
    /// Faults: std::runtime_error when Xvfb cannot be started.
    Screen(int width, int height);

    [[nodiscard]] const std::string& display() const { return display_; }
    [[nodiscard]] const std::filesystem::path& folder() const { return folder_.path(); }

    void move_mouse(double x, double y) const;
    void press_button(int button) const; // 1 left, 2 middle, 3 right, 4 and 5 the wheel
    void release_button(int button) const;
    void click(double x, double y, int button = 1) const;
    /// As xdotool names them: "space", "Up", "ctrl+q", "question".
    void key(const std::string& name) const;
    void type(const std::string& text) const;
    /// Many of xdotool's commands, a line each, one after the other.
    void script(const std::vector<std::string>& lines) const;
    [[nodiscard]] Image picture() const;
    /// As when the display's server crashes.
    void go_away() { server_->kill(); }

private:
    void xdotool(std::vector<std::string> words) const;

    TestFolder folder_;
    std::unique_ptr<ChildProcess> server_;
    std::string display_;
};

} // namespace evenclose::test
