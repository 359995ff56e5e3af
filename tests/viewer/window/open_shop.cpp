#include "tests/viewer/window/open_shop.hpp"

#include "tests/within.hpp"
#include "viewer/ui/free_place.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>
#include <vector>

namespace evenclose::test {

void find_field(WindowSession& window, const std::string& words, const std::string& place) {
    window.screen().key("ctrl+f");
    window.wait_until("search", [](const State& s) { return s["field"] == "" && s["settled"]; });
    window.screen().key("ctrl+a");
    window.screen().type(words);
    window.screen().key("Return");
    window.wait_until("field", [&](const State& s) { return s["field"] == place; });
}

void check_papers(const State& state) {
    // Slips, tags and rows of buttons over the picture, and what is said at its foot. Of a row the row itself counts.
    constexpr std::array<std::string_view, 5> groups{"picture.", "see.", "look.", "notice", "label."};
    constexpr std::array<std::string_view, 4> parts{"picture.press", "picture.scale_bar.rod", "picture.loupe.spot",
                                                    "notice.conflict"};
    std::vector<std::pair<std::string, Rect>> papers;
    for (const auto& item : state["places"].items()) {
        const std::string& name = item.key();
        if (std::any_of(groups.begin(), groups.end(), [&](std::string_view g) { return name.starts_with(g); }) &&
            std::find(parts.begin(), parts.end(), name) == parts.end() &&
            !name.starts_with("picture.snapped")) { // stands where picture.move_mold stands
            const State& r = item.value();
            papers.emplace_back(name, Rect{r[0], r[1], r[2], r[3]}.inset(0.6F, 0.6F));
        }
    }
    for (std::size_t i = 0; i < papers.size(); ++i) {
        for (std::size_t j = i + 1; j < papers.size(); ++j) {
            if (overlap(papers[i].second, papers[j].second)) {
                FAIL_CHECK(papers[i].first << " lies over " << papers[j].first);
            }
        }
    }
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
    check_papers(state);
    CHECK(state["gl_fault"] == "");
    CHECK(state["cut"] == State::array());
    CHECK(state["unprintable"] == State::array());
}

} // namespace evenclose::test
