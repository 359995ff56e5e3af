// The week against schedules worked by hand, closed forms, and the laws that every queue obeys.
#include "checks/plan/bottleneck.hpp"
#include "checks/plan/schedule.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <random>
#include <string>
#include <tuple>
#include <vector>

using namespace evenclose;
using evenclose::test::within;

namespace {

constexpr Seconds kMinute = 60;

/// Lay-up 10 min, load 2, unload 3, close 1, press 60; one person, a Monday of four hours from eight, nothing else.
ShopPlan bench_shop(int openings, int people, int molds) {
    ShopPlan shop;
    shop.openings.assign(static_cast<std::size_t>(openings), {10 * kMinute, 2 * kMinute, 3 * kMinute, 1});
    shop.close = kMinute;
    shop.press = 60 * kMinute;
    shop.people = people;
    shop.molds = molds;
    shop.day_begins = 8 * 3600;
    shop.day_ends = 12 * 3600;
    shop.days_a_week = 1;
    return shop;
}

std::string clock(Seconds t) {
    const Seconds minutes = t / kMinute;
    return std::to_string(minutes / 60) + ":" + (minutes % 60 < 10 ? "0" : "") + std::to_string(minutes % 60);
}

/// "lay-up 0 8:00-8:10": kind, opening if it is of one, from and to.
std::vector<std::string> told(const std::vector<Task>& tasks) {
    std::vector<std::string> lines;
    for (const Task& task : tasks) {
        lines.push_back(std::string(name_of(task.kind)) + (task.opening < 0 ? "" : " " + std::to_string(task.opening)) +
                        " " + clock(task.from) + "-" + clock(task.to));
    }
    return lines;
}

ShopPlan random_shop(std::mt19937& random) {
    const auto pick = [&](int from, int to) { return std::uniform_int_distribution<int>(from, to)(random); };
    ShopPlan shop;
    const int openings = pick(1, 5);
    for (int i = 0; i < openings; ++i) {
        shop.openings.push_back({pick(0, 20) * kMinute, pick(0, 4) * kMinute, pick(0, 5) * kMinute, pick(1, 3)});
    }
    shop.close = pick(0, 3) * kMinute;
    shop.press = pick(5, 300) * kMinute;
    shop.cure = pick(0, 1) * pick(1, 48) * 3600;
    if (pick(0, 1) == 1) {
        shop.closed_limit = pick(5, 60) * kMinute;
    }
    shop.people = pick(1, 4);
    shop.presses = pick(1, 3);
    shop.molds = pick(1, 12);
    if (pick(0, 1) == 1) {
        shop.racks = pick(3, 30);
    }
    shop.day_ends = (8 + pick(4, 10)) * 3600;
    shop.days_a_week = pick(1, 7);
    return shop;
}

} // namespace

TEST_CASE("a schedule worked by hand: one person, two openings, two molds, one morning a week") {
    // Worked on paper, minute by minute; one person does one thing after the other.
    //
    //   first Monday       8:00 lay-up 0, 8:10 load, 8:12 lay-up 1, 8:22 load, 8:24 close, 8:25 pressed until 9:25
    //                      9:25 unload 0, 9:28 unload 1, 9:31 lay-up 0, 9:41 load, 9:43 lay-up 1, 9:53 load, 9:55 close,
    //                      9:56 pressed until 10:56
    //                     10:56 unload, 10:59 unload, 11:02 lay-up, 11:12 load, 11:14 lay-up, 11:24 load, 11:26 close,
    //                     11:27 pressed until 12:27, when everybody is gone: it stays in until the next Monday
    //   every Monday after 8:00 unload, 8:03 unload, 8:06 lay-up ... 8:31 pressed until 9:31; 9:31 unload ... 10:02 pressed
    //                      until 11:02; 11:02 unload ... 11:33 pressed until 12:33
    //   so 2 pressings come out on the first Monday (4 decks), 3 on every one after (6 decks a week).
    const ShopPlan shop = bench_shop(2, 1, 2);
    const Schedule schedule = simulate(shop);
    REQUIRE(schedule.not_possible.empty());
    const std::vector<std::string> first{
        "lay-up 0 8:00-8:10",   "load 0 8:10-8:12",   "lay-up 1 8:12-8:22",   "load 1 8:22-8:24",
        "close 8:24-8:25",      "press 8:25-9:25",    "unload 0 9:25-9:28",   "unload 1 9:28-9:31",
        "lay-up 0 9:31-9:41",   "load 0 9:41-9:43",   "lay-up 1 9:43-9:53",   "load 1 9:53-9:55",
        "close 9:55-9:56",      "press 9:56-10:56",   "unload 0 10:56-10:59", "unload 1 10:59-11:02",
        "lay-up 0 11:02-11:12", "load 0 11:12-11:14", "lay-up 1 11:14-11:24", "load 1 11:24-11:26",
        "close 11:26-11:27",    "press 11:27-12:27"};
    CHECK(told(week_of(schedule, 0)) == first);
    CHECK(schedule.repeats);
    CHECK(schedule.decks_a_week == 6);
    CHECK(schedule.pressings_a_week == 3);
    CHECK(schedule.first_week == 1);
    CHECK(schedule.weeks == 1);
    CHECK(schedule.longest_wait == 15 * kMinute); // laid up 8:10, under pressure 8:25
    CHECK_FALSE(schedule.lays_up_ahead);
    // Busy 3 x (2 x 15 + 1) of 240 minutes; decks in the press from the first load to the last unload, within the morning:
    // 8:00-8:06, 8:16-9:37, 9:47-11:08, 11:18-12:00 = 6 + 81 + 81 + 42 = 210.
    CHECK(within(schedule.crew_used, 93.0 / 240, 1e-12));
    CHECK(within(schedule.press_used, 210.0 / 240, 1e-12));
}

