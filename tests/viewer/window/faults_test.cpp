// What is missing or goes away under the open window: the display, OpenGL.
#include "tests/file_bytes.hpp"
#include "tests/viewer/window/open_shop.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <filesystem>
#include <string>
#include <thread>

using namespace evenclose;
using namespace evenclose::test;

namespace {

namespace fs = std::filesystem;

bool work_is_kept(const fs::path& home) {
    for (const auto& entry : fs::directory_iterator(home / "evenclose")) {
        if (entry.path().extension() == ".work") {
            return true;
        }
    }
    return false;
}

struct Ended {
    std::optional<int> status;
    std::string said;
};

/// The window on a screen whose OpenGL is other than usual.
Ended window_with(const std::map<std::string, std::string>& environment) {
    const TestFolder folder;
    const Screen screen(1280, 800);
    ChildProcess::Start start;
    start.command = {program_file(), write_shop_files(folder.path(), ShopFault::none)};
    start.environment = environment;
    start.environment["DISPLAY"] = screen.display();
    start.environment["WAYLAND_DISPLAY"] = "";
    start.environment["XDG_STATE_HOME"] = folder.path().string();
    start.output_file = (folder.path() / "output.txt").string();
    ChildProcess program(start);
    const auto status = program.exit_within(60);
    return {status, bytes_of(start.output_file)};
}

} // namespace

TEST_CASE("window: the display goes away under unsaved work: the next window offers it") {
    const TestFolder folder;
    const TestFolder home;
    const std::string setup = write_shop_files(folder.path(), ShopFault::none);
    const std::string press = (folder.path() / "box.press.json").string();
    const std::string start = bytes_of(press);
    WindowSession::Setting setting;
    setting.state_home = home.path().string();
    {
        WindowSession window(setup, setting);
        window.wait_until("checked", checked);
        window.screen().key("e");
        find_field(window, "head underside", "head.underside");
        window.screen().type("490");
        window.screen().key("Return");
        window.wait_until("edited", [](const State& s) { return s["unsaved"] == true; });
        for (int i = 0; i < 6000 && !work_is_kept(home.path()); ++i) {
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        }
        REQUIRE(work_is_kept(home.path()));
        window.screen().go_away();
        const auto status = window.program().exit_within(60);
        REQUIRE(status);
        CHECK(*status > 0);
        CHECK(*status < 128); // ended, not crashed
        CHECK(work_is_kept(home.path()));
    }
    CHECK(bytes_of(press) == start);
    WindowSession window("", setting);
    window.wait_until("offered", [](const State& s) { return s["sheet"] == "left behind" && s["settled"]; });
    window.click("left_behind.take.0");
    window.wait_until("taken up", [](const State& s) { return checked(s) && s["unsaved"] == true; });
    window.screen().key("ctrl+s");
    window.wait_until("saved", [](const State& s) { return s["unsaved"] == false; });
    CHECK(bytes_of(press).find("\"underside\": 490") != std::string::npos);
}

TEST_CASE("window: the display goes away while checks run: the program ends and does not crash") {
    const TestFolder folder;
    WindowSession window(write_long_check(folder.path(), 3000));
    window.wait_until("begun", [](const State& s) { return s["stage"] == "checking" || s["stage"] == "checked"; });
    window.screen().go_away();
    const auto status = window.program().exit_within(60);
    REQUIRE(status);
    CHECK(*status > 0);
    CHECK(*status < 128);
}

TEST_CASE("window: a driver with OpenGL 3.3 and no more is enough") {
    WindowSession::Setting setting;
    setting.environment = {{"MESA_GL_VERSION_OVERRIDE", "3.3"}, {"MESA_GLSL_VERSION_OVERRIDE", "330"}};
    OpenShop shop(setting, ShopFault::stray_bolt);
    check_order(shop.window.wait_until("checked", checked));
    shop.window.screen().key("s"); // a section: the stencil, and planes that cut
    check_order(shop.window.wait_until("cut", [](const State& s) { return !s["section"].empty() && s["settled"]; }));
    shop.window.screen().key("ctrl+q");
    CHECK(shop.window.program().exit_within(10) == 0);
    CHECK(shop.window.output() == "");
}

TEST_CASE("window: with an older OpenGL, or none, it says so in a line and what needs none") {
    for (const std::map<std::string, std::string>& environment :
         {std::map<std::string, std::string>{{"MESA_GL_VERSION_OVERRIDE", "2.1"}},
          std::map<std::string, std::string>{{"LIBGL_DRIVERS_PATH", "/nowhere"}, {"GBM_DRIVERS_PATH", "/nowhere"}}}) {
        const Ended ended = window_with(environment);
        CAPTURE(environment.begin()->first);
        CAPTURE(ended.said);
        CHECK(ended.status == 2);
        CHECK(ended.said.find("OpenGL 3.3") != std::string::npos);
        CHECK(ended.said.find("`evenclose check`") != std::string::npos);
    }
}
