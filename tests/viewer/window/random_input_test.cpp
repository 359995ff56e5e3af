// Whatever hands and keyboards may do, in any order: the window lives, listens, and takes no more and more memory.
// A run takes 20 s, with EVENCLOSE_LONG 20 minutes; EVENCLOSE_SEED repeats one.
#include "tests/peak_memory.hpp"
#include "tests/viewer/window/open_shop.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <chrono>
#include <cstdlib>
#include <random>
#include <string>
#include <thread>
#include <vector>

using namespace evenclose;
using namespace evenclose::test;

namespace {

/// Makes xdotool's lines for what a restless person does next.
class RestlessPerson {
public:
    RestlessPerson(unsigned seed, int width, int height) : random_(seed), width_(width), height_(height) {}

    std::vector<std::string> next() {
        std::vector<std::string> lines;
        for (int i = 0; i < 12; ++i) {
            act(lines);
        }
        lines.insert(lines.end(), {"mouseup 1", "mouseup 2", "mouseup 3", "keyup ctrl", "keyup shift"});
        return lines;
    }

private:
    int below(int many) { return std::uniform_int_distribution<int>(0, many - 1)(random_); }
    void move(std::vector<std::string>& lines) {
        lines.push_back(fmt::format("mousemove {} {}", below(width_), below(height_)));
    }
    void act(std::vector<std::string>& lines) {
        // All that has a meaning and much that has none, but Ctrl Q.
        static const std::vector<std::string> keys{"Escape",
                                                   "Escape",
                                                   "Escape",
                                                   "Return",
                                                   "space",
                                                   "Tab",
                                                   "shift+Tab",
                                                   "Up",
                                                   "Down",
                                                   "Left",
                                                   "Right",
                                                   "Prior",
                                                   "Next",
                                                   "Home",
                                                   "End",
                                                   "Delete",
                                                   "BackSpace",
                                                   "F1",
                                                   "question",
                                                   "slash",
                                                   "a",
                                                   "b",
                                                   "c",
                                                   "d",
                                                   "e",
                                                   "f",
                                                   "g",
                                                   "h",
                                                   "i",
                                                   "j",
                                                   "k",
                                                   "l",
                                                   "m",
                                                   "n",
                                                   "o",
                                                   "p",
                                                   "r",
                                                   "s",
                                                   "t",
                                                   "u",
                                                   "v",
                                                   "w",
                                                   "x",
                                                   "y",
                                                   "z",
                                                   "1",
                                                   "2",
                                                   "3",
                                                   "4",
                                                   "5",
                                                   "6",
                                                   "7",
                                                   "8",
                                                   "9",
                                                   "0",
                                                   "plus",
                                                   "minus",
                                                   "comma",
                                                   "period",
                                                   "bracketleft",
                                                   "ctrl+c",
                                                   "ctrl+d",
                                                   "ctrl+f",
                                                   "ctrl+k",
                                                   "ctrl+n",
                                                   "ctrl+o",
                                                   "ctrl+p",
                                                   "ctrl+s",
                                                   "ctrl+t",
                                                   "ctrl+y",
                                                   "ctrl+z",
                                                   "ctrl+z",
                                                   "ctrl+a",
                                                   "ctrl+shift+c",
                                                   "ctrl+shift+s",
                                                   "ctrl+shift+z"};
        static const std::vector<std::string> words{"12",  "1.5in", "-3mm",      "1e9",     "oak",
                                                    "nan", "0",     "elephants", "\xc3\xa4"};
        switch (below(12)) {
        case 0:
        case 1:
        case 2:
        case 3:
            lines.push_back("key " + keys[static_cast<std::size_t>(below(static_cast<int>(keys.size())))]);
            break;
        case 4:
            lines.push_back("type --delay 2 " + words[static_cast<std::size_t>(below(static_cast<int>(words.size())))]);
            break;
        case 5: { // a drag, with or without Ctrl and Shift
            const int button = 1 + below(3);
            const std::vector<std::string> with{"", "", "ctrl", "shift"};
            const std::string& held = with[static_cast<std::size_t>(below(4))];
            if (!held.empty()) {
                lines.push_back("keydown " + held);
            }
            move(lines);
            lines.push_back(fmt::format("mousedown {}", button));
            for (int i = below(5); i >= 0; --i) {
                move(lines);
            }
            lines.push_back(fmt::format("mouseup {}", button));
            if (!held.empty()) {
                lines.push_back("keyup " + held);
            }
            break;
        }
        case 6:
            move(lines);
            lines.push_back(fmt::format("click --repeat {} --delay 5 {}", 1 + below(12), 4 + below(2)));
            break;
        case 7:
            move(lines);
            lines.emplace_back("click --repeat 2 --delay 40 1");
            break;
        case 8:
            move(lines);
            lines.emplace_back("click 3");
            break;
        default:
            move(lines);
            lines.emplace_back("click 1");
        }
    }

