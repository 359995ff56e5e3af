// The folder of molds in the real window, by keys and mouse alone.
#include "tests/file_bytes.hpp"
#include "tests/viewer/window/open_shop.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <chrono>
#include <fstream>
#include <thread>

using namespace evenclose;
using namespace evenclose::test;

namespace fs = std::filesystem;

namespace {

/// Blocks `height` high each, 500 x 200; daylight is 240, so above some 114 the mold does not go in.
void write_mold(const fs::path& file, const std::string& name, int height) {
    std::ofstream(file) << fmt::format(
        R"({{ "evenclose": "mold", "version": 1, "name": "{}", "lower": {{ "block": [500, 200, {}] }},
              "upper": {{ "block": [500, 200, {}] }},
              "stack": {{ "plies": [ {{ "thickness": 1.5, "species": "birch", "grain": "along", "count": 7 }} ], "glue_line": 0.1 }} }})",
        name, height, height);
}

const State& molds(const State& s) { return s["molds_folder"]["molds"]; }

std::string verdict_of(const State& s, const std::string& name) {
    for (const State& mold : molds(s)) {
        if (mold["name"] == name) {
            return mold["verdict"];
        }
    }
    return "not there";
}

bool chosen_is(const State& s, const std::string& file) {
    return has(s, "molds.card." + file) && has(s, "molds.chosen") &&
           s["places"]["molds.chosen"] == s["places"]["molds.card." + file] && s["settled"].get<bool>();
}

/// Opens the sheet and waits until the press has spoken about all.
State opened(WindowSession& window, std::size_t count) {
    window.screen().key("ctrl+m");
    return window.wait_until(
        "molds",
        [&](const State& s) {
            return s["sheet"] == "molds" && molds(s).size() == count && s["settled"].get<bool>() &&
                   s["molds_folder"]["listed"].get<bool>();
        },
        180);
}

} // namespace

TEST_CASE("window: the molds of a folder stand with picture, size and verdict, one is found, swapped in, compared") {
    OpenShop shop({}, ShopFault::none);
    WindowSession& window = shop.window;
    const fs::path folder = shop.folder.path();
    write_mold(folder / "tall.mold.json", "Tall board", 125);
    write_mold(folder / "low.mold.json", "Low board", 50);
    write_mold(folder / "broken.mold.json", "Broken board", -60);
    // By the button on the mold's card first.
    window.click("bench.molds");
    State state = window.wait_until("molds", [](const State& s) {
        return s["sheet"] == "molds" && molds(s).size() == 4 && s["settled"].get<bool>();
    });
    check_order(state);
    CHECK(verdict_of(state, "Tall board") == "no-go");
    CHECK(verdict_of(state, "Flat board") == "marginal");
    CHECK(verdict_of(state, "Broken board").empty());
    for (const State& mold : molds(state)) {
        CAPTURE(mold["name"].get<std::string>());
        CHECK(mold["drawn"] == (mold["name"] != "Broken board"));
        if (mold["name"] == "Tall board") {
            // 250 and 11.1 of plies under 240 of daylight.
            CHECK(mold["says"].get<std::string>().find("21.12 mm too tall") != std::string::npos);
        }
        if (mold["name"] == "Broken board") {
            CHECK(mold["fault"].get<std::string>().find("lower.block[2]: -60 is") != std::string::npos);
        }
    }
    CHECK(has(state, "molds.here"));
    CHECK(chosen_is(state, "box.mold.json")); // the one in the press
    static_cast<void>(window.screen().picture());

    // Arrow keys, in the order of the names: Broken, Flat, Low, Tall.
    window.screen().key("Right");
    window.wait_until("next", [](const State& s) { return chosen_is(s, "low.mold.json"); });
    window.screen().key("Home");
    window.wait_until("first", [](const State& s) { return chosen_is(s, "broken.mold.json"); });
    window.screen().key("Return"); // cannot be read: nothing comes of it
    window.screen().type("no-go");
    state = window.wait_until(
        "found", [](const State& s) { return chosen_is(s, "tall.mold.json") && !has(s, "molds.card.low.mold.json"); });
    CHECK(state["sheet"] == "molds");
    CHECK(state["unsaved"] == false);
    window.screen().key("Return");
    state =
        window.wait_until("swapped", [](const State& s) { return checked(s) && s["molds"] == State({"Tall board"}); });
    CHECK(state["sheet"] == "none");
    CHECK(state["verdict"] == "no-go");
    CHECK(state["undo"] == "mold: tall.mold.json");
    window.screen().key("ctrl+z");
    state = window.wait_until("undone", [](const State& s) {
        return checked(s) && s["molds"] == State({"Flat board"}) && s["unsaved"] == false;
    });

    // A second key compares, and the press keeps its mold.
    state = opened(window, 4);
    window.screen().type("low");
    window.wait_until("found", [](const State& s) { return chosen_is(s, "low.mold.json"); });
    window.screen().key("shift+Return");
    state = window.wait_until(
        "compared", [](const State& s) { return s["sheet"] == "compare" && has(s, "compare.stroke") && s["settled"]; });
    CHECK(state["compared"] == "Low board");
    CHECK(state["molds"] == State({"Flat board"}));
    CHECK(state["unsaved"] == false);
    check_order(state);
    static_cast<void>(window.screen().picture());
    window.screen().key("Escape");
    // By the mouse: a card is taken by a click.
    opened(window, 4);
    window.click("molds.card.low.mold.json");
    state = window.wait_until("taken", [](const State& s) { return checked(s) && s["molds"] == State({"Low board"}); });
    CHECK(state["sheet"] == "none");
}

