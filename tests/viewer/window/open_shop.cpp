#include "tests/viewer/window/open_shop.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <array>

namespace evenclose::test {

void find_field(WindowSession& window, const std::string& words, const std::string& place) {
    window.screen().key("ctrl+f");
    window.wait_until("search", [](const State& s) { return s["field"] == "" && s["settled"]; });
    window.screen().key("ctrl+a");
    window.screen().type(words);
    window.screen().key("Return");
    window.wait_until("field", [&](const State& s) { return s["field"] == place; });
}

void check_order(const State& state) {
    const auto rect = [&](const std::string& name) {
        const State& r = state["places"][name];
        return Rect{r[0], r[1], r[2], r[3]};
    };
    const std::array<std::string, 5> panels{"header", "bench", "picture", "rail", "ledger"};
    double area = 0;
    for (std::size_t i = 0; i < panels.size(); ++i) {
        const Rect a = rect(panels[i]);
        area += static_cast<double>(a.width) * a.height;
        for (std::size_t j = i + 1; j < panels.size(); ++j) {
            CAPTURE(panels[i]);
            CAPTURE(panels[j]);
            const Rect b = rect(panels[j]);
            CHECK((a.right() <= b.x || b.right() <= a.x || a.bottom() <= b.y || b.bottom() <= a.y));
        }
    }
    CHECK(near(area, state["width"].get<double>() * state["height"].get<double>(), 1.0));
    for (const auto& item : state["places"].items()) {
        const std::string& name = item.key();
        const State& r = item.value();
        CAPTURE(name);
        const Rect place{r[0], r[1], r[2], r[3]};
        CHECK(place.x >= -8); // the handle stands over its rod a little
        CHECK(place.right() <= state["width"].get<float>() + 0.5F);
        if (!name.starts_with("ledger.row") && !name.starts_with("bench.") &&
            !name.starts_with("fields.")) { // those scroll
            CHECK(place.y >= 0);
            CHECK(place.bottom() <= state["height"].get<float>() + 0.5F);
        }
    }
    CHECK(state["cut"] == State::array());
    CHECK(state["unprintable"] == State::array());
}

} // namespace evenclose::test