TEST_CASE("a schedule worked by hand: two people and molds to spare lay up ahead, unless the glue will not wait") {
    // Worked on paper. Both lay up 8:00-8:10, load -8:12, one closes -8:13: pressed until 9:13. The bench takes both 10
    // minutes, so they lay up ahead from 9:03, unload 9:13-9:16, load -9:18, close -9:19: the first mold waited 6 minutes.
    // So every 66 minutes: on at 8:13, 9:19, 10:25, 11:31. On later Mondays the mold of 11:31 is still in at eight; ahead or
    // not, it is on again at 8:16 (unload 3, lay up 10, load 2, close 1), then 9:22, 10:28, 11:34: 4 pressings, 8 decks.
    ShopPlan shop = bench_shop(2, 2, 4);
    shop.closed_limit = 9 * kMinute;
    const Schedule ahead = simulate(shop);
    REQUIRE(ahead.not_possible.empty());
    std::vector<std::string> on;
    for (const Task& task : week_of(ahead, 0)) {
        if (task.kind == TaskKind::press) {
            on.push_back(clock(task.from));
        }
    }
    CHECK(on == std::vector<std::string>{"8:13", "9:19", "10:25", "11:31"});
    CHECK(ahead.decks_a_week == 8);
    CHECK(ahead.lays_up_ahead);
    CHECK(ahead.longest_wait == 6 * kMinute);
    // A glue that waits 5 minutes only: after the unloading, then. 8:13, then 3 + 10 + 2 + 1 after each opening: 9:29, 10:45;
    // the next would be on at 12:01. Later Mondays: 8:16, 9:32, 10:48, and 12:04 is too late: 3 pressings, 6 decks.
    shop.closed_limit = 5 * kMinute;
    const Schedule after = simulate(shop);
    CHECK_FALSE(after.lays_up_ahead);
    CHECK(after.decks_a_week == 6);
    CHECK(after.longest_wait == 3 * kMinute);
}

TEST_CASE("a schedule worked by hand: decks that cure hold the racks, and the press with them") {
    // One opening, one person, one mold; two racks; cure 3 h. On paper: lay-up 8:00, load 8:10, close 8:12, pressed 8:13-9:13;
    // out 9:16 (rack until 12:16); 9:16 + 13 = on at 9:29, out 10:29-10:32 (rack until 13:32); on at 10:45, opens 11:45:
    // both racks are taken until 12:16, after hours: it comes out next Monday at 8:00. 2 decks the first week, then
    // Monday: out 8:03 (rack until 11:03), on 8:16, out 9:16-9:19 (second rack until 12:19), on 9:32, opens 10:32, waits for
    // the first rack: put down at 11:03, so taken out 11:00-11:03; on 11:16. 3 decks a week.
    ShopPlan shop = bench_shop(1, 1, 1);
    shop.cure = 3 * 3600;
    shop.racks = 2;
    const Schedule schedule = simulate(shop);
    REQUIRE(schedule.not_possible.empty());
    std::vector<std::string> out;
    for (const Task& task : week_of(schedule, schedule.first_week)) {
        if (task.kind == TaskKind::unload) {
            out.push_back(clock(task.to));
        }
    }
    CHECK(out == std::vector<std::string>{"8:03", "9:19", "11:03"});
    CHECK(schedule.decks_a_week == 3);
    CHECK(within(schedule.racks_held, 3 * 3.0 / (7 * 24), 1e-12)); // Little: 3 decks a week, 3 h each
    // One rack only: out 8:03, on 8:16, opens 9:16, put down at 11:03, on 11:16, and in until the next Monday: 2 a week.
    shop.racks = 1;
    CHECK(simulate(shop).decks_a_week == 2);
}

