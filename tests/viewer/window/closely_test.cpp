// Looking closely in the real window: sections, hidden bodies, with real keys and mouse.
#include "tests/viewer/window/open_shop.hpp"
#include "tests/viewer/window/screen_pictures.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <string>
#include <vector>

using namespace evenclose;
using namespace evenclose::test;

namespace {

bool quiet(const State& s) { return s["settled"].get<bool>(); }

/// The platen's middle as seen from the front, in the window; the platen is 700 x 40, its face at 240.
struct Spot {
    double x, y;
};
Spot front_spot(const State& state, double x_mm, double z_mm) {
    const State& r = state["places"]["picture.press"];
    const Rect press{r[0], r[1], r[2], r[3]};
    const State& camera = state["camera"];
    double reach = 0;
    for (int i = 0; i < 3; ++i) {
        const double d = camera["eye_mm"][i].get<double>() - camera["target_mm"][i].get<double>();
        reach += d * d;
    }
    const double half = std::sqrt(reach) * std::tan(0.5 * camera["vertical_angle_rad"].get<double>());
    const double px = 0.5 * press.height / half;
    return {press.middle_x() + px * (x_mm - camera["target_mm"][0].get<double>()),
            press.middle_y() - px * (z_mm - camera["target_mm"][2].get<double>())};
}

void look_from_front(WindowSession& window) {
    window.screen().key("2");
    window.wait_until("front", [](const State& s) { return s["view"] == "front" && quiet(s); });
}

} // namespace

TEST_CASE("window: a section is put on by S, moved by arrow keys and by its knob, flipped, turned off") {
    for (const WindowSession::Setting& setting :
         {WindowSession::Setting{1280, 800, "1"}, WindowSession::Setting{2560, 1440, "2"}}) {
        OpenShop shop(setting);
        WindowSession& window = shop.window;
        window.screen().move_mouse(2, 2); // no hint in the pictures
        look_from_front(window);
        const Image whole = window.screen().picture();
        const Rect press = window.place("picture.press");
        CHECK(window.state()["section"].is_null());
        window.screen().key("s");
        State state =
            window.wait_until("across X", [](const State& s) { return s["section"].is_object() && quiet(s); });
        CHECK(state["section"]["axis"] == "X");
        check_order(state);
        const double start = state["section"]["at_mm"].get<double>();
        window.screen().key("Right");
        window.wait_until("moved", [&](const State& s) { return near(s["section"]["at_mm"], start + 1.0, 1e-9); });
        window.screen().key("shift+Left");
        window.wait_until("finer",
                          [&](const State& s) { return near(s["section"]["at_mm"], start + 0.9, 1e-9) && quiet(s); });

        // The knob follows the hand: as many millimetres as the hand went pixels.
        state = window.state();
        const double mm_a_px = 100.0 / (front_spot(state, 100, 0).x - front_spot(state, 0, 0).x);
        const Rect knob = window.place("section.handle");
        Screen& screen = window.screen();
        screen.move_mouse(knob.middle_x(), knob.middle_y());
        screen.press_button(1);
        for (const double part : {0.2, 0.6, 1.0}) {
            screen.move_mouse(knob.middle_x() - 60 * part, knob.middle_y());
        }
        state = window.wait_until("dragged", [&](const State& s) {
            return near(s["section"]["at_mm"], start + 0.9 - 60 * mm_a_px, 1.0 + mm_a_px);
        });
        screen.release_button(1);
        state = window.settled();
        CHECK(near(window.place("section.handle").middle_x(), knob.middle_x() - 60, 2.5)); // under the hand still
        CHECK(state["view"] == "front"); // the knob was dragged, not the camera

        window.screen().key("s");
        state = window.wait_until("across Y", [](const State& s) { return s["section"]["axis"] == "Y" && quiet(s); });
        // Cut open along the deck: the picture of the platen is another one now.
        const Image cut = window.screen().picture();
        CHECK(differing(whole, cut, press, 40) > 2000);
        CHECK(state["section"]["flipped"] == false);
        window.screen().key("f");
        window.wait_until("flipped", [](const State& s) { return s["section"]["flipped"] == true && quiet(s); });
        window.click("section.z");
        state = window.wait_until("across Z", [](const State& s) { return s["section"]["axis"] == "Z" && quiet(s); });
        check_order(state);
        window.click("section.off");
        window.wait_until("off", [](const State& s) { return s["section"].is_null() && quiet(s); });
        window.screen().move_mouse(2, 2);
        window.wait_until("all is there again",
                          [&](const State&) { return differing(whole, window.screen().picture(), press, 40) < 300; });
    }
}