    std::mt19937 random_;
    int width_, height_;
};

} // namespace

TEST_CASE("window: whatever is done to it at random, it lives and listens, and keeps to its memory") {
    using Clock = std::chrono::steady_clock;
    const bool all_of_it = std::getenv("EVENCLOSE_LONG") != nullptr;
    const auto lasts = std::chrono::seconds(all_of_it ? 20 * 60 : 20);
    const char* told = std::getenv("EVENCLOSE_SEED");
    const unsigned seed = told != nullptr ? static_cast<unsigned>(std::atoi(told))
                          : all_of_it     ? static_cast<unsigned>(std::random_device()())
                                          : 20261201U;
    CAPTURE(seed);
    WindowSession::Setting setting;
    setting.in_own_folder = true; // whatever name is typed under which something is saved
    OpenShop shop(setting, ShopFault::none);
    WindowSession& window = shop.window;
    RestlessPerson person(seed, setting.width, setting.height);
    const auto begun = Clock::now();
    double warm_MB = 0;
    int rounds = 0;
    while (Clock::now() - begun < lasts) {
        const std::vector<std::string> lines = person.next();
        window.screen().script(lines);
        ++rounds;
        std::string did;
        for (const std::string& line : lines) {
            did += line + "\n";
        }
        INFO("round ", rounds, ":\n", did);
        REQUIRE(window.program().running());
        if (rounds % 10 == 0) { // it still hears
            for (int i = 0; i < 6; ++i) {
                window.screen().key("Escape");
            }
            const State state = window.state();
            CHECK(state["gl_fault"] == "");
            CHECK(state["unprintable"] == State::array());
        }
        if (warm_MB == 0 && Clock::now() - begun > lasts / 4) {
            warm_MB = resident_MB(window.program().id());
        }
    }
    // Whatever lies open is closed; then it can be worked with as ever.
    for (int i = 0; i < 8; ++i) {
        window.screen().key("Escape");
    }
    const double now_MB = resident_MB(window.program().id());
    MESSAGE("seed " << seed << ": " << rounds << " rounds of 12 things, " << warm_MB << " MB after a quarter, "
                    << now_MB << " MB at the end");
    CHECK(now_MB < 1.3 * warm_MB + 100);
    window.screen().key("ctrl+k");
    window.wait_until("the search", [](const State& s) { return s["sheet"] == "search"; });
    window.screen().key("Escape");
    window.wait_until("no sheet", [](const State& s) { return s["sheet"] == "none"; });
    window.screen().key("ctrl+q");
    bool asked = false; // unsaved work
    for (int i = 0; i < 500 && window.program().running() && !asked; ++i) {
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
        asked = window.state()["sheet"] == "unsaved";
    }
    if (asked) {
        window.click("unsaved.discard");
    }
    const auto exit = window.program().exit_within(30);
    REQUIRE(exit);
    CHECK(*exit == 0);
}