TEST_CASE("closed forms: round the clock the rate is what one cycle says") {
    // One opening, mold, person: unload 3 + lay-up 10 + load 2 + close 1 + press 44 = 60 min: 168 decks a week.
    ShopPlan shop = bench_shop(1, 1, 1);
    shop.press = 44 * kMinute;
    shop.day_begins = 0;
    shop.day_ends = kDay_s;
    shop.days_a_week = 7;
    CHECK(simulate(shop).decks_a_week == 168);
    // A second mold: laid up while it presses. Unload 0 (so that no task meets midnight) + load 2 + close 1 + press 45 = 48
    // min: 210 a week.
    ShopPlan spare = shop;
    spare.molds = 2;
    spare.openings.front().unload = 0;
    spare.press = 45 * kMinute;
    CHECK(simulate(spare).decks_a_week == 210);
    // Twelve openings, as many people: all side by side, one cycle as before for twelve times as many decks.
    shop.openings.resize(12, shop.openings.front());
    shop.people = 12;
    shop.molds = 12;
    CHECK(simulate(shop).decks_a_week == 12 * 168);
    // Presses without end and one person: the person's own time a deck, 3 + 10 + 2 + 1 = 16 min: 630 a week.
    shop.openings.resize(1);
    shop.people = 1;
    shop.presses = 20;
    shop.molds = 20;
    const Schedule busy = simulate(shop);
    CHECK(within(busy.decks_a_week, 7 * 24 * 60 / 16.0, 1e-12));
    CHECK(within(busy.crew_used, 1, 1e-12));
}

TEST_CASE("what cannot be is said, not looped over") {
    ShopPlan shop = bench_shop(2, 1, 2);
    shop.openings[0].lay_up = 5 * 3600;
    CHECK(simulate(shop).not_possible.find("longer than a working day") != std::string::npos);
    shop = bench_shop(20, 1, 20);
    CHECK(simulate(shop).not_possible.find("all openings") != std::string::npos);
    shop = bench_shop(1, 1, 1);
    shop.openings[0].decks = 3;
    shop.cure = 3600;
    shop.racks = 2;
    CHECK(simulate(shop).not_possible.find("racks") != std::string::npos);
    shop = bench_shop(1, 1, 1);
    shop.openings = {{0, 0, 0, 1}};
    shop.close = shop.press = 0;
    CHECK(simulate(shop).not_possible.find("less than a minute") != std::string::npos);
}

