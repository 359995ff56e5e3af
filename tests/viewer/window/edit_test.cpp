// Journeys of editing in the real window: keys and mouse only.
#include "scene/mesh/shapes.hpp"
#include "tests/file_bytes.hpp"
#include "tests/scene/documents/text_stl.hpp"
#include "tests/viewer/window/open_shop.hpp"
#include "tests/viewer/window/unsaved_work.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>
#include <thread>

using namespace evenclose;
using namespace evenclose::test;

namespace {

/// The first line of the ledger is about the stray bolt.
bool worst_is_of_bolt(WindowSession& window) {
    window.screen().key("Escape");
    window.wait_until("none", [](const State& s) { return s["chosen_finding"].is_null(); });
    window.screen().key("n");
    const State state = window.wait_until("first", [](const State& s) { return s["chosen_finding"] == 0; });
    window.screen().key("Escape");
    window.wait_until("none", [](const State& s) { return s["chosen_finding"].is_null() && s["settled"]; });
    return std::find(state["lit"].begin(), state["lit"].end(), "stray bolt") != state["lit"].end();
}

/// On by Tab to a question of the new press, until it is typed at.
void tab_to(WindowSession& window, const std::string& name, int tabs) {
    for (int i = 0; i < tabs; ++i) {
        window.screen().key("Tab");
    }
    window.wait_until(name, [&](const State& s) {
        return has(s, "new_press.typing") && s["places"]["new_press.typing"] == s["places"][name];
    });
}

} // namespace

TEST_CASE("window: the foul is mended by typing the remedy's number, undone, done again and saved") {
    OpenShop shop;
    WindowSession& window = shop.window;
    const std::filesystem::path press = shop.folder.path() / "box.press.json";
    const std::string start = bytes_of(press);
    REQUIRE(window.state()["verdict"] == "no-go");
    REQUIRE(worst_is_of_bolt(window));
    CHECK(window.state()["unsaved"] == false);

    // The bolt reaches from x 370 to 330, the platen to 350: 380 clears it by 30.
    window.screen().key("e");
    State state =
        window.wait_until("fields", [](const State& s) { return s["fields"] == "box.press.json" && s["settled"]; });
    check_order(state);
    CHECK(has(state, "fields.group.members"));
    find_field(window, "stray bolt to", "members[2].to[0]");
    window.screen().type("366");
    window.screen().key("Return");
    state = window.wait_until("mended", [](const State& s) { return checked(s) && s["unsaved"] == true; });
    check_order(state);
    CHECK(!worst_is_of_bolt(window));
    CHECK(state["undo"] == "to 1 of stray bolt: 330 to 366");
    CHECK(has(state, "header.unsaved"));
    CHECK(bytes_of(press) == start); // nothing is written before it is asked for

    window.screen().key("ctrl+z");
    state = window.wait_until("undone", [](const State& s) { return checked(s) && s["unsaved"] == false; });
    CHECK(worst_is_of_bolt(window));
    CHECK(state["redo"] == "to 1 of stray bolt: 330 to 366");
    window.screen().key("ctrl+shift+z");
    window.wait_until("done again", [](const State& s) { return checked(s) && s["unsaved"] == true; });
    CHECK(!worst_is_of_bolt(window));
    window.screen().key("ctrl+s");
    state = window.wait_until("saved", [](const State& s) { return s["unsaved"] == false && s["settled"]; });
    CHECK(state["notice"] == "Saved: box.press.json");
    std::string wanted = start;
    wanted.replace(wanted.find("330"), 3, "366");
    CHECK(bytes_of(press) == wanted); // but for the number, byte for byte
    window.screen().key("ctrl+q");
    CHECK(window.program().exit_within(10) == 0);
}

