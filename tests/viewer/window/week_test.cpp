// The sheet with the week at the presses.
#include "tests/places.hpp"
#include "tests/viewer/window/open_shop.hpp"
#include "tests/viewer/window/screen_pictures.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace evenclose;
using namespace evenclose::test;

TEST_CASE("window: W lays the week on the board, drawn without a cut word at both sizes, and takes it away again") {
    for (const WindowSession::Setting& setting :
         {WindowSession::Setting{1280, 800, "1"}, WindowSession::Setting{2560, 1440, "1"}}) {
        WindowSession window(demo("crescent.set-up.json"), setting);
        window.wait_until("checked", checked, 120);
        window.screen().key("w");
        const State open =
            window.wait_until("week", [](const State& s) { return s["sheet"] == "week" && s["settled"].get<bool>(); });
        CHECK(open["cut"].empty());
        CHECK(open["unprintable"].empty());
        const Rect paper = window.place("sheet.week");
        CHECK(paper.x > 0);
        CHECK(paper.bottom() < static_cast<float>(setting.height));
        CHECK(paper.height > 200); // the chart, not the sentence that stands in for it
        window.screen().key("w");
        window.wait_until("closed", [](const State& s) { return s["sheet"] == "none"; });
    }
}

TEST_CASE("window: without a crew the week's sheet says what is missing") {
    OpenShop shop;
    shop.window.screen().key("w");
    const State open =
        shop.window.wait_until("week", [](const State& s) { return s["sheet"] == "week" && s["settled"].get<bool>(); });
    CHECK(open["cut"].empty());
    CHECK(open["unprintable"].empty());
}
