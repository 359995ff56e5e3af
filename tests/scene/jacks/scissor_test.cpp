#include "scene/jacks/scissor.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace evenclose;
using evenclose::test::near;
using evenclose::test::within;

TEST_CASE("2.1, 2.2, 2.3, 2.4 rhombus jack, arms 200, lead 2, both ends threaded [virtual work, pull W cot(theta) as "
          "worked on a "
          "public mechanics page]") {
    struct Row {
        const char* id;
        double span, height, rise_a_turn, pull, next_turn;
    };
    const Row rows[] = {
        {"2.1", 380, 124.899960, 12.169740, 3.042435, 11.569817},
        {"2.2", 320, 240, 5.333333, 1.333333, 5.242737},
        {"2.3", 240, 320, 3, 0.75, 2.961298},
        {"2.4", 160, 366.606056, 1.745743, 0.436436, 1.719887},
    };
    for (const Row& row : rows) {
        CAPTURE(row.id);
        const RhombusJack jack{200, row.span, 2, true};
        CHECK(near(height_at_span_mm(jack, row.span), row.height, 5e-7));
        CHECK(near(rise_a_turn_mm(jack, row.span), row.rise_a_turn, 5e-7));
        CHECK(near(screw_pull_a_load(jack, row.span), row.pull, 5e-7));
        CHECK(near(height_after_mm(jack, 1) - height_after_mm(jack, 0), row.next_turn, 5e-7));
        CHECK(within(span_at_height_mm(jack, height_at_span_mm(jack, row.span)), row.span, 1e-12));
        const RhombusJack one_end{200, row.span, 2, false};
        CHECK(within(rise_a_turn_mm(one_end, row.span), 0.5 * rise_a_turn_mm(jack, row.span), 1e-12));
        CHECK(screw_pull_a_load(one_end, row.span) == screw_pull_a_load(jack, row.span));
    }
}

TEST_CASE("2.5 span 320 to 240 is 20 turns and exactly 80 mm [3-4-5 triangles]") {
    const RhombusJack jack{200, 320, 2, true};
    CHECK(within(span_after_mm(jack, 20), 240, 1e-12));
    CHECK(within(height_after_mm(jack, 20) - height_after_mm(jack, 0), 80, 1e-12));
}

TEST_CASE("2.6 two of them turned alike from spans 320 and 322: the mismatch shrinks [closed form]") {
    const RhombusJack first{200, 320, 2, true};
    const RhombusJack second{200, 322, 2, true};
    CHECK(near(height_after_mm(first, 0) - height_after_mm(second, 0), 2.690076, 5e-7));
    CHECK(near(height_after_mm(first, 20) - height_after_mm(second, 20), 1.509812, 5e-7));
}

TEST_CASE("X stage lift: h = n L sin(theta), pull n W cot(theta) [derived]") {
    // One stage of arm 500 on a base of 400: 3-4-5, so h = 300 a stage and cot = 4/3.
    const StageLift two{2, 500, 400, 5};
    CHECK(within(height_at_base_mm(two, 400), 600, 1e-12));
    CHECK(within(base_at_height_mm(two, 600), 400, 1e-12));
    CHECK(within(base_pull_a_load(two, 400), 2 * 4.0 / 3, 1e-12));
    CHECK(within(rise_a_turn_mm(two, 400), 5 * 2 * 4.0 / 3, 1e-12));
    CHECK(within(base_after_mm(two, 20), 300, 1e-12));
    CHECK(within(height_at_base_mm(two, 300), 800, 1e-12)); // 4-3-5
    const double step = 1e-5;
    const double rate =
        (height_at_base_mm(two, base_after_mm(two, step)) - height_at_base_mm(two, base_after_mm(two, -step))) /
        (2 * step);
    CHECK(within(rate, rise_a_turn_mm(two, 400), 1e-8));
}