TEST_CASE("window: what cannot be used is told at its field, and the last good press stays") {
    OpenShop shop({}, ShopFault::none);
    WindowSession& window = shop.window;
    window.screen().key("e");
    find_field(window, "left jack stroke", "jacks[0].stroke");
    window.screen().type("0");
    window.screen().key("Return");
    State state = window.wait_until("told", [](const State& s) { return s["stage"] == "faulty" && s["settled"]; });
    check_order(state);
    CHECK(has(state, "fields.fault.jacks[0].stroke"));
    CHECK(has(state, "notice.fault"));
    CHECK(has(state, "picture.press")); // still drawn
    CHECK(state["verdict"].is_null());
    // Units and fractions, as a shop writes them.
    window.click("fields.at.jacks[0].stroke");
    window.wait_until("typing", [](const State& s) { return s["field"] == "jacks[0].stroke"; });
    window.screen().type("7 1/2\"");
    window.screen().key("Return");
    state = window.wait_until("mended", [](const State& s) { return checked(s) && s["field"].is_null(); });
    CHECK(state["verdict"] != "no-go");
    CHECK(state["undo"] == "stroke of left jack: 0 to 7 1/2\"");
    window.screen().key("Escape");
    window.wait_until("left", [](const State& s) { return s["field"].is_null(); });
    // Escape leaves a field as it was.
    window.click("fields.at.jacks[0].stroke");
    window.wait_until("typing", [](const State& s) { return s["field"] == "jacks[0].stroke"; });
    window.screen().type("5");
    window.screen().key("Escape");
    state = window.wait_until("as it was", [](const State& s) { return s["field"].is_null() && s["settled"]; });
    CHECK(state["undo"] == "stroke of left jack: 0 to 7 1/2\"");
}

TEST_CASE("window: unsaved work asks before it is left, and may be saved then") {
    OpenShop shop({}, ShopFault::none);
    WindowSession& window = shop.window;
    const std::filesystem::path press = shop.folder.path() / "box.press.json";
    edit_underside(window, "490");
    window.screen().key("ctrl+q");
    State state = window.wait_until("asked", [](const State& s) { return s["sheet"] == "unsaved" && s["settled"]; });
    check_order(state);
    window.click("unsaved.stay");
    window.wait_until("stays", [](const State& s) { return s["sheet"] == "none" && s["settled"]; });
    CHECK(window.program().running());
    window.screen().key("ctrl+q");
    window.wait_until("asked again", [](const State& s) { return s["sheet"] == "unsaved" && s["settled"]; });
    window.click("unsaved.save");
    CHECK(window.program().exit_within(10) == 0);
    CHECK(bytes_of(press).find("\"underside\": 490") != std::string::npos);
}

TEST_CASE("window: killed with unsaved work, the next one offers it and takes it up") {
    TestFolder folder;
    TestFolder home;
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
        window.program().kill();
    }
    CHECK(bytes_of(press) == start);
    WindowSession window("", setting);
    State state =
        window.wait_until("offered", [](const State& s) { return s["sheet"] == "left behind" && s["settled"]; });
    check_order(state);
    CHECK(state["left_behind"] == 1);
    window.click("left_behind.take.0");
    state = window.wait_until("taken up", [](const State& s) { return checked(s) && s["unsaved"] == true; });
    CHECK(state["file"] == setup);
    CHECK(bytes_of(press) == start);
    window.screen().key("ctrl+s");
    window.wait_until("saved", [](const State& s) { return s["unsaved"] == false; });
    CHECK(bytes_of(press).find("\"underside\": 490") != std::string::npos);
    window.screen().key("ctrl+q");
    CHECK(window.program().exit_within(10) == 0);
    CHECK(std::filesystem::exists(home.path() / "evenclose" / "recent"));
    CHECK_FALSE(work_is_kept(home.path())); // ended well: nothing is offered again
}