TEST_CASE(
    "window: a mold that is written anew, one that comes and a folder that vanishes show while the sheet is open") {
    OpenShop shop({}, ShopFault::none);
    WindowSession& window = shop.window;
    const fs::path folder = shop.folder.path() / "others";
    fs::create_directories(folder / "deep");
    write_mold(folder / "low.mold.json", "Low board", 50);
    // Another folder, by keys: Tab, its name, Enter.
    opened(window, 2); // the box and, below, the other
    window.screen().key("Tab");
    State state = window.wait_until("path", [](const State& s) { return has(s, "molds.path") && s["settled"]; });
    check_order(state);
    CHECK(has(state, "molds.entry.others/"));
    window.screen().type("nowhere");
    window.screen().key("Return");
    state = window.wait_until("no such", [](const State& s) { return has(s, "molds.fault") && s["settled"]; });
    check_order(state);
    window.screen().key("ctrl+a");
    window.screen().type(shop.folder.path().string() + "/oth");
    window.wait_until("narrowed", [](const State& s) { return has(s, "molds.entry.others/") && s["settled"]; });
    window.screen().key("Down");
    window.screen().key("Return"); // into it
    window.wait_until("walked", [](const State& s) { return has(s, "molds.entry.deep/") && s["settled"]; });
    window.screen().key("Return");
    state = window.wait_until("other folder", [&](const State& s) {
        return s["molds_folder"]["folder"] == folder.string() && molds(s).size() == 1 && s["settled"];
    });
    check_order(state);
    CHECK(!has(state, "molds.here"));
    CHECK(verdict_of(state, "Low board") == "marginal");
    static_cast<void>(window.screen().picture());

    write_mold(folder / "low.mold.json", "Low board", 130);
    window.wait_until("changed", [](const State& s) { return verdict_of(s, "Low board") == "no-go" && s["settled"]; });
    write_mold(folder / "deep" / "new.mold.json", "Newcomer", 40);
    state = window.wait_until("come", [](const State& s) {
        return !verdict_of(s, "Newcomer").empty() && verdict_of(s, "Newcomer") != "not there" && s["settled"];
    });
    check_order(state);
    fs::remove_all(folder);
    state = window.wait_until("gone", [](const State& s) { return has(s, "molds.nothing") && s["settled"]; });
    CHECK(state["molds_folder"]["fault"] == "No such file or directory");
    check_order(state);
    static_cast<void>(window.screen().picture());
    fs::create_directories(folder);
    state = window.wait_until(
        "empty", [](const State& s) { return s["molds_folder"]["fault"] == "" && molds(s).empty() && s["settled"]; });
    CHECK(has(state, "molds.nothing"));
    check_order(state);
    window.screen().key("Return"); // nothing to take
    // Back to where the press has its mold from, for good.
    window.screen().key("Tab");
    window.wait_until("path", [](const State& s) { return has(s, "molds.follow") && s["settled"]; });
    window.click("molds.follow");
    state = window.wait_until("back", [&](const State& s) {
        return s["molds_folder"]["folder"] == shop.folder.path().string() && molds(s).size() == 1 && s["settled"];
    });
    CHECK(chosen_is(state, "box.mold.json"));
}

