// Three openings in the window: they close in order, the rail and the bench say so, and one of them can be chosen.
#include "tests/viewer/window/open_shop.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <vector>

using namespace evenclose;
using namespace evenclose::test;

namespace {

std::vector<std::string> states_of(const State& state) { return state["openings"].get<std::vector<std::string>>(); }

} // namespace

TEST_CASE("window: three openings close from below, rail and bench tell each one's state, a click chooses one") {
    const TestFolder folder;
    WindowSession window(write_stack(folder.path()), {1280, 800, "1"});
    State state = window.wait_until("checked", checked);
    check_order(state);
    CHECK(near(state["last_mm"].get<double>(), 120, 1e-6));
    CHECK(states_of(state) == std::vector<std::string>{"open", "open", "open"});
    for (const char* name : {"rail.opening.1", "rail.opening.3", "bench.opening.1", "bench.opening.3"}) {
        CAPTURE(name);
        CHECK(state["places"].contains(name));
    }
    // Over one another as in the press.
    CHECK(window.place("rail.opening.3").bottom() <= window.place("rail.opening.2").y);
    CHECK(window.place("bench.opening.3").bottom() <= window.place("bench.opening.2").y + 0.5F);

    for (int i = 0; i < 6; ++i) { // 10 mm each
        window.screen().key("Page_Up");
    }
    state = window.wait_until("60 mm", [](const State& s) {
        return near(s["travel_mm"].get<double>(), 60, 1e-6) && s["settled"].get<bool>();
    });
    CHECK(states_of(state) == std::vector<std::string>{"closed", "closing", "open"});
    check_order(state);
    window.screen().key("End");
    state = window.wait_until("closed", [](const State& s) { return states_of(s)[2] == "closed" && s["settled"]; });

    CHECK(state["opening"] == 0);
    window.click("rail.opening.3");
    state = window.wait_until("third", [](const State& s) { return s["opening"] == 2 && s["settled"]; });
    window.click("bench.opening.2");
    state = window.wait_until("second", [](const State& s) { return s["opening"] == 1 && s["settled"]; });
    window.screen().key("o");
    state = window.wait_until("the next", [](const State& s) { return s["opening"] == 2 && s["settled"]; });

    // The cut is of the chosen one: looking at another moves the camera up or down by what they stand apart.
    window.click("see.cut");
    state = window.wait_until("cut", [](const State& s) { return s["seeing"] == "cut" && s["settled"]; });
    const double third = state["camera"]["target_mm"][2];
    window.screen().key("o");
    state = window.wait_until("first", [](const State& s) { return s["opening"] == 0 && s["settled"]; });
    const double first = state["camera"]["target_mm"][2];
    CHECK(near(third - first, 2 * (131.1 + 25), 3.0)); // closed: two molds and two platens apart
    check_order(state);
}
