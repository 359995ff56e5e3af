#include "viewer/app/travel_ticks.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

using namespace evenclose;

TEST_CASE("ticks are round, evenly spaced, start at 0 and never run past the end") {
    for (UnitSystem units : {UnitSystem::metric, UnitSystem::inch}) {
        for (double to : {0.4, 3.0, 25.4, 180.0, 231.7, 1000.0, 52'000.0}) {
            for (double length : {120.0, 370.0, 1400.0}) {
                CAPTURE(to);
                CAPTURE(length);
                const auto ticks = travel_ticks({to}, length, 40.0, units);
                REQUIRE(!ticks.empty());
                CHECK(ticks.front().at.mm == 0.0);
                CHECK(ticks.front().named);
                CHECK(ticks.front().text == "0");
                CHECK(ticks.back().at.mm <= to * (1 + 1e-8));
                CHECK(ticks.size() < 400);
                double named_before = 0;
                double before = 0;
                for (std::size_t i = 1; i < ticks.size(); ++i) {
                    CHECK(ticks[i].at.mm > before);
                    before = ticks[i].at.mm;
                    if (ticks[i].named) {
                        CHECK((ticks[i].at.mm - named_before) * length / to >= 40.0 * (1 - 1e-9));
                        named_before = ticks[i].at.mm;
                    }
                }
            }
        }
    }
}

TEST_CASE("a 180 mm stroke on a 370 pixel rule is numbered every 20 mm, or every inch") {
    const auto metric = travel_ticks({180.0}, 370.0, 34.0, UnitSystem::metric);
    CHECK(metric.back().text == "180");
    CHECK(metric[4].text == "20");
    const auto inch = travel_ticks({180.0}, 370.0, 34.0, UnitSystem::inch);
    CHECK(inch[4].text == "1");
    CHECK(test::near(inch[4].at.mm, 25.4, 1e-12));
    CHECK(inch.back().at.mm <= 180.0);
}

TEST_CASE("fractions of an inch are written as on a folding rule") {
    const auto ticks = travel_ticks({25.4}, 400.0, 34.0, UnitSystem::inch); // an inch in 400 pixels: eighths
    REQUIRE(ticks.size() == 17);
    const char* expected[] = {"0", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8", "1"};
    for (std::size_t i = 0; i < 9; ++i) {
        CHECK(ticks[2 * i].text == expected[i]);
        CHECK(ticks[2 * i].named);
    }
    CHECK(!ticks[1].named);
}