TEST_CASE("window: members are added and taken away, everything fits at every size and scale") {
    struct Row {
        int width, height;
        const char* scale;
    };
    for (const Row& row : {Row{1280, 800, "1"}, Row{2560, 1440, "1"}, Row{2560, 1440, "2"}}) {
        CAPTURE(row.width);
        CAPTURE(row.scale);
        OpenShop shop({row.width, row.height, row.scale}, ShopFault::none);
        WindowSession& window = shop.window;
        window.click("bench.press.edit");
        window.wait_until("fields", [](const State& s) { return s["fields"] == "box.press.json" && s["settled"]; });
        window.click("fields.group.members");
        State state =
            window.wait_until("open", [](const State& s) { return has(s, "fields.add.members") && s["settled"]; });
        check_order(state);
        window.click("fields.add.members");
        state = window.wait_until("one more",
                                  [](const State& s) { return checked(s) && has(s, "fields.group.members[2]"); });
        CHECK(state["undo"] == "one more in members");
        check_order(state);
        window.click("fields.group.members[2]");
        state = window.wait_until(
            "its numbers", [](const State& s) { return has(s, "fields.at.members[2].from[0]") && s["settled"]; });
        check_order(state);
        static_cast<void>(window.screen().picture());
        window.click("fields.remove.members[2]");
        state = window.wait_until("taken away",
                                  [](const State& s) { return checked(s) && !has(s, "fields.group.members[2]"); });
        CHECK(state["undo"] == "right post 2 removed");
        window.click("fields.set-up.1");
        state = window.wait_until("set-up",
                                  [](const State& s) { return s["fields"] == "box.set-up.json" && s["settled"]; });
        check_order(state);
        window.click("fields.mold.1");
        state =
            window.wait_until("mold", [](const State& s) { return s["fields"] == "box.mold.json" && s["settled"]; });
        check_order(state);
        window.screen().key("ctrl+shift+s");
        state = window.wait_until("save as", [](const State& s) { return s["sheet"] == "save as" && s["settled"]; });
        check_order(state);
        static_cast<void>(window.screen().picture());
        window.screen().key("Escape");
        window.screen().key("e");
        state = window.wait_until("bench", [](const State& s) { return s["fields"] == "" && s["settled"]; });
        CHECK(has(state, "bench.press"));
    }
}

TEST_CASE("window: a new press from a few questions is checked at once, and nothing is a no-go") {
    TestFolder folder;
    WindowSession window("");
    window.settled();
    window.click("welcome.new");
    State state = window.wait_until("asked", [](const State& s) { return s["sheet"] == "new press" && s["settled"]; });
    check_order(state);
    // The width between the posts is asked first; then on from field to field.
    window.screen().type("900 mm");
    window.screen().key("Tab");
    window.screen().type("10 in");
    window.screen().key("Tab");
    window.screen().type("950");
    tab_to(window, "new_press.file", 4);
    window.screen().key("ctrl+a");
    window.screen().type((folder.path() / "first").string());
    window.screen().key("Return");
    state = window.wait_until("too long", [](const State& s) { return has(s, "new_press.fault") && s["settled"]; });
    CHECK(state["sheet"] == "new press");
    check_order(state);
    tab_to(window, "new_press.length", 3);
    window.screen().key("ctrl+a");
    window.screen().type("800");
    static_cast<void>(window.screen().picture());
    window.screen().key("Return");
    state = window.wait_until("made and checked", checked, 120);
    CHECK(state["verdict"] != "no-go");
    CHECK(state["file"] == (folder.path() / "first.set-up.json").string());
    CHECK(std::filesystem::exists(folder.path() / "first.press.json"));
    CHECK(std::filesystem::exists(folder.path() / "first.mold.json"));
    CHECK(state["unsaved"] == false);
    check_order(state);
    static_cast<void>(window.screen().picture());
}