TEST_CASE("window: a body is hidden, seen through and left alone by keys and by its menu, the findings stay") {
    OpenShop shop;
    WindowSession& window = shop.window;
    look_from_front(window);
    State state = window.state();
    const auto findings = state["findings"];
    const Rect press = window.place("picture.press");
    REQUIRE(platen_pixels(window.screen().picture(), press).count > 500);
    const Spot platen = front_spot(state, 100, 220);

    window.screen().click(platen.x, platen.y);
    window.wait_until("picked", [](const State& s) { return s["picked"] == "platen" && quiet(s); });
    window.screen().key("h");
    state = window.wait_until("hidden", [](const State& s) { return s["hidden"] == State({"platen"}) && quiet(s); });
    check_order(state);
    CHECK(state["findings"] == findings);
    CHECK(state["verdict"] == "no-go");
    CHECK(platen_pixels(window.screen().picture(), press).count < 250); // accents of the buttons are blue too
    REQUIRE(window.has_place("picture.sight"));                         // it is said
    window.click("sight.all");
    state = window.wait_until("all", [](const State& s) { return s["hidden"].empty() && quiet(s); });
    CHECK(platen_pixels(window.screen().picture(), press).count > 500);

    window.screen().click(platen.x, platen.y, 3);
    state = window.wait_until("menu", [](const State& s) { return s["menu"] == "platen" && quiet(s); });
    check_order(state);
    window.click("menu.ghost");
    state = window.wait_until(
        "ghost", [](const State& s) { return s["seen_through"] == State({"platen"}) && s["menu"].is_null(); });
    window.screen().click(platen.x, platen.y, 3);
    window.wait_until("menu again", [](const State& s) { return s["menu"] == "platen" && quiet(s); });
    window.click("menu.alone");
    state = window.wait_until("alone", [](const State& s) { return s["hidden"].size() > 5 && quiet(s); });
    check_order(state);
    CHECK(std::find(state["hidden"].begin(), state["hidden"].end(), "platen") == state["hidden"].end());
    // A chosen finding shows what it names, hidden or not; the rest stays hidden.
    window.screen().key("n");
    window.wait_until("finding", [](const State& s) { return s["chosen_finding"] == 0 && quiet(s); });
    window.screen().key("v");
    window.wait_until("all again", [](const State& s) { return s["hidden"].empty() && s["seen_through"].empty(); });

    // Esc closes the menu and nothing else.
    look_from_front(window);
    window.screen().key("Home"); // choosing it went to its travel
    window.wait_until("open", [](const State& s) { return s["travel_mm"] == 0.0 && quiet(s); });
    window.screen().click(platen.x, platen.y, 3);
    window.wait_until("menu", [](const State& s) { return s["menu"] == "platen" && quiet(s); });
    window.screen().key("Escape");
    state = window.wait_until("closed", [](const State& s) { return s["menu"].is_null(); });
    CHECK(state["chosen_finding"] == 0);
    // Cut where the menu stood.
    window.screen().click(platen.x, platen.y, 3);
    window.wait_until("menu", [](const State& s) { return s["menu"] == "platen" && quiet(s); });
    window.click("menu.cut.x");
    state = window.wait_until("cut", [](const State& s) { return s["section"].is_object() && quiet(s); });
    CHECK(state["section"]["axis"] == "X");
    CHECK(near(state["section"]["at_mm"], 100, 2.0));
}

