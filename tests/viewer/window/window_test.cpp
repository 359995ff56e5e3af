// The window under Xvfb: the real program, real mouse and keys, pictures looked at for more than blankness.
#include "tests/viewer/window/open_shop.hpp"
#include "tests/viewer/window/screen_pictures.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <array>
#include <chrono>
#include <cmath>
#include <thread>

using namespace evenclose;
using namespace evenclose::test;

TEST_CASE("window: a set-up is shown, judged and laid out without a cut word at every size and scale") {
    struct Row {
        int width, height;
        const char* scale;
    };
    for (const Row& row : {Row{1280, 800, "1"}, Row{1280, 800, "2"}, Row{1920, 1080, "1.5"}, Row{2560, 1440, "1"},
                           Row{2560, 1440, "2"}, Row{3840, 2160, "3"}}) {
        CAPTURE(row.width);
        CAPTURE(row.scale);
        OpenShop shop({row.width, row.height, row.scale});
        WindowSession& window = shop.window;
        State state = window.settled();
        CHECK(state["width"] == row.width);
        CHECK(state["height"] == row.height);
        CHECK(state["verdict"] == "no-go");
        CHECK(state["setup"] == "A flat board and a stray bolt");
        CHECK(state["findings"].get<int>() >= 8);
        CHECK(state["pairs"].get<int>() >= 8);
        check_order(state);
        for (const char* name : {"bench.press", "bench.mold", "bench.stack", "rail.handle", "rail.slate", "rail.band.0",
                                 "ledger.row.0", "header.caution"}) {
            CAPTURE(name);
            CHECK(state["places"].contains(name));
        }
        const Image image = window.screen().picture();
        CHECK(platen_pixels(image, window.place("picture.press")).count > 1000);

        window.screen().key("u");
        state = window.wait_until("inches", [](const State& s) { return s["units"] == "inch" && s["settled"]; });
        check_order(state);
        window.screen().key("n");
        state = window.wait_until("chosen", [](const State& s) { return s["chosen_finding"] == 0 && s["settled"]; });
        check_order(state);
        for (const char* key : {"question", "ctrl+o"}) {
            window.screen().key(key);
            state = window.wait_until("sheet", [](const State& s) { return s["sheet"] != "none" && s["settled"]; });
            check_order(state);
            window.screen().key("Escape");
            window.wait_until("no sheet", [](const State& s) { return s["sheet"] == "none" && s["settled"]; });
        }
        window.click("header.caution");
        state = window.wait_until("cautions", [](const State& s) { return s["sheet"] == "cautions" && s["settled"]; });
        check_order(state);
    }
}

TEST_CASE("window: pulling the handle up the rail lifts the platen in the picture by as much") {
    OpenShop shop;
    WindowSession& window = shop.window;
    window.screen().key("2"); // front: parallel, so that a height on the screen is a height
    State state = window.wait_until("front", [](const State& s) { return s["view"] == "front" && s["settled"]; });
    REQUIRE(state["camera"]["parallel"] == true);
    const Rect press = window.place("picture.press");
    const Found before = platen_pixels(window.screen().picture(), press);
    REQUIRE(before.count > 500);

    const Rect scale = window.place("rail.scale");
    const Rect handle = window.place("rail.handle");
    Screen& screen = window.screen();
    screen.move_mouse(handle.middle_x(), handle.middle_y());
    screen.press_button(1);
    const double wanted_y = std::floor(scale.bottom() - 0.4F * scale.height);
    for (const double part : {0.3, 0.7, 1.0}) {
        screen.move_mouse(handle.middle_x(), handle.middle_y() + part * (wanted_y - handle.middle_y()));
    }
    state = window.wait_until("travel", [](const State& s) { return s["travel_mm"].get<double>() > 60.0; });
    screen.release_button(1);
    state = window.wait_until("let go", [](const State& s) { return s["settled"].get<bool>(); });

    // The rule runs from 0 at its foot to 180 mm (the stroke) at its head; a pixel is 0.5 mm.
    const double travel = state["travel_mm"].get<double>();
    CHECK(near(travel, 180.0 * (scale.bottom() - wanted_y) / scale.height, 1.0));
    CHECK(near(window.place("rail.handle").middle_y(), wanted_y, 1.5));

    const Found after = platen_pixels(window.screen().picture(), press);
    const State& camera = state["camera"];
    double reach = 0;
    for (int i = 0; i < 3; ++i) {
        const double d = camera["eye_mm"][i].get<double>() - camera["target_mm"][i].get<double>();
        reach += d * d;
    }
    const double mm_a_pixel =
        2.0 * std::sqrt(reach) * std::tan(0.5 * camera["vertical_angle_rad"].get<double>()) / press.height;
    // The right jack is 1 % slow, so the middle rises 0.5 % less; a pixel and a half for the edges' shading.
    CHECK(near((before.y - after.y) * mm_a_pixel, travel * 0.995, 1.5 * mm_a_pixel));

    screen.key("End");
    state = window.wait_until("closed", [](const State& s) { return s["travel_mm"] == s["last_mm"] && s["settled"]; });
    screen.key("Home");
    window.wait_until("open", [](const State& s) { return s["travel_mm"] == 0.0 && s["settled"]; });
}

