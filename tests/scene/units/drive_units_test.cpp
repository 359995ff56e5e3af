#include "scene/units/units.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

using namespace evenclose;
using evenclose::test::within;

TEST_CASE("units of drives: speeds and flows [exact: 60 s, 1 US gallon = 231 in3, NIST SP 811]") {
    struct Row {
        const char* text;
        double value;
    };
    for (const Row& row :
         {Row{"60 rpm", 1}, Row{"90", 1.5}, Row{"2 turns/s", 2}, Row{"720 deg/s", 2}, Row{"30 r/min", 0.5}}) {
        CAPTURE(row.text);
        CHECK(within(std::get<double>(read_speed_turns_per_s(row.text)), row.value, 1e-15));
    }
    for (const Row& row : {Row{"6 l/min", 1e5}, Row{"3", 5e4}, Row{"30 ml/s", 3e4},
                           Row{"1 gal/min", 231 * 16387.064 / 60}, Row{"60 in3/min", 16387.064}}) {
        CAPTURE(row.text);
        CHECK(within(std::get<double>(read_flow_mm3_per_s(row.text)), row.value, 1e-15));
    }
    CHECK(std::holds_alternative<Unreadable>(read_speed_turns_per_s("60 mm")));
    CHECK(std::holds_alternative<Unreadable>(read_flow_mm3_per_s("2 l")));
}
