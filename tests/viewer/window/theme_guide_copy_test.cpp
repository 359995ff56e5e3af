// Light and dark, the guide inside and copying: with the real program, keys and mouse.
#include "tests/viewer/window/open_shop.hpp"
#include "tests/viewer/window/screen_pictures.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <string>
#include <thread>

using namespace evenclose;
using namespace evenclose::test;

namespace {

/// Mean of the three channels, 0 to 255.
double brightness(const Image& image, const Rect& rect) {
    double sum = 0;
    int count = 0;
    for (int y = static_cast<int>(rect.y); y < static_cast<int>(rect.bottom()); y += 3) {
        for (int x = static_cast<int>(rect.x); x < static_cast<int>(rect.right()); x += 3) {
            const Pixel p = pixel(image, x, y);
            sum += (p.red + p.green + p.blue) / 3.0;
            ++count;
        }
    }
    return sum / count;
}

int bright_pixels(const Image& image, const Rect& rect) {
    int count = 0;
    for (int y = static_cast<int>(rect.y); y < static_cast<int>(rect.bottom()); ++y) {
        for (int x = static_cast<int>(rect.x); x < static_cast<int>(rect.right()); ++x) {
            const Pixel p = pixel(image, x, y);
            count += p.red + p.green + p.blue > 330;
        }
    }
    return count;
}

State in_theme(WindowSession& window, const std::string& theme) {
    if (window.state()["theme"] != theme) {
        window.screen().key("ctrl+d");
    }
    return window.wait_until("theme", [&](const State& s) { return s["theme"] == theme && s["settled"]; });
}

} // namespace

TEST_CASE("window: Ctrl D turns panels, picture and sheets to dark and back, in order at every size, it is kept") {
    struct Row {
        int width, height;
        const char* scale;
    };
    for (const Row& row : {Row{1280, 800, "1"}, Row{2560, 1440, "2"}}) {
        CAPTURE(row.width);
        TestFolder home;
        const WindowSession::Setting setting{row.width, row.height, row.scale, home.path().string()};
        TestFolder folder;
        const std::string setup = write_shop_files(folder.path(), ShopFault::stray_bolt);
        {
            WindowSession window(setup, setting);
            window.wait_until("checked", checked);
            in_theme(window, "light");
            const Image light = window.screen().picture();
            const State state = in_theme(window, "dark");
            check_order(state);
            const Image dark = window.screen().picture();
            for (const char* place : {"bench", "picture", "ledger", "header"}) {
                CAPTURE(place);
                const Rect rect = window.place(place);
                CHECK(brightness(light, rect) > 160);
                CHECK(brightness(dark, rect) < 90);
            }
            // The press stands out from its ground in either.
            CHECK(bright_pixels(dark, window.place("picture.press")) > 3000);
            for (const char* key : {"question", "ctrl+o", "w", "F1"}) {
                window.screen().key(key);
                check_order(
                    window.wait_until("sheet", [](const State& s) { return s["sheet"] != "none" && s["settled"]; }));
                window.screen().key("Escape");
                window.wait_until("no sheet", [](const State& s) { return s["sheet"] == "none" && s["settled"]; });
            }
            window.screen().key("ctrl+q");
            CHECK(window.program().exit_within(10) == 0);
        }
        WindowSession again(setup, setting);
        CHECK(again.wait_until("checked", checked)["theme"] == "dark");
    }
}

TEST_CASE("window: the guide opens by F1, its pages turn by keys and by hand, the platen stands still meanwhile") {
    OpenShop shop({}, ShopFault::none);
    WindowSession& window = shop.window;
    window.screen().key("F1");
    State state = window.wait_until("guide", [](const State& s) { return s["sheet"] == "guide" && s["settled"]; });
    check_order(state);
    const Image first = window.screen().picture();
    const Rect page = window.place("guide.page");
    window.screen().key("Page_Down");
    state = window.settled();
    CHECK(state["travel_mm"] == 0.0);
    const auto turned = [&](const Image& from) {
        window.wait_until("turned", [&](const State& s) {
            return s["settled"] && differing(from, window.screen().picture(), page, 40) > 500;
        });
        return window.screen().picture();
    };
    const Image second = turned(first);
    window.click("guide.chapter.4");
    const Image fifth = turned(second);
    window.screen().key("Page_Up");
    turned(fifth);
    window.screen().key("F1");
    state = window.wait_until("closed", [](const State& s) { return s["sheet"] == "none" && s["settled"]; });
    CHECK(state["travel_mm"] == 0.0);
    window.screen().key("Page_Down"); // and moves the platen again
    window.wait_until("still open", [](const State& s) { return s["settled"].get<bool>(); });
    window.screen().key("Page_Up");
    window.wait_until("moved", [](const State& s) { return s["travel_mm"] == 10.0; });
}

TEST_CASE("window: the chosen finding, the table of findings and a number under the mouse are copied") {
    OpenShop shop;
    WindowSession& window = shop.window;
    window.screen().key("ctrl+c");
    window.wait_until("nothing", [](const State& s) {
        return s["notice"].get<std::string>().starts_with("There is nothing here to copy");
    });
    window.screen().key("n");
    window.wait_until("chosen", [](const State& s) { return s["chosen_finding"] == 0 && s["settled"]; });
    window.screen().key("ctrl+c");
    State state = window.wait_until("finding", [](const State& s) { return s["notice"] == "Copied: the finding"; });
    CHECK(state["copied"].get<std::string>().starts_with("NO-GO"));
    window.screen().key("ctrl+shift+c");
    state = window.wait_until("table", [](const State& s) { return s["notice"] == "Copied: the table of findings"; });
    const std::string table = state["copied"];
    CHECK(std::count(table.begin(), table.end(), '\n') == state["findings"].get<int>() + 1);
    // Somewhere on the first line of the first row stands a number in millimetres.
    const Rect row = window.place("ledger.row.0");
    std::string number;
    for (float x = row.right() - 10; x > row.x && number.empty(); x -= 14) {
        window.screen().click(x, row.y + 16, 3);
        std::this_thread::sleep_for(std::chrono::milliseconds(80)); // until it came
        const State now = window.settled();
        if (now["copied"] != table) {
            number = now["copied"];
        }
    }
    CAPTURE(number);
    CHECK(number.ends_with(" mm"));
    CHECK(window.state()["notice"] == "Copied: " + number);
    // It stands on the clipboard: a field takes it.
    window.screen().key("ctrl+f");
    window.wait_until("search", [](const State& s) { return s["field"] == "" && s["settled"]; });
    window.screen().key("ctrl+a");
    window.screen().key("ctrl+v");
    window.wait_until("pasted", [&](const State& s) { return s["sought"] == number; });
}