TEST_CASE(
    "window: two hundred molds: those in sight first, stopped and gone on with, and known at once the next time") {
    for (const WindowSession::Setting& setting :
         {WindowSession::Setting{1280, 800, "1"}, WindowSession::Setting{2560, 1440, "2"}}) {
        OpenShop shop(setting, ShopFault::none);
        WindowSession& window = shop.window;
        fs::create_directories(shop.folder.path() / "many");
        for (int i = 1; i < 200; ++i) {
            write_mold(shop.folder.path() / "many" / fmt::format("m{}.mold.json", i), fmt::format("Board {}", i),
                       i < 6 ? 50 : 120 + i / 8); // the most do not go in, which is soon told
        }
        window.screen().key("ctrl+d");
        window.screen().key("u");
        window.wait_until("inches by lamplight",
                          [](const State& s) { return s["units"] == "inch" && s["theme"] == "dark" && s["settled"]; });
        window.screen().key("ctrl+m");
        // What is before the eyes is drawn before the rest.
        State state = window.wait_until(
            "in sight",
            [](const State& s) {
                return s["sheet"] == "molds" && molds(s).size() == 200 && molds(s)[0]["drawn"].get<bool>();
            },
            120);
        CHECK(molds(state)[0]["name"] == "Board 1");
        window.wait_until("progress", [](const State& s) { return has(s, "molds.progress") && has(s, "molds.left"); });
        window.click("molds.stop");
        state = window.wait_until("stopped", [](const State& s) { return s["molds_folder"]["stopped"].get<bool>(); });
        CHECK(state["molds_folder"]["fits_run"] == false);
        window.wait_until(
            "drawn", [](const State& s) { return s["settled"].get<bool>(); }, 120);
        window.click("molds.stop");
        state = window.wait_until(
            "asked", [](const State& s) { return s["settled"].get<bool>() && !s["molds_folder"]["stopped"]; }, 400);
        CHECK(verdict_of(state, "Board 199") == "no-go");
        check_order(state);
        static_cast<void>(window.screen().picture());
        window.screen().key("End");
        state = window.wait_until("end", [](const State& s) { return chosen_is(s, "box.mold.json"); });
        check_order(state);
        window.screen().key("Page_Up");
        window.screen().key("Up");
        window.wait_until("up",
                          [](const State& s) { return has(s, "molds.chosen") && !chosen_is(s, "box.mold.json"); });
        window.screen().key("Escape");
        window.wait_until("closed", [](const State& s) { return s["sheet"] == "none"; });
        window.screen().key("ctrl+m");
        state =
            window.wait_until("again", [](const State& s) { return s["sheet"] == "molds" && has(s, "molds.chosen"); });
        CHECK(state["molds_folder"]["fits_run"] == false);
        CHECK(molds(state).size() == 200);
        CHECK(verdict_of(state, "Board 199") == "no-go");
        CHECK(molds(state)[150]["drawn"] == true);
        // A window that waited for two hundred molds would not listen for minutes. Seconds: the machine may be busy, and
        // a software rasteriser draws on it.
        CHECK(state["longest_gap_ms"].get<double>() < 5000);
    }
}
