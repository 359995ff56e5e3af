// What is missing or goes away under the open window: the display, OpenGL.
#include "tests/file_bytes.hpp"
#include "tests/places.hpp"
#include "tests/sanitizer.hpp"
#include "tests/viewer/window/open_shop.hpp"
#include "tests/viewer/window/screen_pictures.hpp"
#include "tests/viewer/window/unsaved_work.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <string>
#include <thread>

using namespace evenclose;
using namespace evenclose::test;

namespace {

namespace fs = std::filesystem;

struct Ended {
    std::optional<int> status;
    std::string said;
};

/// A driver that drops all it holds where `signal` is written (tests/stand_ins/lost_context.cpp); not under a sanitizer,
/// which must be loaded first.
WindowSession::Setting losing_driver(const fs::path& signal) {
    WindowSession::Setting setting;
    setting.environment = {{"LD_PRELOAD", build_folder() + "/lost_context.so"},
                           {"EVENCLOSE_STAND_IN_LOST", signal.string()}};
    return setting;
}

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
        edit_underside(window, "490");
        REQUIRE(work_is_kept_soon(home.path()));
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

TEST_CASE("window: the driver drops all it holds, another window in its place shows the same and goes on" *
          doctest::skip(kSanitized)) {
    const TestFolder signals;
    const fs::path signal = signals.path() / "lose";
    OpenShop shop(losing_driver(signal));
    WindowSession& window = shop.window;
    const auto lose = [&](int contexts) {
        std::ofstream(signal) << "once";
        window.screen().script({"mousemove_relative 3 3", "mousemove_relative -- -3 -3"}); // something to draw for
        return window.wait_until("anew",
                                 [&](const State& s) { return s["contexts"] == contexts && s["settled"].get<bool>(); });
    };
    edit_underside(window, "490");
    window.screen().key("Escape");
    window.screen().key("s");
    window.screen().move_mouse(640, 3); // over nothing
    State before = window.wait_until("cut", [](const State& s) { return !s["section"].empty() && s["settled"]; });
    const Image seen = window.screen().picture();
    State after = lose(2);
    check_order(after);
    for (const char* same :
         {"unsaved", "undo", "camera", "section", "travel_mm", "chosen_finding", "fields", "places"}) {
        CAPTURE(same);
        CHECK(after[same] == before[same]);
    }
    // A screen without a window manager lays what is new where it likes: over nothing else.
    CHECK(differing(seen, window.screen().picture(), {0, 0, 1280, 800}) < 200);
    window.screen().key("ctrl+z"); // and it hears
    window.wait_until("undone", [](const State& s) { return checked(s) && s["unsaved"] == false; });
    window.screen().key("ctrl+m"); // where pictures of molds hang
    before = window.wait_until("molds", [](const State& s) { return s["sheet"] == "molds" && s["settled"]; });
    const Image molds = window.screen().picture();
    after = lose(3);
    check_order(after);
    CHECK(after["places"] == before["places"]);
    CHECK(differing(molds, window.screen().picture(), {0, 0, 1280, 800}) < 200);
    window.screen().key("Escape");
    window.screen().key("ctrl+q");
    CHECK(window.program().exit_within(10) == 0);
    CHECK(window.output() == "");
}

TEST_CASE("window: a driver that drops all again and again ends it with words, work is kept" *
          doctest::skip(kSanitized)) {
    const TestFolder signals;
    const fs::path signal = signals.path() / "lose";
    const TestFolder home;
    WindowSession::Setting setting = losing_driver(signal);
    setting.state_home = home.path().string();
    OpenShop shop(setting);
    edit_underside(shop.window, "490");
    std::ofstream(signal) << "always";
    shop.window.screen().move_mouse(640, 3);
    CHECK(shop.window.program().exit_within(60) == 2);
    CHECK(shop.window.output().find("the graphics driver gives up again and again") != std::string::npos);
    CHECK(work_is_kept(home.path()));
}
