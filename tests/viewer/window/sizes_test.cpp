// The window's states at every size and scale that shops have: nothing over anything else, nothing cut off.
// With EVENCLOSE_KEEP_PICTURES=FOLDER each is kept as a picture, to be looked at (DEVELOPERS.md).
#include "tests/viewer/window/open_shop.hpp"

#include <doctest/doctest.h>

#include <functional>
#include <string>
#include <vector>

namespace evenclose::test {
namespace {

struct Step {
    std::string key; // xdotool's word; empty: nothing is pressed
    std::function<bool(const State&)> there;
};

std::function<bool(const State&)> with_place(const std::string& name) {
    return [name](const State& s) { return has(s, name); };
}
std::function<bool(const State&)> sheet(const std::string& name) {
    return [name](const State& s) { return s["sheet"] == name; };
}
std::function<bool(const State&)> seeing(const std::string& name) {
    return [name](const State& s) { return s["seeing"] == name; };
}

} // namespace

TEST_CASE("window: at every size and scale nothing lies over anything else and nothing is cut off") {
    struct Row {
        int width, height;
        const char* scale;
    };
    for (const Row& row : {Row{1280, 800, "1"}, Row{1280, 800, "2"}, Row{1920, 1080, "1"}, Row{1920, 1080, "2"},
                           Row{2560, 1440, "1"}, Row{2560, 1440, "2"}}) {
        CAPTURE(row.width);
        CAPTURE(row.scale);
        WindowSession::Setting setting;
        setting.width = row.width;
        setting.height = row.height;
        setting.scale = row.scale;
        OpenShop shop(setting);
        WindowSession& window = shop.window;
        const std::vector<Step> steps{
            {"", checked},
            {"n", [](const State& s) { return s["chosen_finding"] == 0; }},
            {"k", [](const State& s) { return s["labels"] == true; }},
            {"s", with_place("picture.section")},
            {"a", with_place("picture.measure")},
            {"t", with_place("picture.tilt")},
            {"m", seeing("gap")},
            {"ctrl+d", [](const State& s) { return s["theme"] == "dark"; }},
            {"e", [](const State& s) { return s["fields"] == "box.press.json"; }},
            {"e", [](const State& s) { return s["fields"] == ""; }},
            {"question", sheet("keys")},
            {"Escape", sheet("none")},
            {"F1", sheet("guide")},
            {"Escape", sheet("none")},
            {"ctrl+k", sheet("search")},
            {"Escape", sheet("none")},
            {"ctrl+n", sheet("new press")},
            {"Escape", sheet("none")},
            {"ctrl+t", sheet("film")},
            {"Escape", sheet("none")},
            {"ctrl+p", sheet("report")},
            {"Escape", sheet("none")},
            {"ctrl+d", [](const State& s) { return s["theme"] == "light"; }},
            {"u", [](const State& s) { return s["units"] == "inch"; }},
        };
        for (const Step& step : steps) {
            if (!step.key.empty()) {
                window.screen().key(step.key);
            }
            CAPTURE(step.key);
            const State state = window.wait_until(
                "after " + step.key, [&](const State& s) { return step.there(s) && s["settled"].get<bool>(); });
            if (step.key == "Escape") {
                continue;
            }
            check_order(state);
            static_cast<void>(window.screen().picture());
        }
    }
}

} // namespace evenclose::test