TEST_CASE("window: a mold is swapped for a taller one, it fouls, the two are compared, and the first comes back") {
    OpenShop shop({}, ShopFault::none);
    WindowSession& window = shop.window;
    {
        // Halves of 125 mm in a daylight of 240: it cannot be loaded nor closed.
        std::string tall = bytes_of(shop.folder.path() / "box.mold.json");
        for (std::size_t at = 0; (at = tall.find("60\n", at)) != std::string::npos; ++at) {
            tall.replace(at, 2, "125");
        }
        tall.replace(tall.find("Flat board"), 10, "Tall board");
        std::ofstream(shop.folder.path() / "tall.mold.json") << tall;
    }
    REQUIRE(window.state()["verdict"] != "no-go");
    window.screen().key("ctrl+o");
    window.wait_until("sheet", [](const State& s) { return s["sheet"] == "open" && s["settled"]; });
    window.screen().type("tall.mold.json");
    window.screen().key("Return");
    State state =
        window.wait_until("swapped", [](const State& s) { return checked(s) && s["molds"] == State({"Tall board"}); });
    CHECK(state["verdict"] == "no-go");
    CHECK(state["unsaved"] == true);
    CHECK(state["undo"] == "mold: tall.mold.json");
    CHECK(state["compared"] == "Flat board");
    window.screen().key("d");
    state = window.wait_until("compared", [](const State& s) { return s["sheet"] == "compare" && s["settled"]; });
    check_order(state);
    CHECK(has(state, "compare.daylight"));
    static_cast<void>(window.screen().picture());
    window.click("compare.toggle");
    // Closed before the press is seen, the sheet would take it with it.
    window.wait_until("toggled", [](const State& s) { return s["undo"] == "mold: box.mold.json"; });
    window.screen().key("Escape");
    state = window.wait_until("back", [](const State& s) { return checked(s) && s["molds"] == State({"Flat board"}); });
    CHECK(state["verdict"] != "no-go");
    CHECK(state["compared"] == "Tall board");
    window.screen().key("x");
    state = window.wait_until("again", [](const State& s) { return checked(s) && s["verdict"] == "no-go"; });
    window.screen().key("ctrl+z");
    window.screen().key("ctrl+z");
    window.screen().key("ctrl+z");
    state = window.wait_until("all undone", [](const State& s) { return checked(s) && s["unsaved"] == false; });
    CHECK(state["molds"] == State({"Flat board"}));
}

namespace {

/// The front view of the small press, in which the lower half stands from z 240 to 300: drags it along by Ctrl.
struct DragFromFront {
    WindowSession& window;
    double pixel_mm = 0, middle_x = 0, y = 0;

    explicit DragFromFront(WindowSession& of) : window(of) {
        window.screen().key("2");
        const State state =
            window.wait_until("front", [](const State& s) { return s["view"] == "front" && s["settled"]; });
        const Rect picture = window.place("picture.press");
        const State& camera = state["camera"];
        double reach = 0;
        for (int i = 0; i < 3; ++i) {
            const double d = camera["eye_mm"][i].get<double>() - camera["target_mm"][i].get<double>();
            reach += d * d;
        }
        pixel_mm = 2.0 * std::sqrt(reach) * std::tan(0.5 * camera["vertical_angle_rad"].get<double>()) / picture.height;
        middle_x = picture.middle_x() - camera["target_mm"][0].get<double>() / pixel_mm;
        y = picture.middle_y() - (270.0 - camera["target_mm"][2].get<double>()) / pixel_mm;
    }
    /// Takes hold at `from_mm` along the deck and lets go `by_mm` further on. The state with the mold in the hand.
    State operator()(double from_mm, double by_mm) const {
        Screen& screen = window.screen();
        const double from = middle_x + from_mm / pixel_mm;
        screen.script(
            {"mousemove " + std::to_string(static_cast<int>(from)) + " " + std::to_string(static_cast<int>(y)),
             "keydown ctrl", "mousedown 1"});
        window.settled();
        for (const double part : {0.4, 0.8, 1.0}) {
            screen.move_mouse(from + part * by_mm / pixel_mm, y);
            std::this_thread::sleep_for(std::chrono::milliseconds(60));
        }
        State held = window.wait_until("in the hand", [](const State& s) { return has(s, "picture.move_mold"); });
        std::this_thread::sleep_for(std::chrono::milliseconds(200));
        held = window.settled();
        screen.script({"mouseup 1", "keyup ctrl"});
        return held;
    }
};

} // namespace

