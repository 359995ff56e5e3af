#include "tests/viewer/window/window_session.hpp"
#include "tests/places.hpp"
#include "tests/sanitizer.hpp"

#include <chrono>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <thread>

namespace evenclose::test {
namespace {

constexpr double kSlower = kSanitized ? 4.0 : 1.0;

} // namespace

std::string program_file() { return build_folder() + "/evenclose"; }

WindowSession::WindowSession(const std::string& setup_file, const Setting& setting)
    : screen_(setting.width, setting.height), state_file_((screen_.folder() / "state.json").string()),
      output_file_((screen_.folder() / "output.txt").string()) {
    if (!setting.keyboard.empty()) {
        run_to_end({{"setxkbmap", setting.keyboard}, {{"DISPLAY", screen_.display()}}, {}});
    }
    ChildProcess::Start start;
    start.command = {program_file(), "--size", std::to_string(setting.width) + "x" + std::to_string(setting.height)};
    if (!setup_file.empty()) {
        start.command.push_back(setup_file);
    }
    start.environment = {
        {"DISPLAY", screen_.display()},
        {"WAYLAND_DISPLAY", ""},
        {"DBUS_SESSION_BUS_ADDRESS", "disabled:"}, // a desktop's dialogs are on no screen of ours
        {"EVENCLOSE_STATE", state_file_},
        {"EVENCLOSE_SCALE", setting.scale},
        {"XDG_STATE_HOME", setting.state_home.empty() ? (screen_.folder() / "home").string() : setting.state_home},
        // The software rasteriser leaves a few hundred bytes behind when it is unloaded, from a module
        // that has no name any more, so that they cannot be told from others.
        {"ASAN_OPTIONS", "detect_leaks=0"}};
    for (const auto& [name, value] : setting.environment) {
        start.environment.insert_or_assign(name, value);
    }
    start.output_file = output_file_;
    if (setting.in_own_folder) {
        start.folder = screen_.folder().string();
    }
    program_ = std::make_unique<ChildProcess>(start);
    wait_until("first frame", [](const State& s) { return s["frames"].get<int>() > 0 && s.contains("places"); });
}

State WindowSession::state() const {
    std::ifstream in(state_file_); // renamed into place, so never half written
    if (!in) {
        return nullptr;
    }
    return State::parse(in);
}

State WindowSession::wait_until(const std::string& what, const std::function<bool(const State&)>& holds,
                                double seconds) {
    const auto until = std::chrono::steady_clock::now() + std::chrono::duration<double>(kSlower * seconds);
    State last;
    while (std::chrono::steady_clock::now() < until) {
        last = state();
        if (!last.is_null() && holds(last)) {
            return last;
        }
        if (!program_->running()) {
            throw std::runtime_error("the program ended while waiting for: " + what + "\n" + output());
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    throw std::runtime_error("waited in vain for: " + what + "\n" + (last.is_null() ? "no state" : last.dump()) + "\n" +
                             output());
}

Rect WindowSession::place(const std::string& name) const {
    const State now = state();
    if (!now["places"].contains(name)) {
        throw std::runtime_error("nothing called " + name + " is drawn");
    }
    const State& r = now["places"][name];
    return {r[0].get<float>(), r[1].get<float>(), r[2].get<float>(), r[3].get<float>()};
}

void WindowSession::click(const std::string& place_name) {
    const Rect rect = place(place_name);
    screen_.click(rect.middle_x(), rect.middle_y());
}

std::string WindowSession::output() const {
    std::ifstream in(output_file_);
    std::ostringstream all;
    all << in.rdbuf();
    return all.str();
}

} // namespace evenclose::test