TEST_CASE("window: choosing a line of the ledger flies to its spot, sets the travel and lights the bodies") {
    OpenShop shop;
    WindowSession& window = shop.window;
    const Rect press = window.place("picture.press");
    const Image before = window.screen().picture();
    const State open = window.settled();
    window.click("ledger.row.0");
    State state = window.wait_until("chosen", [](const State& s) { return s["chosen_finding"] == 0 && s["settled"]; });
    CHECK(state["lit"] == State({"stray bolt", "platen"}));
    // The bolt's under side is at 300 - 6 = 294 and the platen's face at 240: they meet at 54 of travel where the press
    // is level; at x 330 the slow right jack leaves the face 1.16 % of the travel lower: 54 / 0.9884 = 54.6.
    CHECK(near(state["travel_mm"].get<double>(), 54.6, 0.3));
    CHECK(state["camera"]["eye_mm"] != open["camera"]["eye_mm"]);
    CHECK(near(state["camera"]["target_mm"][2].get<double>(), 294.0, 8.0));
    const Image after = window.screen().picture();
    CHECK(differing(before, after, press) > press.width * press.height / 4);
    CHECK(differing(before, after, window.place("ledger.row.0")) > 200);
    CHECK(window.has_place("picture.tag"));

    window.screen().key("Escape");
    state = window.wait_until("let go", [](const State& s) { return s["chosen_finding"].is_null() && s["settled"]; });
    CHECK(state["lit"] == State::array());
    CHECK(!window.has_place("picture.tag"));
}

TEST_CASE("window: the worst pair's band leads to its foul, and any height of it to that travel") {
    OpenShop shop;
    WindowSession& window = shop.window;
    const Rect band = window.place("rail.band.0");
    const Rect scale = window.place("rail.scale");
    const auto height_of = [&](double travel) { return scale.bottom() - scale.height * travel / 180.0; };
    const Image image = window.screen().picture();
    // Solid vermilion from 54.6 to 107 mm: at 80 in the middle of the band; slate below, where they are far apart.
    const Pixel foul = pixel(image, static_cast<int>(band.middle_x()), static_cast<int>(height_of(80.0)));
    CHECK(foul.red > foul.blue + 120);
    CHECK(foul.red > foul.green + 80);
    const Pixel clear = pixel(image, static_cast<int>(band.middle_x()), static_cast<int>(height_of(12.0)));
    CHECK(clear.red < 90);

    window.screen().click(band.middle_x(), height_of(54.6));
    State state =
        window.wait_until("foul", [](const State& s) { return s["chosen_pair"].is_number() && s["settled"]; });
    CHECK(near(state["travel_mm"].get<double>(), 54.6, 0.3));
    CHECK(state["chosen_finding"] == 0); // the ledger shows the same
    window.screen().click(band.middle_x(), height_of(90.0));
    state = window.wait_until(
        "there", [](const State& s) { return s["travel_mm"].get<double>() > 80.0 && s["settled"].get<bool>(); });
    CHECK(near(state["travel_mm"].get<double>(), 90.0, 0.8));
    CHECK(state["lit"].size() == 2);
}

