// The journeys of the guide (assets/guide/journeys.md), with nothing but keys and mouse, each step looked at.
//
// EVENCLOSE_GUIDE_PICTURES=FOLDER keeps the picture of each step there, as the guide shows it.
#include "tests/viewer/window/open_shop.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

using namespace evenclose;
using namespace evenclose::test;
namespace fs = std::filesystem;

namespace {

/// The folder that the guide's pictures show, or one that goes with the test.
class ShopFolder {
public:
    ShopFolder() {
        if (std::getenv("EVENCLOSE_GUIDE_PICTURES") != nullptr) {
            path_ = "/tmp/shop"; // stands in pictures
            fs::remove_all(path_);
            fs::create_directories(path_);
        }
    }
    [[nodiscard]] const fs::path& path() const { return path_; }

private:
    TestFolder own_;
    fs::path path_ = own_.path();
};

/// Looks whether everything on the screen is in order, and keeps the picture for the guide where that is asked for.
void look(WindowSession& window, const char* name) {
    const State state = window.settled();
    INFO(name);
    check_order(state);
    static_cast<void>(window.screen().picture());
    if (const char* folder = std::getenv("EVENCLOSE_GUIDE_PICTURES")) {
        fs::copy_file(window.screen().folder() / "screen.png", fs::path(folder) / (std::string(name) + ".png"),
                      fs::copy_options::overwrite_existing);
    }
}

nlohmann::json read(const fs::path& file) { return nlohmann::json::parse(std::ifstream(file)); }
void write(const fs::path& file, const nlohmann::json& document) { std::ofstream(file) << document.dump(1) << '\n'; }

/// A press with a bolt that only a long mold meets, and a right jack that rises 1 % less; a short and a long mold.
fs::path write_shop(const fs::path& folder) {
    const fs::path setup = write_shop_files(folder, ShopFault::none);
    nlohmann::json press = read(folder / "box.press.json");
    press["name"] = "Box press";
    press["members"].push_back({{"name", "lamp bolt"},
                                {"from", {370, 40, 400}},
                                {"to", {330, 40, 400}},
                                {"section", {{"rod", 12}}},
                                {"material", "8.8"}});
    press["jacks"][1]["rate"] = 0.99;
    write(folder / "box.press.json", press);
    nlohmann::json mold = read(folder / "box.mold.json");
    mold["name"] = "Long board";
    mold["lower"]["block"][0] = 690;
    mold["upper"]["block"][0] = 690;
    write(folder / "long.mold.json", mold);
    return setup;
}

void type_number(WindowSession& window, const std::string& number) {
    window.screen().key("ctrl+a");
    window.screen().type(number);
    window.screen().key("Return");
    window.wait_until("applied", [](const State& s) { return checked(s) && s["unsaved"] == true; });
}

/// The finding of `check` that is chosen when the ledger is stepped through from its top; its index.
std::size_t choose_worst(WindowSession& window) {
    window.screen().key("Escape");
    window.wait_until("none", [](const State& s) { return s["chosen_finding"].is_null(); });
    window.screen().key("n");
    return window.wait_until("first",
                             [](const State& s) { return s["chosen_finding"] == 0 && s["settled"]; })["chosen_finding"];
}

} // namespace

TEST_CASE("window: journey: a new press from a few questions") {
    const ShopFolder shop;
    WindowSession window("");
    look(window, "new-1-empty");
    window.click("welcome.new");
    window.wait_until("asked", [](const State& s) { return s["sheet"] == "new press" && s["settled"]; });
    window.screen().type("900");
    for (int i = 0; i < 2; ++i) {
        window.screen().key("Tab");
    }
    window.screen().type("800");
    for (int i = 0; i < 4; ++i) {
        window.screen().key("Tab");
    }
    window.wait_until("file", [](const State& s) {
        return s["places"].contains("new_press.typing") &&
               s["places"]["new_press.typing"] == s["places"]["new_press.file"];
    });
    window.screen().key("ctrl+a");
    window.screen().type((shop.path() / "heron").string());
    look(window, "new-2-questions");
    window.screen().key("Return");
    const State state = window.wait_until("made and checked", checked, 120);
    CHECK(state["verdict"] != "no-go");
    CHECK(fs::exists(shop.path() / "heron.set-up.json"));
    look(window, "new-3-checked");
    window.screen().key("space");
    window.wait_until("it closes", [](const State& s) { return s["travel_mm"] > 20.0; });
    window.screen().key("space");
    look(window, "new-4-closing");
}