TEST_CASE("window: platen to head is measured between points and between faces, follows the travel, and is copied") {
    OpenShop shop({}, ShopFault::none);
    WindowSession& window = shop.window;
    look_from_front(window);
    window.screen().key("a");
    State state =
        window.wait_until("points", [](const State& s) { return s["measure"]["what"] == "points" && quiet(s); });
    check_order(state);
    // Corners of platen and head at their left ends: both 700 long, the platen's face at 240, the head's underside at 480.
    const Spot platen = front_spot(state, -350, 240);
    const Spot head = front_spot(state, -350, 480);
    window.screen().click(platen.x + 2, platen.y + 2);
    window.wait_until("first", [](const State& s) { return s["measure"]["places"] == 1 && quiet(s); });
    window.screen().click(head.x + 2, head.y - 2);
    state = window.wait_until("second", [](const State& s) { return s["measure"]["places"] == 2 && quiet(s); });
    check_order(state);
    // When open, nothing is tilted yet: daylight, to the hundredth, since both ends are corners. The corners may be those at
    // the back, level and as far apart.
    CHECK(near(state["measure"]["value"], 240, 0.02));
    CHECK(window.has_place("measure.number"));
    CHECK(state["camera"] == window.state()["camera"]);

    window.screen().key("Page_Up");
    state = window.wait_until("risen", [](const State& s) { return s["travel_mm"] == 10.0 && quiet(s); });
    CHECK(near(state["measure"]["value"], 230, 0.2)); // the right jack lags by 1 %: the left end rises by all of it

    window.screen().key("u");
    state = window.wait_until("inches", [](const State& s) { return s["units"] == "inch" && quiet(s); });
    CHECK(state["measure"]["words"].get<std::string>().ends_with(" in"));
    window.screen().key("u");
    state = window.wait_until("metric", [](const State& s) { return s["units"] == "metric" && quiet(s); });
    const std::string words = state["measure"]["words"];
    window.screen().key("ctrl+c");
    window.wait_until("copied", [&](const State& s) { return s["notice"] == "Copied: " + words && quiet(s); });
    // It stands on the clipboard: a field takes it.
    window.screen().key("ctrl+f");
    window.wait_until("search", [](const State& s) { return s["field"] == "" && quiet(s); });
    window.screen().key("ctrl+a");
    window.screen().key("ctrl+v");
    window.wait_until("pasted", [&](const State& s) { return s["sought"] == words; });
    window.screen().key("Escape");
    window.wait_until("left", [](const State& s) { return s["field"].is_null() && quiet(s); });
    window.screen().key("e");
    window.wait_until("bench", [](const State& s) { return s["fields"] == "" && quiet(s); });

    // Faces: seen from the front right above, the platen's front and the head's front are in one plane.
    window.screen().key("Home");
    window.wait_until("open", [](const State& s) { return s["travel_mm"] == 0.0 && quiet(s); });
    window.click("measure.faces");
    state = window.wait_until("faces", [](const State& s) { return s["measure"]["what"] == "faces" && quiet(s); });
    CHECK(state["measure"]["places"] == 0);
    const Spot front_of_platen = front_spot(state, 250, 220);
    const Spot front_of_head = front_spot(state, 250, 500);
    window.screen().click(front_of_platen.x, front_of_platen.y);
    window.wait_until("first face", [](const State& s) { return s["measure"]["places"] == 1 && quiet(s); });
    window.screen().click(front_of_head.x, front_of_head.y);
    state = window.wait_until("second face", [](const State& s) { return s["measure"]["places"] == 2 && quiet(s); });
    check_order(state);
    CHECK(near(state["measure"]["value"], 0, 0.01)); // both are 300 from front to back
    window.screen().key("Escape");
    state = window.wait_until("left", [](const State& s) { return s["measure"]["what"] == "off" && quiet(s); });
    CHECK(state["section"].is_null());
}

