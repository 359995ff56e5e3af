#include "scene/units/duration.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace evenclose;

TEST_CASE("times as a shop and a data sheet write them") {
    struct Row {
        const char* text;
        double s;
    };
    const Row rows[] = {{"20", 1200},
                        {"20 min", 1200},
                        {"90 s", 90},
                        {"1.5 h", 5400},
                        {"1 1/2 h", 5400},
                        {"1 h 30", 5400},
                        {"1 h 30 min", 5400},
                        {"1h30min", 5400},
                        {"0", 0},
                        {"2 days", 172800},
                        {"1 day 2 h 3 min 4 s", 86400 + 7200 + 180 + 4}};
    for (const Row& row : rows) {
        CAPTURE(row.text);
        const Read<double> read = read_duration_s(row.text);
        REQUIRE(std::holds_alternative<double>(read));
        CHECK(std::get<double>(read) == row.s);
    }
    for (const char* wrong :
         {"", "min", "-3 min", "3 elephants", "30 min 1 h", "1 h 2 h", "1e999 s", "1e308", "nan", "3 min x"}) {
        CAPTURE(wrong);
        const Read<double> read = read_duration_s(wrong);
        REQUIRE(std::holds_alternative<Unreadable>(read));
        CHECK(std::get<Unreadable>(read).why.find("write 20 min, 90 s") != std::string::npos);
    }
}

TEST_CASE("times and temperatures as they are shown") {
    CHECK(show_duration(45) == "45 s");
    CHECK(show_duration(0) == "0 s");
    CHECK(show_duration(750) == "12.5 min");
    CHECK(show_duration(5400) == "90 min");
    CHECK(show_duration(3 * 3600) == "3 h");
    CHECK(show_duration(3 * 3600 + 59 * 60 + 50) == "4 h");
    CHECK(show_duration(9000) == "2 h 30 min");
    CHECK(show_temperature(20, UnitSystem::metric) == "20 C");
    CHECK(show_temperature(20, UnitSystem::inch) == "68 F");
}