TEST_CASE("window: journeys: a mold that fouls, mended by its remedy, levelled by a shim, three openings, the report") {
    const ShopFolder shop;
    WindowSession window(write_shop(shop.path()).string());
    window.wait_until("checked", checked);

    // Another mold: it is longer, and meets the bolt.
    window.screen().key("ctrl+o");
    window.wait_until("sheet", [](const State& s) { return s["sheet"] == "open" && s["settled"]; });
    window.screen().type("long.mold.json");
    look(window, "swap-1-choose");
    window.screen().key("Return");
    State state =
        window.wait_until("swapped", [](const State& s) { return checked(s) && s["molds"] == State({"Long board"}); });
    CHECK(state["verdict"] == "no-go");
    choose_worst(window);
    state = window.state();
    const auto& lit = state["lit"];
    REQUIRE(std::find(lit.begin(), lit.end(), "lamp bolt") != lit.end());
    look(window, "swap-2-foul");

    // The remedy: the bolt out of the way.
    window.screen().key("e");
    window.wait_until("fields", [](const State& s) { return s["fields"] != "" && s["settled"]; });
    find_field(window, "lamp bolt to", "members[2].to[0]");
    look(window, "mend-1-field");
    type_number(window, "360");
    window.screen().key("e");
    window.wait_until("bench", [](const State& s) { return s["fields"] == "" && s["settled"]; });
    choose_worst(window);
    state = window.state();
    CHECK(std::find(state["lit"].begin(), state["lit"].end(), "lamp bolt") == state["lit"].end());
    look(window, "mend-2-gone");

    // The right jack lags: 1 % of 108.9 mm over 500 mm between the jacks, 1.5 mm over 690 mm of deck.
    CHECK(state["verdict"] == "no-go");
    window.screen().key("t");
    window.wait_until("magnified", [](const State& s) { return s["tilt_magnified"] == 10.0; });
    look(window, "level-1-tilt");
    window.screen().key("e");
    window.wait_until("fields", [](const State& s) { return s["fields"] != "" && s["settled"]; });
    find_field(window, "right jack foot", "jacks[1].foot[0]");
    window.screen().key("Tab");
    window.screen().key("Tab");
    window.wait_until("height", [](const State& s) { return s["field"] == "jacks[1].foot[2]"; });
    type_number(window, "1.09");
    window.screen().key("e");
    state = window.wait_until("bench", [](const State& s) { return s["fields"] == "" && checked(s); });
    CHECK(state["verdict"] != "no-go");
    look(window, "level-2-shimmed");
    window.screen().key("ctrl+s");
    window.wait_until("saved", [](const State& s) { return s["unsaved"] == false && s["settled"]; });

    // Several decks at once, in a press with even jacks: the plan says what it must become, and opens it.
    fs::create_directories(shop.path() / "even");
    const std::string even = write_shop_files(shop.path() / "even", ShopFault::none);
    window.screen().key("ctrl+o");
    window.wait_until("sheet", [](const State& s) { return s["sheet"] == "open" && s["settled"]; });
    window.screen().key("ctrl+a");
    window.screen().type(even);
    window.screen().key("Return");
    window.wait_until("even", [&](const State& s) { return checked(s) && s["file"] == even; });
    window.click("bench.plan");
    state = window.wait_until(
        "plan",
        [](const State& s) { return s["sheet"] == "plan" && s["plan"].is_object() && s["settled"].get<bool>(); }, 120);
    REQUIRE(state["plan"]["ways"] >= 3);
    window.click("plan.way.2");
    window.wait_until("chosen", [](const State& s) { return s["plan"]["chosen"] == 2; });
    look(window, "stack-1-ways");
    window.click("plan.open");
    state = window.wait_until(
        "three openings", [](const State& s) { return checked(s) && s["molds"].size() == 3; }, 120);
    CHECK(state["verdict"] != "no-go");
    CHECK(fs::exists(state["file"].get<std::string>()));
    window.screen().key("End");
    window.wait_until("closed", [](const State& s) { return s["travel_mm"] == s["last_mm"] && s["settled"]; });
    look(window, "stack-2-closed");

    // All of it on one page.
    window.screen().key("ctrl+p");
    window.wait_until("sheet",
                      [](const State& s) { return s["sheet"] == "report" && s["places"].contains("report.field"); });
    window.screen().key("ctrl+a");
    window.screen().type((shop.path() / "three-openings.pdf").string());
    look(window, "report-1-name");
    window.screen().key("Return");
    window.wait_until(
        "written",
        [](const State& s) {
            return s["settled"] && s["notice"].get<std::string>().starts_with("The report stands in");
        },
        60);
    CHECK(fs::file_size(shop.path() / "three-openings.pdf") > 10'000);
    look(window, "report-2-written");
    window.screen().key("ctrl+q");
    CHECK(window.program().exit_within(20) == 0);
}