TEST_CASE("window: space plays and pauses, once all is still no frame is drawn") {
    OpenShop shop;
    WindowSession& window = shop.window;
    window.screen().key("space");
    const State early =
        window.wait_until("playing", [](const State& s) { return s["playing"] && s["travel_mm"].get<double>() > 2.0; });
    const State later = window.wait_until("higher", [&](const State& s) {
        return s["travel_mm"].get<double>() > early["travel_mm"].get<double>() + 20.0;
    });
    CHECK(later["pictures"].get<int>() > early["pictures"].get<int>());
    window.screen().key("space");
    State still = window.wait_until("paused", [](const State& s) { return !s["playing"] && s["settled"]; });
    std::this_thread::sleep_for(std::chrono::milliseconds(1500));
    window.screen().key("Shift_L"); // a key that means nothing makes the window tell its count of frames
    window.screen().key("u");
    const State after = window.wait_until("inches", [](const State& s) { return s["units"] == "inch"; });
    CHECK(after["travel_mm"] == still["travel_mm"]);
    CHECK(after["pictures"] == still["pictures"]);
    CHECK(after["frames"].get<int>() - still["frames"].get<int>() < 20); // 1.5 s of drawing on and on were 90

    window.click("rail.play");
    window.wait_until("playing", [](const State& s) { return s["playing"].get<bool>(); });
    window.click("rail.play");
    window.wait_until("paused", [](const State& s) { return !s["playing"].get<bool>(); });
}

TEST_CASE("window: keys: travel coarse and fine, views, tilt, findings") {
    OpenShop shop;
    WindowSession& window = shop.window;
    Screen& screen = window.screen();
    const auto travel_after = [&](const char* key, double expected) {
        screen.key(key);
        window.wait_until(
            key, [&](const State& s) { return near(s["travel_mm"].get<double>(), expected, 1e-6); }, 20);
    };
    travel_after("Up", 1.0);
    travel_after("Prior", 11.0);
    travel_after("shift+Up", 11.1);
    travel_after("Down", 10.1);
    travel_after("Next", 0.1);
    travel_after("Down", 0.0);
    screen.key("u");
    travel_after("Up", 25.4 / 16);
    travel_after("shift+Down", 25.4 / 16 - 25.4 / 64);

    const std::array<const char*, 7> views{"corner", "front", "back", "left", "right", "top", "mold"};
    for (std::size_t i = 0; i < views.size(); ++i) {
        screen.key(std::to_string(i + 1));
        const State s =
            window.wait_until(views[i], [&](const State& now) { return now["view"] == views[i] && now["settled"]; });
        if (views[i] == std::string("left")) {
            CHECK(s["camera"]["eye_mm"][0].get<double>() < -1000.0);
        }
    }
    for (const double times : {10.0, 50.0, 100.0, 1.0}) {
        screen.key("t");
        window.wait_until("tilt", [&](const State& s) { return s["tilt_magnified"] == times; });
    }
    screen.key("n");
    window.wait_until("first", [](const State& s) { return s["chosen_finding"] == 0; });
    screen.key("n");
    window.wait_until("second", [](const State& s) { return s["chosen_finding"] == 1; });
    screen.key("p");
    window.wait_until("first again", [](const State& s) { return s["chosen_finding"] == 0; });
    screen.key("p");
    const State s = window.wait_until("around", [](const State& now) { return now["chosen_finding"].get<int>() > 1; });
    CHECK(s["chosen_finding"].get<int>() == s["findings"].get<int>() - 1);

    screen.key("ctrl+q");
    CHECK(window.program().exit_within(10) == 0);
    CHECK(window.output() == "");
}

TEST_CASE("window: a tilt magnified ten times is seen in the picture") {
    OpenShop shop;
    WindowSession& window = shop.window;
    window.screen().key("2");
    window.screen().key("End");
    window.wait_until("front, closed", [](const State& s) {
        return s["view"] == "front" && s["travel_mm"] == s["last_mm"] && s["settled"].get<bool>();
    });
    const Rect press = window.place("picture.press");
    const Image level = window.screen().picture();
    window.click("tilt.10");
    window.wait_until("x10", [](const State& s) { return s["tilt_magnified"] == 10.0 && s["settled"]; });
    const Image tilted = window.screen().picture();
    const Rect left{press.x, press.y, 0.5F * press.width, press.height};
    const Rect right{press.middle_x(), press.y, 0.5F * press.width, press.height};
    // The right jack is the slow one: its side stands lower (further down the screen).
    const double slant_level = platen_pixels(level, right).y - platen_pixels(level, left).y;
    const double slant_tilted = platen_pixels(tilted, right).y - platen_pixels(tilted, left).y;
    CHECK(slant_tilted > slant_level + 3.0);
    CHECK(window.has_place("picture.tilt"));
}

