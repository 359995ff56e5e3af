#include "viewer/ui/input_order.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace evenclose;

namespace {

constexpr ButtonMove kDown{0, 0, true, {}}, kUp{0, 0, false, {}};

/// What may be taken before the next frame: "d" and "u" for a button, the letters themselves.
std::string taken(InputOrder& order, bool text_waits = false) {
    std::string all;
    while (const auto event = order.next(text_waits)) {
        if (const auto* button = std::get_if<ButtonMove>(&*event)) {
            all += button->down ? 'd' : 'u';
        } else if (const auto* letter = std::get_if<char32_t>(&*event)) {
            all += static_cast<char>(*letter);
        } else {
            all += '#';
        }
    }
    order.frame_drawn();
    return all;
}

} // namespace

TEST_CASE("input order: keys alone are taken at once") {
    InputOrder order;
    order.add(char32_t{U'a'});
    order.add(KeyPress{257, 0});
    order.add(char32_t{U'b'});
    CHECK(taken(order) == "a#b");
    CHECK_FALSE(order.waiting());
}

TEST_CASE("input order: a key does not overtake a click that came before it") {
    InputOrder order;
    order.add(kDown);
    order.add(kUp);
    order.add(KeyPress{256, 0});
    CHECK(taken(order) == "du");
    CHECK(order.waiting());
    CHECK(taken(order) == ""); // the release is seen
    CHECK(taken(order) == "#");
    CHECK_FALSE(order.waiting());
}

TEST_CASE("input order: a click does not overtake what is typed into a field before it") {
    InputOrder order;
    order.add(char32_t{U'x'});
    order.add(kDown);
    order.add(kUp);
    CHECK(taken(order, true) == "x");
    CHECK(taken(order, true) == "");
    CHECK(taken(order, false) == "du");
}

TEST_CASE("input order: a button that is held is let go whatever waits") {
    InputOrder order;
    order.add(kDown);
    CHECK(taken(order) == "d");
    order.add(kUp);
    CHECK(taken(order, true) == "u");
}

TEST_CASE("input order: two clicks are two, however slow the frame") {
    InputOrder order;
    for (int i = 0; i < 2; ++i) {
        order.add(kDown);
        order.add(kUp);
    }
    CHECK(taken(order) == "du");
    CHECK(taken(order) == "du");
    CHECK_FALSE(order.waiting());
}

TEST_CASE("input order: what comes faster than frames for long is not put off for ever") {
    InputOrder order;
    int frames = 0;
    for (int round = 0; round < 1000; ++round) { // two clicks and a key a frame
        for (int i = 0; i < 2; ++i) {
            order.add(kDown);
            order.add(kUp);
        }
        order.add(KeyPress{65, 0});
        taken(order);
    }
    while (order.waiting()) {
        taken(order);
        REQUIRE(++frames < 100);
    }
}

TEST_CASE("input order: while a button is held keys are taken after two frames") {
    InputOrder order;
    order.add(kDown);
    CHECK(taken(order) == "d");
    order.add(KeyPress{256, 0});
    CHECK(taken(order) == "");
    CHECK(taken(order) == "#");
}