TEST_CASE("window: a mold dragged with Ctrl moves along its platen, snaps to the middle, and it is an edit") {
    OpenShop shop({}, ShopFault::none);
    WindowSession& window = shop.window;
    const DragFromFront drag(window);
    drag(100.0, 60.0);
    State state = window.wait_until("moved", [](const State& s) { return checked(s) && s["unsaved"] == true; });
    CHECK(state["undo"].get<std::string>().starts_with("mold moved to "));
    const std::string moved = state["undo"];
    CHECK(near(std::stod(moved.substr(14)), 60.0, 2.5));
    check_order(state);
    // Almost back to the middle: it snaps, and says to what.
    const State held = drag(160.0, 3.0 - std::stod(moved.substr(14)));
    CHECK(has(held, "picture.snapped: in the platen's middle"));
    check_order(held);
    state =
        window.wait_until("snapped", [](const State& s) { return checked(s) && s["undo"] == "mold moved to 0, 0 mm"; });
    window.screen().key("ctrl+z");
    state = window.wait_until("undone", [&](const State& s) { return checked(s) && s["undo"] == moved; });
}

TEST_CASE("window: a mold in the hand is drawn to the pins of its platen, and says so") {
    TestFolder folder;
    const std::string file = write_shop_files(folder.path(), ShopFault::none);
    {
        // Two pins 12 thick, 200 apart about the platen's middle; holes 12.5 wide, 200 apart about -40 of the lower half.
        TriangleMesh platen = box_shape({-350, -150, -40}, {350, 150, 0});
        for (const double x : {-100.0, 100.0}) {
            append(platen, cylinder_shape(6, 15, 48), Pose{Mat3{1.0}, {x, 0, 0}});
        }
        std::ofstream(folder.path() / "platen.stl") << text_stl(platen);
        TriangleMesh lower;
        for (const double x : {-140.0, 60.0}) {
            std::vector<Vec2> ring;
            for (int i = 0; i < 48; ++i) {
                const double turn = 2 * std::acos(-1.0) * i / 48;
                ring.push_back(Vec2{x, 0} + 6.25 * Vec2{std::cos(turn), std::sin(turn)});
            }
            const double from = x < 0 ? -250 : 0;
            append(lower,
                   extruded_shape({{{from, -100}, {from + 250, -100}, {from + 250, 100}, {from, 100}}, ring}, 0, 60));
        }
        std::ofstream(folder.path() / "lower.stl") << text_stl(lower);
        const auto change = [&](const char* name, const auto& how) {
            State document = State::parse(bytes_of(folder.path() / name));
            how(document);
            std::ofstream(folder.path() / name) << document.dump(1);
        };
        change("box.press.json", [](State& d) {
            d["platen"]["mesh"] = "platen.stl";
            d["platen"]["mesh_unit"] = "mm";
        });
        change("box.mold.json", [](State& d) {
            d["lower"] = {{"mesh", "lower.stl"}, {"unit", "mm"}};
            d["shut_height"] = 131.1;
        });
    }
    WindowSession window(file);
    window.wait_until("checked", checked);
    const DragFromFront drag(window);
    const State held = drag(100.0, 37.0);
    CHECK(has(held, "picture.snapped: at the platen's pins"));
    check_order(held);
    State state =
        window.wait_until("moved", [](const State& s) { return checked(s) && s["undo"] == "mold moved to 40, 0 mm"; });
    CHECK(near(state["camera"]["eye_mm"][0].get<double>(), held["camera"]["eye_mm"][0].get<double>(), 1e-9));
}