TEST_CASE("window: the mold slides in from outside, pauses, and stands in its place again") {
    OpenShop shop;
    WindowSession& window = shop.window;
    const State before = window.settled();
    const Rect press = window.place("picture.press");
    const Image open = window.screen().picture();
    window.click("bench.load_in");
    State state = window.wait_until("on its way", [](const State& s) {
        return s["loading_in"].is_object() && s["loading_in"]["gone_mm"].get<double>() > 30.0;
    });
    CHECK(state["places"].contains("picture.load_in"));
    window.screen().key("space");
    state = window.wait_until(
        "pausing", [](const State& s) { return !s["loading_in"]["on"].get<bool>() && s["settled"].get<bool>(); });
    check_order(state);
    CHECK(state["camera"]["eye_mm"] != before["camera"]["eye_mm"]);
    CHECK(differing(open, window.screen().picture(), press) > press.width * press.height / 10);
    window.screen().key("space");
    window.wait_until("further", [&](const State& s) {
        return s["loading_in"].is_null() || s["loading_in"]["gone_mm"] > state["loading_in"]["gone_mm"];
    });
    window.screen().key("Escape");
    state = window.wait_until("back", [](const State& s) { return s["loading_in"].is_null() && s["settled"]; });
    window.screen().key("l");
    window.wait_until("again", [](const State& s) { return s["loading_in"].is_object(); });
    state = window.wait_until("done", [](const State& s) { return s["loading_in"].is_null() && s["settled"]; });
    for (int i = 0; i < 3; ++i) {
        CHECK(near(state["camera"]["eye_mm"][i].get<double>(), before["camera"]["eye_mm"][i].get<double>(), 1e-3));
    }
}

TEST_CASE("window: the tilt stands on the rail, and the heights of the heads beside them") {
    OpenShop shop;
    WindowSession& window = shop.window;
    const Rect curve = window.place("rail.level");
    CHECK(curve.height > 100);
    // The right jack is 1 % slow: the nominal line leans to the left, by more the higher; what is not band is timber.
    const Image image = window.screen().picture();
    const auto reddish_or_ink = [&](double share) {
        double sum = 0;
        int count = 0;
        const int y = static_cast<int>(curve.bottom() - share * curve.height);
        for (int x = static_cast<int>(curve.x) + 2; x < static_cast<int>(curve.right()) - 2; ++x) {
            const Pixel p = pixel(image, x, y);
            if (p.red + p.green + p.blue < 330) { // the ink line
                sum += x;
                ++count;
            }
        }
        return count > 0 ? sum / count : -1.0;
    };
    const double low = reddish_or_ink(0.25);
    const double high = reddish_or_ink(0.9);
    CHECK(high > 0);
    CHECK(high < low - 4);
    window.screen().move_mouse(curve.middle_x(), curve.middle_y());
    window.screen().key("End");
    window.click("tilt.10");
    const State state = window.wait_until("heads", [](const State& s) {
        return s["places"].contains("picture.head.0") && s["places"].contains("picture.head.1") && s["settled"];
    });
    check_order(state);
}

TEST_CASE("window: the gap over the deck, the curvature and the cut mold are seen, with their scale") {
    OpenShop shop;
    WindowSession& window = shop.window;
    window.wait_until("checked", [](const State& s) { return s["stage"] == "checked"; });
    const Rect press = window.place("picture.press");
    const Image plain = window.screen().picture();
    for (const char* what : {"gap", "curvature", "cut"}) {
        CAPTURE(what);
        window.click(std::string("see.") + what);
        window.wait_until(what, [&](const State& s) { return s["seeing"] == what && s["settled"].get<bool>(); });
        CHECK(window.has_place("picture.scale") == (what != std::string("cut")));
        // The loupe stays on the worst spot of a map, with its number beneath.
        CHECK(window.has_place("picture.loupe") == (what != std::string("cut")));
        if (window.has_place("picture.loupe")) {
            const Rect loupe = window.place("picture.loupe");
            CHECK(loupe.x > press.middle_x());
            CHECK(loupe.right() <= press.right());
            CHECK(window.place("picture.loupe.words").bottom() < press.bottom());
        }
        CHECK(window.screen().picture().rgba != plain.rgba);
    }
    window.screen().key("m");
    window.wait_until("round", [](const State& s) { return s["seeing"] == "press" && s["settled"].get<bool>(); });
    CHECK(press.width > 0);
}

