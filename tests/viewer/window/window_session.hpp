// tests/viewer/window/window_session.hpp: the real program in a real window on a screen of its own.
#pragma once

#include "tests/viewer/window/screen.hpp"
#include "viewer/ui/layout.hpp"

#include <nlohmann/json.hpp>

#include <functional>
#include <map>
#include <string>

namespace evenclose::test {

using State = nlohmann::json; // see viewer/ui/state_file.hpp

class WindowSession {
public:
    struct Setting {
        int width = 1280, height = 800;
        std::string scale = "1";
        std::string state_home = {};                         // where it keeps unsaved work; empty: a place of its own
        std::map<std::string, std::string> environment = {}; // besides
        std::string keyboard = {};                           // its layout, as X names it: "fr"; empty: the usual one
        bool in_own_folder = false; // the program works in a folder that goes with the screen, not in the test's
    };
    /// `setup_file` empty: an empty start. Waits for the first frame.
    WindowSession(const std::string& setup_file, const Setting& setting);
    explicit WindowSession(const std::string& setup_file) : WindowSession(setup_file, Setting{}) {}

    [[nodiscard]] Screen& screen() { return screen_; }
    [[nodiscard]] ChildProcess& program() { return *program_; }

    [[nodiscard]] State state() const;
    /// The first state for which `holds` is true. Faults: std::runtime_error with `what` and the last state after
    /// `seconds`, or as soon as the program has ended.
    State wait_until(const std::string& what, const std::function<bool(const State&)>& holds, double seconds = 60);
    /// Nothing more will be drawn by itself.
    State settled() {
        return wait_until("settled", [](const State& s) { return s["settled"].get<bool>(); });
    }
    [[nodiscard]] Rect place(const std::string& name) const;
    [[nodiscard]] bool has_place(const std::string& name) const { return state()["places"].contains(name); }
    void click(const std::string& place_name);
    /// What the program wrote to its outputs.
    [[nodiscard]] std::string output() const;

private:
    Screen screen_;
    std::string state_file_, output_file_;
    std::unique_ptr<ChildProcess> program_;
};

/// The program as it was built beside the tests.
[[nodiscard]] std::string program_file();

} // namespace evenclose::test
