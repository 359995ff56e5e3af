// Looking closely in the real window: sections, hidden bodies, with real keys and mouse.
#include "tests/viewer/window/open_shop.hpp"
#include "tests/viewer/window/screen_pictures.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

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
        CHECK(state["camera"] == window.state()["camera"]);

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
        CHECK(differing(whole, window.screen().picture(), press, 40) < 200); // but for the button under the cursor
    }
}

TEST_CASE("window: a body is hidden, seen through and left alone by keys and by its menu; the findings stay") {
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
    CHECK(platen_pixels(window.screen().picture(), press).count < 100);
    REQUIRE(window.has_place("picture.sight")); // it is said
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