TEST_CASE("window: names stand beside the press without covering anything, at every size and scale, a scale bar too") {
    for (const WindowSession::Setting& setting :
         {WindowSession::Setting{1280, 800, "1"}, WindowSession::Setting{2560, 1440, "2"}}) {
        OpenShop shop(setting);
        WindowSession& window = shop.window;
        State state = window.settled();
        REQUIRE(state["places"].contains("picture.scale_bar"));
        window.screen().key("k");
        state = window.wait_until("names", [](const State& s) { return s["labels"] == true && quiet(s); });
        check_order(state);
        std::vector<Rect> labels;
        std::vector<Rect> others;
        for (const auto& [name, r] : state["places"].items()) {
            const Rect rect{r[0], r[1], r[2], r[3]};
            if (name.starts_with("label.")) {
                labels.push_back(rect);
            } else if (name == "picture.scale_bar" || name.starts_with("look.") || name.starts_with("see.")) {
                others.push_back(rect);
            }
        }
        CHECK(labels.size() >= 5);
        for (std::size_t i = 0; i < labels.size(); ++i) {
            for (std::size_t j = 0; j < labels.size() + others.size(); ++j) {
                const Rect& a = labels[i];
                const Rect& b = j < labels.size() ? labels[j] : others[j - labels.size()];
                const bool apart = a.right() <= b.x + 0.5F || b.right() <= a.x + 0.5F || a.bottom() <= b.y + 0.5F ||
                                   b.bottom() <= a.y + 0.5F;
                CHECK((i == j || apart));
            }
        }
        // The bar is as long as it says: seen from the front, a millimetre is a millimetre everywhere.
        look_from_front(window);
        state = window.state();
        const double px_a_mm = (front_spot(state, 100, 0).x - front_spot(state, 0, 0).x) / 100.0;
        const Rect rod = window.place("picture.scale_bar.rod");
        const double mm = rod.width / px_a_mm;
        const double power = std::pow(10.0, std::floor(std::log10(mm * 1.001)));
        CHECK((near(mm / power, 1, 0.01) || near(mm / power, 2, 0.02) || near(mm / power, 5, 0.05)));
        window.screen().key("k");
        window.wait_until("none",
                          [](const State& s) { return s["labels"] == false && !s["places"].contains("label.0"); });
    }
}

TEST_CASE(
    "window: the stroke is saved as a moving file while the window goes on, a turn is stopped and leaves nothing") {
    OpenShop shop;
    WindowSession& window = shop.window;
    window.screen().key("ctrl+t");
    State state = window.wait_until("sheet", [](const State& s) { return s["sheet"] == "film" && quiet(s); });
    check_order(state);
    window.click("film.stroke");
    window.settled();
    const auto file = shop.folder.path() / "box-stroke.webp"; // as it is offered
    window.screen().key("Return");
    window.wait_until("begun", [](const State& s) { return s["sheet"] == "none" && s["film"].is_string(); });
    window.screen().key("3"); // it is still listened to
    window.wait_until("back", [](const State& s) { return s["view"] == "back"; });
    state = window.wait_until(
        "saved", [](const State& s) { return s["film"].is_null() && quiet(s); }, 180);
    CHECK(state["notice"].get<std::string>().starts_with("Saved: "));
    CHECK(std::filesystem::file_size(file) > 20'000);

    window.screen().key("ctrl+t");
    window.wait_until("sheet", [](const State& s) { return s["sheet"] == "film" && quiet(s); });
    window.click("film.turn");
    window.settled();
    window.click("film.save");
    window.wait_until("begun",
                      [](const State& s) { return s["film"].is_string() && s["places"].contains("film.stop"); });
    window.click("film.stop");
    state = window.wait_until("stopped", [](const State& s) { return s["film"].is_null() && quiet(s); });
    CHECK(state["notice"] == "Stopped; no film was written");
    window.screen().key("ctrl+q");
    CHECK(window.program().exit_within(30) == 0);
    CHECK(!std::filesystem::exists(shop.folder.path() / "box-turn.webp"));
}
