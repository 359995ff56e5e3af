#include "viewer/app/week_chart.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace evenclose;
using test::within;

TEST_CASE("the week as bars: the schedule worked by hand in schedule_test, one person, two openings, one Monday") {
    // Later Mondays: 8:00 unload, 8:03 unload, 8:06 lay-up, 8:16 load, 8:18 lay-up, 8:28 load, 8:30 close, 8:31 to 9:31 ...
    // the last pressing from 11:33 runs over the end at 12:00 and is there again at 8:00.
    TimeMeasure measure;
    ShopPlan shop;
    shop.openings.assign(2, {600, 120, 180, 1});
    shop.close = 60;
    shop.press = 3600;
    shop.molds = 2;
    shop.day_ends = 12 * 3600;
    shop.days_a_week = 1;
    measure.plan = shop;
    measure.schedule = simulate(shop);
    const WeekChart chart = week_chart(measure);
    CHECK(chart.days == 1);
    CHECK(chart.begins == "8:00");
    CHECK(chart.ends == "12:00");
    CHECK(chart.pressings_a_week == 3);
    REQUIRE(chart.lines.size() == 2); // nothing cures
    CHECK(chart.lines[0].name == "press");
    CHECK(chart.lines[1].name == "person");
    const WeekBar& first = chart.lines[1].bars.front();
    CHECK(first.kind == TaskKind::unload);
    CHECK(within(first.to, 3.0 / 240, 1e-12));
    CHECK(first.told == "Unload, opening 1, Mo 8:00 to Mo 8:03");
    const WeekBar* last = nullptr;
    for (const WeekBar& bar : chart.lines[0].bars) {
        CHECK(bar.day == 0);
        CHECK(bar.from >= 0);
        CHECK(bar.from < bar.to);
        CHECK(bar.to <= 1);
        CHECK(bar.kind != TaskKind::lay_up); // that is at the bench
        last = bar.kind == TaskKind::press ? &bar : last;
    }
    REQUIRE(last != nullptr);
    CHECK(within(last->from, 213.0 / 240, 1e-12)); // 11:33
    CHECK(last->to == 1);

    // Cure of a day: the first deck of Monday lies there until Tuesday, on two racks of which it takes a half.
    measure.plan->cure = 24 * 3600;
    measure.plan->racks = 4;
    measure.schedule = simulate(*measure.plan);
    const WeekChart curing = week_chart(measure);
    REQUIRE(curing.lines.size() == 3);
    CHECK(curing.lines[2].name == "racks (4)");
    CHECK(within(curing.lines[2].bars.front().high, 0.25, 1e-12));
}