TEST_CASE("window: with Ctrl a letter is meant wherever the keyboard has it") {
    WindowSession::Setting setting;
    setting.keyboard = "fr"; // Z is where W is in the United States, and the other way round
    OpenShop shop(setting, ShopFault::none);
    WindowSession& window = shop.window;
    window.screen().key("u"); // something that is no edit, and the letters themselves
    window.wait_until("inches", [](const State& s) { return s["units"] == "inch"; });
    window.screen().key("ctrl+d"); // at one place on both
    window.wait_until("dark", [](const State& s) { return s["theme"] == "dark" && s["settled"]; });
    window.screen().key("e");
    window.wait_until("fields", [](const State& s) { return s["fields"] == "box.press.json" && s["settled"]; });
    find_field(window, "name", "name");
    window.screen().key("ctrl+a"); // where Q is in the United States: marks all, so that what is typed takes its place
    window.screen().type("Essai");
    window.screen().key("Return");
    State state = window.wait_until("edited", [](const State& s) { return s["unsaved"] == true && checked(s); });
    CHECK(state["undo"].get<std::string>().ends_with("Essai"));
    window.screen().key("Escape");
    window.screen().key("ctrl+z");
    window.wait_until("undone", [](const State& s) { return s["unsaved"] == false && s["undo"] == "" && checked(s); });
}

TEST_CASE("window: what is sought stands in another document: a click goes there") {
    OpenShop shop({}, ShopFault::none);
    WindowSession& window = shop.window;
    window.screen().key("e");
    window.wait_until("press", [](const State& s) { return s["fields"] == "box.press.json" && s["settled"]; });
    window.screen().key("ctrl+f");
    window.wait_until("search", [](const State& s) { return s["field"] == "" && s["settled"]; });
    window.screen().type("plies");
    State state =
        window.wait_until("told", [](const State& s) { return has(s, "fields.elsewhere.0") && s["settled"]; });
    check_order(state);
    window.click("fields.elsewhere.0");
    state = window.wait_until("mold", [](const State& s) { return s["fields"] == "box.mold.json" && s["settled"]; });
    CHECK(state["sought"] == "plies");
}

TEST_CASE("window: unsaved work has its keys in sight, all of it is saved under another name") {
    OpenShop shop({}, ShopFault::none);
    WindowSession& window = shop.window;
    CHECK_FALSE(window.has_place("header.save"));
    window.screen().key("e");
    window.wait_until("press", [](const State& s) { return s["fields"] == "box.press.json" && s["settled"]; });
    find_field(window, "name", "name");
    window.screen().key("ctrl+a");
    window.screen().type("Other");
    window.screen().key("Return");
    State state = window.wait_until("edited", [](const State& s) { return has(s, "header.save_as") && checked(s); });
    check_order(state);
    window.click("header.save_as");
    state = window.wait_until("asked", [](const State& s) { return has(s, "save_as.other") && s["settled"]; });
    check_order(state);
    window.screen().key("ctrl+a");
    window.screen().type((shop.folder.path() / "copy").string());
    window.click("save_as.other");
    window.wait_until("saved", [](const State& s) {
        return checked(s) && s["unsaved"] == false && s["file"].get<std::string>().ends_with("copy.set-up.json");
    });
    CHECK(std::filesystem::exists(shop.folder.path() / "copy.press.json"));
    CHECK(std::filesystem::exists(shop.folder.path() / "copy.mold.json"));
    CHECK(bytes_of(shop.folder.path() / "box.press.json").find("Other") == std::string::npos);
}

TEST_CASE("window: a field that is asked for while a button is held gets the keys all the same") {
    OpenShop shop({}, ShopFault::none);
    WindowSession& window = shop.window;
    const Rect picture = window.place("picture.press");
    window.screen().move_mouse(picture.middle_x(), picture.middle_y());
    window.screen().press_button(1);
    window.screen().key("ctrl+f");
    window.wait_until("search", [](const State& s) { return s["field"] == ""; });
    std::this_thread::sleep_for(std::chrono::milliseconds(700)); // many frames
    window.screen().release_button(1);
    window.screen().type("stroke");
    window.wait_until("found", [](const State& s) { return s["sought"] == "stroke" && s["settled"]; });
    window.screen().key("Escape");
    window.wait_until("let go", [](const State& s) { return s["field"].is_null(); });
}