TEST_CASE("window: pressure and forces are seen, and a member that is clicked shows what it bears, also while bent") {
    OpenShop shop;
    WindowSession& window = shop.window;
    window.wait_until("checked", [](const State& s) { return s["stage"] == "checked"; });
    if (window.has_place("see.pressure")) {
        window.click("see.pressure");
        window.wait_until("pressure",
                          [](const State& s) { return s["seeing"] == "pressure" && s["settled"].get<bool>(); });
        CHECK(window.has_place("picture.scale"));
        window.click("see.press");
    }
    window.screen().key("1");
    window.wait_until("corner", [](const State& s) { return s["view"] == "corner" && s["settled"].get<bool>(); });
    const Rect press = window.place("picture.press");
    // Somewhere up the middle of the picture stands the head or a beam. The window is given time to see each of both.
    State state;
    bool chosen = false;
    for (float down = 0.2F; down < 0.8F && !chosen; down += 0.05F) {
        window.screen().move_mouse(press.middle_x(), press.y + down * press.height);
        window.screen().press_button(1);
        std::this_thread::sleep_for(std::chrono::milliseconds(400));
        window.screen().release_button(1);
        std::this_thread::sleep_for(std::chrono::milliseconds(600));
        state = window.settled();
        chosen = !state["chosen_part"].is_null();
    }
    REQUIRE(chosen);
    CHECK(window.has_place("bench.part"));
    CHECK(state["lit"].size() == 1);
    check_order(window.settled());
    window.screen().key("Escape");
    window.wait_until("let go", [](const State& s) { return s["chosen_part"].is_null() && s["settled"].get<bool>(); });
}

TEST_CASE("window: the mouse turns, shifts and brings near the press") {
    OpenShop shop;
    WindowSession& window = shop.window;
    Screen& screen = window.screen();
    const Rect press = window.place("picture.press");
    const auto eye = [](const State& s) {
        const State& e = s["camera"]["eye_mm"];
        return Vec3{e[0], e[1], e[2]};
    };
    const auto target = [](const State& s) {
        const State& e = s["camera"]["target_mm"];
        return Vec3{e[0], e[1], e[2]};
    };
    State before = window.settled();
    const auto drag = [&](int button, double across, double down) {
        screen.move_mouse(press.middle_x(), press.middle_y());
        screen.press_button(button);
        screen.move_mouse(press.middle_x() + 0.5 * across, press.middle_y() + 0.5 * down);
        screen.move_mouse(press.middle_x() + across, press.middle_y() + down);
        State after = window.wait_until(
            "camera", [&](const State& s) { return s["camera"] != before["camera"]; }, 20);
        screen.release_button(button);
        return window.settled();
    };
    State after = drag(1, -90, 0); // pull to the left: the camera walks to the right
    CHECK(eye(after).x > eye(before).x + 50.0);
    CHECK(near(eye(after).z, eye(before).z, 1e-6)); // level pull, level walk
    CHECK(after["view"] == "");
    before = after;
    after = drag(1, 0, 60); // pull down: the camera rises
    CHECK(eye(after).z > eye(before).z + 50.0);
    before = after;
    after = drag(3, 0, 60); // shift down: the camera goes up with its target
    const Vec3 eye_by = eye(after) - eye(before);
    const Vec3 target_by = target(after) - target(before);
    CHECK(near(eye_by.x, target_by.x, 1e-6));
    CHECK(near(eye_by.z, target_by.z, 1e-6));
    CHECK(eye_by.z > 5.0);

    const auto reach = [&](const State& s) { return glm::length(eye(s) - target(s)); };
    before = after;
    screen.move_mouse(press.middle_x(), press.middle_y());
    screen.click(press.middle_x(), press.middle_y(), 4);
    after = window.wait_until(
        "nearer", [&](const State& s) { return reach(s) < 0.95 * reach(before); }, 20);
    CHECK(near(reach(after) / reach(before), 0.88, 0.12)); // one notch, or two if the wheel was read twice
    screen.click(press.middle_x(), press.middle_y(), 5);
    window.wait_until(
        "further", [&](const State& s) { return reach(s) > 0.97 * reach(before); }, 20);
}
