// The search for commands in the real window.
#include "tests/viewer/window/open_shop.hpp"

#include <doctest/doctest.h>

using namespace evenclose;
using namespace evenclose::test;

namespace {

State searching(WindowSession& window) {
    window.screen().key("ctrl+k");
    return window.wait_until("search", [](const State& s) { return s["sheet"] == "search" && s["settled"]; });
}

bool chosen_is(const State& s, const std::string& id) {
    const State& places = s["places"];
    return places.contains("search.row." + id) && places.contains("search.chosen") &&
           places["search.chosen"] == places["search.row." + id] && s["settled"].get<bool>();
}

} // namespace

TEST_CASE("window: a few letters and Enter do what no key was known for") {
    OpenShop shop;
    WindowSession& window = shop.window;
    State state = searching(window);
    check_order(state);
    CHECK(state["places"].contains("search.row.play"));
    CHECK(state["places"]["search.chosen"] == state["places"]["search.row.play"]);
    window.screen().type("hurt");
    window.wait_until("found", [](const State& s) { return chosen_is(s, "cautions"); });
    window.screen().key("Return");
    state = window.wait_until("cautions", [](const State& s) { return s["sheet"] == "cautions" && s["settled"]; });
    window.screen().key("Escape");

    // Down the list and up again: the second of the views.
    searching(window);
    window.screen().type("press:");
    state = window.wait_until("views", [](const State& s) { return chosen_is(s, "view.corner"); });
    check_order(state);
    window.screen().key("Down");
    window.screen().key("Down");
    window.screen().key("Up");
    window.screen().key("Return");
    state = window.wait_until("front", [](const State& s) { return s["view"] == "front" && s["sheet"] == "none"; });

    // By the mouse; and while a field is typed into.
    window.screen().key("e");
    window.wait_until("fields", [](const State& s) { return s["fields"] == "box.press.json" && s["settled"]; });
    window.screen().key("Tab");
    window.wait_until("typing", [](const State& s) { return !s["field"].is_null() && s["settled"]; });
    searching(window);
    window.screen().type("inch");
    window.wait_until("found", [](const State& s) { return chosen_is(s, "units"); });
    window.click("search.row.units");
    state = window.wait_until("inches", [](const State& s) { return s["units"] == "inch" && s["sheet"] == "none"; });
    CHECK(state["unsaved"] == false);
}

TEST_CASE("window: a search that finds nothing, or nothing possible now, says so and does nothing") {
    WindowSession window("", {1280, 800, "1"});
    window.settled();
    searching(window);
    window.screen().type("xyzzy");
    State state = window.wait_until(
        "nothing", [](const State& s) { return !s["places"].contains("search.chosen") && s["settled"]; });
    check_order(state);
    window.screen().key("Return");
    window.screen().key("ctrl+a");
    window.screen().type("stop the");
    window.wait_until("found", [](const State& s) { return chosen_is(s, "stop"); });
    window.screen().key("Return");
    window.screen().key("ctrl+a");
    window.screen().type("list of keys");
    window.wait_until("keys", [](const State& s) { return chosen_is(s, "keys"); });
    window.screen().key("Return");
    state = window.wait_until("sheet", [](const State& s) { return s["sheet"] == "keys" && s["settled"]; });
    check_order(state);
    window.screen().key("Escape");
    searching(window);
    window.screen().key("Escape");
    window.wait_until("closed", [](const State& s) { return s["sheet"] == "none"; });
}