TEST_CASE("laws of 300 random shops: nobody does two things at once, the queue laws hold, nothing is begun in vain") {
    std::mt19937 random(4711);
    int possible = 0;
    int counted = 0;
    for (int trial = 0; trial < 300; ++trial) {
        CAPTURE(trial);
        const ShopPlan shop = random_shop(random);
        const Schedule schedule = simulate(shop);
        const Schedule again = simulate(shop);
        CHECK(again.decks_a_week == schedule.decks_a_week);
        CHECK(again.tasks.size() == schedule.tasks.size());
        if (!schedule.not_possible.empty()) {
            continue;
        }
        ++possible;
        CHECK(schedule.crew_used <= 1 + 1e-12);
        CHECK(schedule.press_used <= 1 + 1e-12);

        std::map<int, std::vector<std::pair<Seconds, Seconds>>> of_person;
        std::map<int, std::vector<std::pair<Seconds, Seconds>>> of_press;
        std::map<int, Seconds> laid_from;
        std::map<int, Seconds> out;
        std::vector<std::pair<Seconds, int>> molds;
        std::vector<std::pair<Seconds, int>> racks;
        std::map<std::pair<int, int>, std::pair<Seconds, Seconds>> mold_of;
        for (const Task& task : schedule.tasks) {
            CHECK(task.to >= task.from);
            if (task.person >= 0) {
                CHECK(task.person < shop.people);
                of_person[task.person].push_back({task.from, task.to});
                // Within one working day.
                CHECK(task.from / kDay_s % 7 < shop.days_a_week);
                CHECK(task.from % kDay_s >= shop.day_begins);
                CHECK(task.to - task.from / kDay_s * kDay_s <= shop.day_ends);
            }
            if (task.kind == TaskKind::press) {
                of_press[task.press].push_back({task.from, task.to});
                CHECK(task.to - task.from == shop.press);
            }
            if (task.kind == TaskKind::lay_up) {
                mold_of[{task.pressing, task.opening}] = {task.from, task.from + 1'000'000'000};
            }
            if (task.kind == TaskKind::unload) {
                mold_of[{task.pressing, task.opening}].second = task.to;
            }
            if (task.kind == TaskKind::cure) {
                racks.push_back({task.from, task.decks});
                racks.push_back({task.to, -task.decks});
            }
        }
        const auto apart = [](std::map<int, std::vector<std::pair<Seconds, Seconds>>>& all) {
            for (auto& [who, spans] : all) {
                std::sort(spans.begin(), spans.end());
                for (std::size_t i = 1; i < spans.size(); ++i) {
                    CHECK(spans[i].first >= spans[i - 1].second);
                }
            }
        };
        apart(of_person);
        apart(of_press);
        for (const auto& [which, span] : mold_of) {
            molds.push_back({span.first, 1});
            molds.push_back({span.second, -1});
        }
        const auto most = [](std::vector<std::pair<Seconds, int>> changes) {
            std::sort(changes.begin(), changes.end()); // what goes, goes first
            int held = 0;
            int highest = 0;
            for (const auto& [t, by] : changes) {
                held += by;
                highest = std::max(highest, held);
            }
            return highest;
        };
        CHECK(most(molds) <= shop.molds);
        if (shop.racks && shop.cure > 0) {
            CHECK(most(racks) <= *shop.racks);
        }
        if (!schedule.repeats) {
            continue;
        }
        // Utilisation law: busy time is the rate times the work a pressing is (Lazowska et al., Quantitative System
        // Performance, 1984, section 3.2). Every press's share of molds is its own, so sum over what was pressed.
        if (shop.presses == 1) {
            const std::size_t filled =
                std::min<std::size_t>(shop.openings.size(), static_cast<std::size_t>(shop.molds));
            Seconds work = shop.close;
            int decks = 0;
            for (std::size_t i = 0; i < filled; ++i) {
                work += shop.openings[i].lay_up + shop.openings[i].load + shop.openings[i].unload;
                decks += shop.openings[i].decks;
            }
            const double hours =
                static_cast<double>((shop.day_ends - shop.day_begins) * shop.days_a_week * shop.people);
            CHECK(within(schedule.crew_used * hours, schedule.pressings_a_week * static_cast<double>(work), 1e-9));
            CHECK(within(schedule.decks_a_week, schedule.pressings_a_week * decks, 1e-12));
        }
        // Little's law for the racks (J. D. C. Little, Operations Research 9, 1961): what is told from rate and time is what
        // is seen when the places taken are counted from event to event, once the first decks have cured.
        if (shop.cure < schedule.first_week * kWeek_s) {
            std::sort(racks.begin(), racks.end());
            const Seconds from = schedule.first_week * kWeek_s;
            const Seconds to = from + schedule.weeks * kWeek_s;
            double area = 0;
            int held = 0;
            Seconds at = 0;
            for (const auto& [t, by] : racks) {
                area +=
                    static_cast<double>(held) * static_cast<double>(std::clamp(t, from, to) - std::clamp(at, from, to));
                held += by;
                at = t;
            }
            CHECK(within(schedule.racks_held, area / static_cast<double>(to - from), 1e-9));
            ++counted;
        }
    }
    CHECK(possible > 200);
    CHECK(counted > 50);
}

TEST_CASE("what holds the week back is found by trying") {
    // On paper, from the first table above (6 decks a week):
    //   a third opening with its mold: on at 8:37, out 9:37-9:46, on 10:23, out 11:23-11:32, and 12:09 is too late for more:
    //       2 pressings of 3, nothing gained;
    //   a helper: on at 8:13, 9:29, 10:45, out 11:45-11:48, 12:01 is too late: 3 pressings of 2, nothing gained;
    //   an hour a day: a Monday that begins empty closes at 8:25, 9:56, 11:27, 12:58 and leaves the last one in; one that
    //       begins full closes at 8:31, 10:02, 11:33 and is empty at 12:39: 7 pressings in two weeks: 7 decks, 1 gained.
    const ShopPlan shop = bench_shop(2, 1, 2);
    const Schedule now = simulate(shop);
    const std::vector<Gain> list = gains(shop, now);
    std::map<std::string, double> by;
    for (const Gain& gain : list) {
        by[gain.what] = gain.gain;
        ShopPlan more = shop;
        if (gain.what == "helper") {
            ++more.people;
            CHECK(gain.decks_a_week == simulate(more).decks_a_week);
        }
    }
    CHECK(by.at("opening") == 0); // no mold for it
    CHECK(by.at("press") == 0);   // nor for that
    CHECK(by.at("opening with its mold") == 0);
    CHECK(by.at("helper") == 0);
    CHECK(by.at("hour a day") == 1);
    CHECK(by.count("rack") == 0);
    CHECK(std::is_sorted(list.begin(), list.end(), [](const Gain& a, const Gain& b) { return a.gain > b.gain; }));
    REQUIRE(bottleneck(list) != nullptr);
    CHECK(bottleneck(list)->what == "press with its molds");
    CHECK(by.at("press with its molds") > 1);
    CHECK(bottleneck({{"mold", 6, 0}}) == nullptr);
}
