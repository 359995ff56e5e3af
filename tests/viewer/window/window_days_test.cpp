// The window on good and bad days: an empty start, a file that cannot be used, a long check, any keys at all, no display.
#include "tests/viewer/window/open_shop.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <functional>
#include <random>

using namespace evenclose;
using namespace evenclose::test;

namespace {

double seconds_of(const std::function<void()>& what) {
    const auto start = std::chrono::steady_clock::now();
    what();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

} // namespace

TEST_CASE("window: a set-up that cannot be used lists its faults, and is taken up once it is mended") {
    TestFolder folder;
    const std::string file = write_shop_files(folder.path(), ShopFault::unreadable);
    WindowSession window(file);
    State state = window.wait_until("faulty", [](const State& s) { return s["stage"] == "faulty" && s["settled"]; });
    REQUIRE(state["faults"].size() == 2);
    CHECK(state["faults"][0].get<std::string>().find("lead") != std::string::npos);
    CHECK(state["faults"][1].get<std::string>().find("-20") != std::string::npos);
    CHECK(state["verdict"].is_null());
    CHECK(window.has_place("fault.1"));
    check_order(state);
    for (const char* key : {"space", "Up", "n", "t", "1", "Escape"}) { // none of them means anything now
        window.screen().key(key);
    }
    write_shop_files(folder.path(), ShopFault::none);
    window.screen().key("r");
    state = window.wait_until("checked", checked);
    CHECK(state["faults"].empty());
    CHECK(state["verdict"] != "no-go");
}

TEST_CASE("window: an empty start says what to do, a path typed on the sheet opens that set-up") {
    TestFolder folder;
    const std::string file = write_shop_files(folder.path(), ShopFault::none);
    WindowSession window("");
    State state = window.settled();
    CHECK(state["stage"] == "empty");
    check_order(state);
    for (const char* key : {"space", "Up", "n", "r", "c", "t", "1", "Escape"}) {
        window.screen().key(key);
    }
    window.click("welcome.open");
    window.wait_until("sheet", [](const State& s) { return s["sheet"] == "open" && s["settled"]; });
    window.screen().type(folder.path().string() + "/nothing.json");
    window.screen().key("Return");
    state =
        window.wait_until("told", [](const State& s) { return s["places"].contains("open.fault") && s["settled"]; });
    CHECK(state["stage"] == "empty");
    window.screen().key("ctrl+a");
    window.screen().type(folder.path().string() + "/");
    // While the path is being typed other folders are listed, with entries in the same rows: go by the name.
    state = window.wait_until(
        "listed", [](const State& s) { return s["places"].contains("open.entry.box.set-up.json") && s["settled"]; });
    CHECK(state["places"].contains("open.entry.box.mold.json"));
    window.click("open.entry.box.set-up.json");
    state = window.wait_until("checked", checked);
    CHECK(state["file"] == file);
    CHECK(state["sheet"] == "none");
    CHECK(state["setup"] == "A flat board");

    write_shop_files(folder.path(), ShopFault::stray_bolt);
    window.screen().key("ctrl+o");
    window.screen().type("box.set-up.json"); // at once, before the sheet is drawn; the folder is there already
    window.screen().key("Return");
    state = window.wait_until("the other", [](const State& s) { return checked(s) && s["verdict"] == "no-go"; });
    CHECK(state["setup"] == "A flat board and a stray bolt");
}

TEST_CASE("window: a long check blocks nothing, can be stopped, and ends with the window") {
    TestFolder folder;
    WindowSession window(write_long_check(folder.path(), 300'000));
    window.wait_until("checking", [](const State& s) { return s["stage"] == "checking" && s["last_mm"] > 0; });
    const double answers_s = seconds_of([&] {
        for (int i = 1; i <= 3; ++i) {
            window.screen().key("Up");
            window.wait_until(
                "travel", [&](const State& s) { return near(s["travel_mm"].get<double>(), i, 1e-9); }, 20);
        }
    });
    State state = window.state();
    REQUIRE(state["stage"] == "checking"); // still: else this says nothing
    MESSAGE("three steps of travel during a check: ", answers_s,
            " s; the longest the window did not listen: ", state["longest_gap_checking_ms"].get<double>(), " ms");
    CHECK(answers_s <
          10.0); // pictures of 600 000 triangles by a software rasteriser on a machine that checks meanwhile
    CHECK(window.has_place("header.cancel"));
    check_order(state);

    window.click("header.cancel");
    state = window.wait_until("stopped", [](const State& s) { return s["stage"] == "stopped"; });
    CHECK(state["verdict"].is_null());
    window.screen().key("r");
    window.wait_until("checking again", [](const State& s) { return s["stage"] == "checking"; });
    window.screen().key("ctrl+q");
    // A tenth of a second is what the window gives the job; the rest is starting xdotool and a frame under way.
    CHECK(seconds_of([&] { CHECK(window.program().exit_within(10) == 0); }) < 2.0);
}

TEST_CASE("window: any keys and any mouse in any order: it lives, keeps its order and ends when asked") {
    const char* asked = std::getenv("EVENCLOSE_RANDOM_ROUNDS"); // a round is a second or two
    const int rounds = asked != nullptr ? std::atoi(asked) : 4;
    std::mt19937 random(20'240'917);
    const auto any = [&](int below) { return static_cast<int>(random() % static_cast<unsigned>(below)); };
    // Not Ctrl Q, and not Return, which may open whatever lies about.
    const std::vector<std::string> keys{
        "space",  "Up",        "Down", "Prior", "Next",      "Home",     "End", "shift+Up", "u",      "t",
        "n",      "p",         "r",    "c",     "1",         "2",        "3",   "4",        "5",      "6",
        "7",      "8",         "0",    "e",     "Escape",    "question", "Tab", "ctrl+o",   "ctrl+a", "ctrl+z",
        "ctrl+f", "shift+Tab", "d",    "x",     "BackSpace", "slash",    "F5",  "alt+x",    "comma",  "ctrl+k"};
    OpenShop shop;
    WindowSession& window = shop.window;
    for (int round = 0; round < rounds; ++round) {
        CAPTURE(round);
        std::vector<std::string> lines;
        const auto move = [&] {
            lines.push_back("mousemove " + std::to_string(any(1280)) + " " + std::to_string(any(800)));
        };
        for (int i = 0; i < 60; ++i) {
            switch (any(5)) {
            case 0:
            case 1:
                lines.push_back("key " + keys[static_cast<std::size_t>(any(static_cast<int>(keys.size())))]);
                break;
            case 2:
                move();
                lines.push_back("click " + std::to_string(1 + any(5)));
                break;
            case 3: {
                const std::string button = std::to_string(1 + any(3));
                move();
                lines.push_back("mousedown " + button);
                move();
                move();
                lines.push_back("mouseup " + button);
                break;
            }
            default:
                lines.push_back("sleep 0.02");
            }
        }
        window.screen().script(lines);
        REQUIRE(window.program().running());
        const State state = window.state();
        CHECK(std::isfinite(state["camera"]["eye_mm"][0].get<double>()));
        CHECK(state["travel_mm"].get<double>() >= 0.0);
        // While the press is read anew its end of travel is not known; the travel waits for it.
        CHECK((state["stage"] == "reading" || state["travel_mm"].get<double>() <= state["last_mm"].get<double>()));
    }
    for (const char* key : {"Escape", "Escape", "Escape", "1"}) {
        window.screen().key(key);
    }
    // What was typed anywhere may have become an edit: all of it can be undone.
    State left = window.settled();
    for (int i = 0; i < 300 && left["unsaved"] == true; ++i) {
        window.screen().key("ctrl+z");
        left = window.settled();
    }
    CHECK(left["unsaved"] == false);
    window.screen().key("r");
    State state = window.wait_until("checked again", [](const State& s) { return s["stage"] == "checked"; });
    check_order(state);
    window.screen().key("ctrl+q");
    CHECK(window.program().exit_within(20) == 0);
    CHECK(window.output() == "");
}

TEST_CASE("window: without a display it says so in a line and what needs none") {
    TestFolder folder;
    const std::string output = (folder.path() / "output.txt").string();
    ChildProcess program({{program_file(), write_shop_files(folder.path(), ShopFault::none)},
                          {{"DISPLAY", ""}, {"WAYLAND_DISPLAY", ""}},
                          output});
    CHECK(program.exit_within(20) == 2);
    std::ifstream in(output);
    std::string line;
    REQUIRE(std::getline(in, line));
    CHECK(line.find("no window can be opened") != std::string::npos);
    CHECK(line.find("evenclose check") != std::string::npos);
    CHECK(!std::getline(in, line));
}
