#include "scene/motion/lifting.hpp"

#include "tests/scene/motion/jack_presses.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <tuple>

using namespace evenclose;
using namespace evenclose::test;

namespace {

constexpr double kClosed = 1e-9;

SlopeRange range_of(const std::vector<Jack>& jacks, Travel at) {
    return Lifting(press_on(jacks), LevelSource::unlinked).slope_range(at);
}

} // namespace

TEST_CASE("3.2 1 % slow over a stroke of 120 lags 1.2 mm [closed form]") {
    const std::vector<Jack> jacks{screw_at({-400, 0}), screw_at({400, 0}, 0.99)};
    const Lifting lifting(press_on(jacks), LevelSource::unlinked);
    const auto heads = lifting.heads({120});
    CHECK(within(heads[0].height_mm - heads[1].height_mm, 1.2, kClosed));
    const SlopeRange range = lifting.slope_range({120});
    CHECK(within(range.low.x, -0.0015, kClosed));
    CHECK(near(range.high.x, range.low.x, 1e-15));
    CHECK(range.low.y == 0);
    CHECK(range.high.y == 0);
}

TEST_CASE("the envelope is that of the worst corner of all tolerances at that height of the middle, an axis at a time "
          "[brute force]") {
    const std::vector<Jack> jacks{screw_at({-400, -100}, 1.0, 0.01), screw_at({400, -100}, 0.995, 0.02),
                                  screw_at({-380, 120}, 1.0, 0.0), screw_at({410, 100}, 1.01, 0.005)};
    const Travel at{110};
    const Lifting lifting(press_on(jacks), LevelSource::unlinked);
    const SlopeRange range = lifting.slope_range(at);
    Slope low{1, 1};
    Slope high{-1, -1};
    for (unsigned corner = 0; corner < 16; ++corner) {
        double mean = 0; // at equal running time
        std::vector<double> share;
        for (std::size_t i = 0; i < jacks.size(); ++i) {
            share.push_back(jacks[i].rate + ((corner >> i) & 1U ? 1 : -1) * jacks[i].rate_tolerance);
            mean += share.back() / 4;
        }
        std::vector<HeadHeight> heads = lifting.heads({0});
        for (std::size_t i = 0; i < heads.size(); ++i) {
            heads[i].height_mm += lifting.lift_mm(at) * share[i] / mean;
        }
        const Slope slope = plane_through(heads).slope;
        low = {std::min(low.x, slope.x), std::min(low.y, slope.y)};
        high = {std::max(high.x, slope.x), std::max(high.y, slope.y)};
    }
    CHECK(near(range.low.x, low.x, 1e-12));
    CHECK(near(range.high.x, high.x, 1e-12));
    CHECK(near(range.low.y, low.y, 1e-12));
    CHECK(near(range.high.y, high.y, 1e-12));
    CHECK(high.x - low.x > 1e-4); // it is an envelope, not a line
    // At travel 0 nothing has run off yet.
    const SlopeRange start = lifting.slope_range({0});
    CHECK(start.low.x == start.high.x);
    // All screws: the ride is the envelope itself, with a knot at either end.
    const Ride ride = lifting.rides().platen;
    CHECK(ride.knots.size() == 2);
    CHECK(near(ride.slope_range(at).high.x, range.high.x, 1e-12));
    CHECK(near(ride.slope_range(at).low.y, range.low.y, 1e-12));
}

TEST_CASE("unlike feet, closed and parked heights tip the platen from the start, level ones leave it exactly level") {
    std::vector<Jack> jacks{screw_at({-400, 0}), screw_at({400, 0})};
    for (const double at : {0.0, 33.3, 150.0}) {
        const SlopeRange level = range_of(jacks, {at});
        CHECK(level.low.x == 0);
        CHECK(level.high.x == 0);
    }
    CHECK_FALSE(Lifting(press_on(jacks), LevelSource::unlinked).rides().platen.tilts());
    jacks[1].foot_mm.z += 0.5;
    jacks[1].closed_height_mm += 0.4;
    jacks[1].parked_mm += 0.3;
    CHECK(within(range_of(jacks, {0}).high.x, 1.2 / 800, kClosed));
}

TEST_CASE("2.5, 2.6 two rhombus jacks turned alike by one drive, spans 320 and 322: 2.690076 shrinks to 1.509812 in 20 "
          "turns [REFERENCE 2]") {
    Press press = press_on({rhombus_at({-400, 0}, 320), rhombus_at({400, 0}, 322)});
    press.drives = {{"one for both", {0, 1}, 1.0, 0.05, 1.0, {}}}; // a turn a second
    const Lifting lifting(press, LevelSource::unlinked);
    const auto apart = [&](Travel at) {
        const auto heads = lifting.heads(at);
        return heads[0].height_mm - heads[1].height_mm;
    };
    CHECK(near(apart({0}), 2.690076, 5e-7));
    // The middle has risen by the mean of both when the turns are done: 80 for the first (2.5), 81.180264 the other.
    const Travel done{80 + 0.5 * (2.690076 - 1.509812)};
    CHECK(near(*lifting.seconds(done), 20, 1e-5));
    CHECK(near(apart(done), 1.509812, 1e-6));
    // One motor: however fast it runs, they turn alike.
    CHECK(near(lifting.slope_range(done).high.x, lifting.slope_range(done).low.x, 1e-15));
    // A drive each, 2 % either way: now they can run apart.
    press.drives = {{"left", {0}, 1.0, 0.02, 1.0, {}}, {"right", {1}, 1.0, 0.02, 1.0, {}}};
    const SlopeRange free = Lifting(press, LevelSource::unlinked).slope_range(done);
    CHECK(800 * (free.high.x - free.low.x) > 2 * 0.02 * 80);
}

TEST_CASE(
    "3.2 unlinked motors, 2 % either way: the ends run apart by 4 % of the travel, at every height [closed form]") {
    Press press = press_on({screw_at({-400, 0}), screw_at({400, 0})});
    press.drives = {{"left", {0}, 2.0, 0.02, 1.0, {}}, {"right", {1}, 2.0, 0.02, 1.0, {}}};
    const Lifting lifting(press, LevelSource::unlinked);
    for (const double at : {0.0, 10.0, 60.0, 150.0}) {
        CAPTURE(at);
        // Fast over slow at a mean of 1: r = at (1 + 0.02), at (1 - 0.02).
        CHECK(near(lifting.slope_range({at}).high.x, 0.04 * at / 800, 1e-12));
        CHECK(near(lifting.slope_range({at}).low.x, -0.04 * at / 800, 1e-12));
    }
    CHECK(near(*lifting.seconds({60}), 60 / (2.0 * 4), 1e-9)); // lead 4
}

TEST_CASE("one side's motor runs 1.5 % faster: nominally out of level, and ends first") {
    Press press = press_on({screw_at({-400, 0}), screw_at({400, 0})});
    press.drives = {{"left", {0}, 2.0, 0, 1.0, {}}, {"right", {1}, 2.03, 0, 1.0, {}}};
    const Lifting lifting(press, LevelSource::unlinked);
    const auto heads = lifting.heads({100});
    CHECK(near(0.5 * (heads[0].height_mm + heads[1].height_mm), 250 + 100, kClosed));
    CHECK(within((heads[1].height_mm - 250) / (heads[0].height_mm - 250), 1.015, kClosed));
    CHECK(lifting.first_to_end() == 1);
    CHECK(within(lifting.end_of_stroke().mm, 150 * (1 + 1 / 1.015) / 2, kClosed));
}

TEST_CASE("gears: a motor of twice the speed behind a gear of two does the same") {
    Press press = press_on({screw_at({-400, 0}), screw_at({400, 0})});
    press.drives = {{"left", {0}, 2.0, 0.01, 1.0, {}}, {"right", {1}, 4.0, 0.01, 2.0, {}}};
    const Lifting lifting(press, LevelSource::unlinked);
    CHECK(lifting.nominal_slope({100}).x == doctest::Approx(0));
    CHECK(near(lifting.slope_range({100}).high.x, 0.02 * 100 / 800, 1e-12));
}

TEST_CASE("cylinders on one pump do not share alike: each runs by itself") {
    Press press = press_on({cylinder_at({-400, 0}), cylinder_at({400, 0})});
    const double area = std::numbers::pi / 4 * 80 * 80;
    press.drives = {{"pump", {0, 1}, 2 * area, 0.05, 1.0, {}}}; // 1 mm a second each
    const Lifting lifting(press, LevelSource::unlinked);
    CHECK(near(lifting.slope_range({100}).high.x, 0.1 * 100 / 800, 1e-12));
    CHECK(near(*lifting.seconds({100}), 100, 1e-9));
}

TEST_CASE("3.6, 3.7 a follower behind a 20 x 16 tube with two pin couplings lags by 0.121720 at 26.18 N m, and no more "
          "at any height [REFERENCE 3]") {
    Press press = press_on({screw_at({-400, 0}), screw_at({400, 0})});
    for (Jack& jack : press.jacks) { // Shigley's screw of 1.1: lead 8, 26 176.95 N mm at 6400 N
        jack.kind = ScrewJack{{8, 2, ThreadForm::square, 0.08, 0.08, 40}, 80, 32, 50, 12};
        jack.rated_load_N = 6400;
    }
    press.drives = {{"left", {0}, 2.0, 0.03, 1.0, {}}};
    press.link_shafts = {
        {"shaft", 0, 1, {RoundShaft{20, 16}, 1000, 79300, {PinCoupling{0.3, 10}, PinCoupling{0.3, 10}}}, {}}};
    CHECK(level_source(press) == LevelSource::linked);
    const Lifting linked(press, LevelSource::linked);
    for (const double at : {0.0, 10.0, 150.0}) {
        CAPTURE(at);
        const SlopeRange range = linked.slope_range({at});
        CHECK(near(range.low.x, -0.121720 / 800, 1e-5 / 800)); // torque 26 176.95 instead of 26 180
        CHECK(range.high.x == 0);                              // it only follows
    }
    CHECK(linked.rides().platen.knots.size() == 2);
    // Without the shaft the right jack would need a drive like the left one: that runs away with the travel.
    const Lifting unlinked(press, LevelSource::unlinked);
    CHECK(near(unlinked.slope_range({150}).high.x, 0.06 * 150 / 800, 1e-12));
    CHECK(near(unlinked.slope_range({15}).high.x, 0.06 * 15 / 800, 1e-12));
}

TEST_CASE(
    "a shaft between two motors: bounded by shaft and play either way, and at first by what the motors run apart") {
    Press press = press_on({screw_at({-400, 0}), screw_at({400, 0})});
    for (Jack& jack : press.jacks) {
        jack.kind = ScrewJack{{4, 1, ThreadForm::trapezoidal, 0.15, 0, 0}, 70, 20, 50, 12}; // REFERENCE 1.6
        jack.rated_load_N = 20000;
    }
    press.drives = {{"left", {0}, 2.0, 0.02, 1.0, {}}, {"right", {1}, 2.0, 0.02, 1.0, {}}};
    press.link_shafts = {{"shaft", 0, 1, {RoundShaft{16}, 1000, 79300, {AngleCoupling{0.06}}}, {}}};
    const Lifting linked(press, LevelSource::linked);
    // 41 136.7 N mm (1.6) twist it by T L / G J with J 6433.982 (3.6).
    const double lag = 4 * (41136.7 * 1000 / (79300 * 6433.982) + 0.06) / (2 * std::numbers::pi);
    CHECK(near(linked.slope_range({150}).high.x, lag / 800, 1e-6 / 800));
    CHECK(near(linked.slope_range({150}).low.x, -lag / 800, 1e-6 / 800));
    CHECK(near(linked.slope_range({1}).high.x, 0.04 * 1 / 800, 1e-12)); // 0.04 mm so far
    // A knot where the shaft takes over; the ride holds the envelope everywhere.
    const Ride ride = linked.rides().platen;
    CHECK(ride.knots.size() >= 3);
    for (double at = 0; at <= 150; at += 0.25) {
        CHECK(ride.slope_range({at}).high.x >= linked.slope_range({at}).high.x - 1e-15);
        CHECK(ride.slope_range({at}).high.x <= linked.slope_range({at}).high.x + 0.02 / 400);
    }
    // A torque limit of the motors bounds what they can twist it by: 10 N m at the motor behind a gear of 2.
    for (Drive& drive : press.drives) {
        drive.limit = 10000;
        drive.gear_ratio = 2;
        drive.speed = 4;
    }
    const double limited = 4 * (20000.0 * 1000 / (79300 * 6433.982) + 0.06) / (2 * std::numbers::pi);
    CHECK(near(Lifting(press, LevelSource::linked).slope_range({150}).high.x, limited / 800, 1e-6 / 800));
}

TEST_CASE("four jacks in a ring of three shafts: the last one gathers the play of all on its way") {
    Press press =
        press_on({screw_at({-400, -100}), screw_at({400, -100}), screw_at({400, 100}), screw_at({-400, 100})});
    press.drives = {{"front left", {0}, 2.0, 0.02, 1.0, {}}};
    for (Jack& jack : press.jacks) {
        jack.kind = ScrewJack{{4, 1, ThreadForm::trapezoidal, 0.15, 0, 0}, 70, 20, 50, 12};
        jack.rated_load_N = 1e-9; // twist aside
    }
    for (std::size_t i = 0; i < 3; ++i) {
        press.link_shafts.push_back({"shaft", i, i + 1, {RoundShaft{16}, 800, 79300, {AngleCoupling{0.1}}}, {}});
    }
    const ModelledHeads heads(press, true, plane_through(Lifting(press, LevelSource::linked).heads({0})));
    const std::vector<Interval> off = heads.deviations_mm({50});
    const double one = 4 * 0.1 / (2 * std::numbers::pi);
    for (std::size_t i = 0; i < 4; ++i) {
        CAPTURE(i);
        CHECK(near(off[i].low, -one * static_cast<double>(i), 1e-9));
        CHECK(off[i].high == 0);
    }
}

TEST_CASE("a shaft whose torque nobody knows is not counted, and that is said") {
    Press press = press_on({screw_at({-400, 0}), screw_at({400, 0})});
    press.drives = {{"left", {0}, 2.0, 0.02, 1.0, {}}};
    press.link_shafts = {{"the long shaft", 0, 1, {RoundShaft{16}, 800, 79300, {}}, {}}};
    CHECK(level_source(press) == LevelSource::unlinked);
    CHECK(link_unknown(press).find("the long shaft") != std::string::npos);
    press.drives[0].limit = 5000; // a torque limit is enough
    CHECK(link_unknown(press).empty());
    CHECK(level_source(press) == LevelSource::linked);
    press.drives[0].limit.reset();
    for (Jack& jack : press.jacks) { // or the friction of the threads
        std::get<ScrewJack>(jack.kind).thread.friction = 0.15;
    }
    CHECK(level_source(press) == LevelSource::linked);
}

TEST_CASE(
    "the ride of scissors encloses their envelope at every travel, and is not much wider [brute force over drives]") {
    struct Row {
        std::string name;
        std::vector<Jack> jacks;
        std::vector<Drive> drives;
    };
    const Row rows[] = {
        {"alike, 2 %",
         {rhombus_at({-400, 0}, 380), rhombus_at({400, 0}, 380)},
         {{"left", {0}, 1, 0.02, 1, {}}, {"right", {1}, 1, 0.02, 1, {}}}},
        {"parked apart",
         {rhombus_at({-400, 0}, 380), rhombus_at({400, 0}, 372)},
         {{"left", {0}, 1, 0.01, 1, {}}, {"right", {1}, 1, 0.03, 1, {}}}},
        {"one motor, parked apart",
         {rhombus_at({-400, 0}, 380), rhombus_at({400, 0}, 372)},
         {{"both", {0, 1}, 1, 0.05, 1, {}}}},
        {"no drives", {rhombus_at({-400, 0}, 380, 1.0, 0.01), rhombus_at({400, 0}, 380, 0.99, 0.01)}, {}},
        {"hoses",
         {hose_at({-400, 0}), hose_at({400, 0})},
         {{"left", {0}, 1e5, 0.05, 1, {}}, {"right", {1}, 1e5, 0.05, 1, {}}}},
        {"four scissors",
         {rhombus_at({-400, -100}, 380), rhombus_at({400, -100}, 378), rhombus_at({-400, 100}, 380),
          rhombus_at({400, 100}, 381)},
         {{"a", {0}, 1, 0.01, 1, {}},
          {"b", {1}, 1, 0.01, 1, {}},
          {"c", {2}, 1, 0.02, 1, {}},
          {"d", {3}, 1, 0.01, 1, {}}}},
    };
    for (const Row& row : rows) {
        CAPTURE(row.name);
        Press press = press_on(row.jacks);
        press.drives = row.drives;
        const Lifting lifting(press, LevelSource::unlinked);
        const LiftingRides rides = lifting.rides();
        const Ride& ride = rides.platen;
        CHECK(ride.knots.size() <= 24);
        const double end = lifting.end_of_stroke().mm;
        CHECK(end > 50);
        double widest = 0;
        for (int i = 0; i <= 997; ++i) { // a prime: between the knots
            const Travel at{end * i / 997};
            CAPTURE(at.mm);
            const SlopeRange truth = lifting.slope_range(at);
            const SlopeRange swept = ride.slope_range(at);
            CHECK(swept.low.x <= truth.low.x + 1e-15);
            CHECK(swept.high.x >= truth.high.x - 1e-15);
            CHECK(swept.low.y <= truth.low.y + 1e-15);
            CHECK(swept.high.y >= truth.high.y - 1e-15);
            widest = std::max({widest, truth.low.x - swept.low.x, swept.high.x - truth.high.x});
            CHECK(near(ride.lift_mm(at), lifting.lift_mm(at), 1e-9));
            for (std::size_t jack = 0; jack < row.jacks.size(); ++jack) {
                CHECK(near(rides.heads[jack].lift_mm(at), lifting.out_mm(jack, at) - row.jacks[jack].parked_mm,
                           kHeadRide_mm));
            }
        }
        CAPTURE(ride.knots.size());
        CHECK(widest * 400 < 0.1); // mm at the jacks
    }
}

TEST_CASE("no drives that run within their tolerance leave the envelope [random drives, fixed seed]") {
    Press press = press_on({rhombus_at({-400, -100}, 380), rhombus_at({400, -100}, 370), rhombus_at({-30, 100}, 360)});
    press.drives = {{"a", {0}, 1, 0.02, 1, {}}, {"b", {1}, 1.01, 0.01, 1, {}}, {"c", {2}, 1, 0.03, 1, {}}};
    const Lifting lifting(press, LevelSource::unlinked);
    const Ride ride = lifting.rides().platen;
    unsigned state = 4711;
    const auto random = [&] { // in -1 to 1
        state = state * 1664525U + 1013904223U;
        return static_cast<double>(state >> 8U) / (1U << 23U) - 1;
    };
    int seen = 0;
    for (int trial = 0; trial < 4000; ++trial) {
        const double time = 30 * (0.5 + 0.5 * random());
        std::vector<HeadHeight> heads;
        double lift = 0;
        for (std::size_t i = 0; i < 3; ++i) {
            const HeadPath path(press.jacks[i], press.drives[i].drive_a_second(false));
            const double rise = path.rise_mm(time, 1 + press.drives[i].tolerance * random());
            lift += rise / 3;
            heads.push_back({Vec2{press.jacks[i].foot_mm}, press.jacks[i].head_z_mm(press.jacks[i].parked_mm) + rise});
        }
        const Travel at = lifting.travel_at_lift(lift);
        if (at > lifting.end_of_stroke()) {
            continue;
        }
        ++seen;
        const Slope slope = plane_through(heads).slope;
        const SlopeRange range = ride.slope_range(at);
        CAPTURE(at.mm);
        CHECK(slope.x >= range.low.x - 1e-12);
        CHECK(slope.x <= range.high.x + 1e-12);
        CHECK(slope.y >= range.low.y - 1e-12);
        CHECK(slope.y <= range.high.y + 1e-12);
    }
    CHECK(seen > 2000);
}

TEST_CASE("linked scissors: the lag shrinks as they rise, as rate and torque do, the ride holds every lag") {
    Press press = press_on({rhombus_at({-400, 0}, 380), rhombus_at({400, 0}, 380)});
    press.drives = {{"left", {0}, 1, 0.02, 1, {}}, {"right", {1}, 1, 0.02, 1, {}}};
    press.link_shafts = {
        {"shaft", 0, 1, {RoundShaft{20, 16}, 800, 79300, {PinCoupling{0.3, 10}, PinCoupling{0.3, 10}}}, {}}};
    const Lifting linked(press, LevelSource::linked);
    const Lifting unlinked(press, LevelSource::unlinked);
    const double end = linked.end_of_stroke().mm;
    CHECK(linked.slope_range({end}).high.x < 0.3 * linked.slope_range({0.2 * end}).high.x);
    // Lag = (dh/dn) phi / 2 pi with phi = play + T L / G J, at the driven head (REFERENCE 3).
    const Jack& jack = press.jacks[1];
    const double rise = linked.out_mm(1, {end}) - linked.slope_range({end}).high.x * 800; // where the laggard is
    const double torque = effort(law_of(jack), rise, jack.rated_load_N);
    const double phi = 0.06 + twist_rad(press.link_shafts[0].shaft, torque);
    const double lag = rate(law_of(jack), rise) * phi / (2 * std::numbers::pi);
    CHECK(within(800 * linked.slope_range({end}).high.x, lag, 1e-3));
    CHECK(800 * unlinked.slope_range({end}).high.x > 10 * lag);
    const Ride ride = linked.rides().platen;
    for (int i = 0; i <= 997; ++i) {
        const Travel at{end * i / 997};
        CHECK(ride.slope_range(at).high.x >= linked.slope_range(at).high.x - 1e-15);
        CHECK(ride.slope_range(at).low.x <= linked.slope_range(at).low.x + 1e-15);
    }
}

TEST_CASE("measured heights replace the model: straight between rows, with their own spread") {
    Press press = press_on({screw_at({-400, 0}, 0.9, 0.1), screw_at({400, 0})});
    press.measured_heights = MeasuredHeights{"", {0, 50, 100}, {{250, 250.4}, {299.5, 300.5}, {350.2, 349.8}}, 0.2};
    CHECK(level_source(press) == LevelSource::measured);
    const Lifting lifting(press, LevelSource::measured);
    CHECK(near(lifting.open_height_mm(), 250.2, kClosed));
    CHECK(near(lifting.lift_mm({25}), 0.5 * (300.0 - 250.2), kClosed));
    CHECK(near(lifting.travel_at_lift(0.5 * (300.0 - 250.2)).mm, 25, kClosed));
    // Half way the right head is 0.7 higher, and each reading may be off by 0.2.
    CHECK(near(lifting.nominal_slope({25}).x, 0.7 / 800, 1e-12));
    CHECK(near(lifting.slope_range({25}).high.x, (0.7 + 0.4) / 800, 1e-12));
    CHECK(near(lifting.slope_range({25}).low.x, (0.7 - 0.4) / 800, 1e-12));
    CHECK(near(lifting.rides().platen.slope_range({75}).low.x, (0.3 - 0.4) / 800, 1e-12));
    CHECK(lifting.end_of_stroke().mm == 100); // the table says no more, the jacks could
    CHECK(lifting.table_ends_first());
    CHECK_FALSE(lifting.seconds({25}));
    press.jacks[0].stroke_mm = 75.35; // its head ends at 325.35: half way in the second row's piece
    const Lifting ends(press, LevelSource::measured);
    CHECK(near(ends.end_of_stroke().mm, 50 + 50 * (325.35 - 299.5) / (350.2 - 299.5), 1e-9));
    CHECK(ends.first_to_end() == 0);
    CHECK_FALSE(ends.table_ends_first());
}

TEST_CASE(
    "4.2 across a line of jacks the guides' play is the envelope, along it, and on jacks not in line, it is not") {
    Press press = press_on({screw_at({-400, 0}), screw_at({400, 0})});
    press.guides = {{"guide", {-450, 0}, 20, 20.5, 40, 60, 0, 0, 1000}};
    const Lifting lifting(press, LevelSource::unlinked);
    CHECK(within(std::atan(lifting.guide_play({50})), 0.0083215994, 1e-8));
    const SlopeRange range = lifting.slope_range({50});
    CHECK(near(range.high.y, std::tan(0.0083215994), 1e-10));
    CHECK(near(range.low.y, -std::tan(0.0083215994), 1e-10));
    CHECK(near(range.high.x, 0, 1e-15));
    CHECK(lifting.jack_slope_range({50}).high.y == 0);
    // A post that ends early: the sleeve leaves it, and the play grows.
    press.guides[0].post_to_z_mm = 250 + 30 + 50 - 30; // half of the sleeve at travel 50
    const Lifting leaving(press, LevelSource::unlinked);
    CHECK(within(std::atan(leaving.guide_play({50})), 0.0166, 5e-3)); // twice the play on half the length
    const Ride ride = leaving.rides().platen;
    for (double at = 0; at <= 150; at += 0.7) {
        CHECK(ride.slope_range({at}).high.y >= leaving.slope_range({at}).high.y - 1e-15);
    }
    press.jacks.push_back(screw_at({0, 200}));
    CHECK(Lifting(press, LevelSource::unlinked).guide_play({50}) == 0);
    CHECK(Lifting(press, LevelSource::unlinked).slope_range({50}).high.y == 0);
}

TEST_CASE("presses as they may be typed: every number finite, every range enclosed [random presses, fixed seed]") {
    unsigned state = 815;
    const auto random = [&](double low, double high) {
        state = state * 1664525U + 1013904223U;
        return low + (high - low) * static_cast<double>(state >> 8U) / (1U << 24U);
    };
    int built = 0;
    for (int trial = 0; trial < 150; ++trial) {
        CAPTURE(trial);
        std::vector<Jack> jacks;
        const int count = 2 + static_cast<int>(random(0, 3.99));
        const int kind = static_cast<int>(random(0, 4.99));
        for (int i = 0; i < count; ++i) {
            const Vec2 at{random(-500, 500), random(0, 1) < 0.3 ? 0.0 : random(-200, 200)};
            Jack jack = kind == 0   ? screw_at(at, random(0.9, 1.1), random(0, 0.2))
                        : kind == 1 ? cylinder_at(at)
                        : kind == 2 ? hose_at(at)
                                    : rhombus_at(at, random(300, 389), random(0.9, 1.1), random(0, 0.2));
            if (kind == 4) {
                auto& scissor = std::get<ScissorJack>(jack.kind);
                scissor.stages = 1 + static_cast<int>(random(0, 3.99));
                scissor.arm_mm = random(220, 500);
                jack.closed_height_mm = 50 + random(0.05, 0.5) * scissor.stages * scissor.arm_mm;
                jack.parked_mm = 0;
                jack.stroke_mm = random(0.3, 0.999) * (scissor.stages * scissor.arm_mm + 50 - jack.closed_height_mm);
            }
            if (!fault_of(jack).empty()) {
                continue;
            }
            jacks.push_back(jack);
        }
        if (jacks.size() < 2) {
            continue;
        }
        Press press = press_on(jacks);
        const bool pumped = kind == 1 || kind == 2;
        if (random(0, 1) < 0.7) {
            for (std::size_t i = 0; i < jacks.size(); ++i) {
                press.drives.push_back({"", {i}, pumped ? 1e5 : random(0.5, 2), random(0, 0.5), 1, 1e4});
            }
        }
        if (!pumped && random(0, 1) < 0.5) {
            for (std::size_t i = 0; i + 1 < jacks.size(); ++i) {
                press.link_shafts.push_back(
                    {"", i, i + 1, {RoundShaft{random(5, 40)}, 500, 79300, {AngleCoupling{random(0, 0.5)}}}, {}});
            }
        }
        for (const LevelSource source : {LevelSource::unlinked, LevelSource::linked}) {
            const Lifting lifting(press, source);
            const Travel end = lifting.end_of_stroke();
            REQUIRE(std::isfinite(end.mm));
            if (!(end > Travel{0})) {
                continue;
            }
            ++built;
            const LiftingRides rides = lifting.rides();
            for (int i = 0; i <= 40; ++i) {
                const Travel at{end.mm * i / 40};
                const SlopeRange truth = lifting.slope_range(at);
                const SlopeRange swept = rides.platen.slope_range(at);
                CAPTURE(at.mm);
                for (const auto& [low, high, wide_low, wide_high] :
                     {std::tuple(truth.low.x, truth.high.x, swept.low.x, swept.high.x),
                      std::tuple(truth.low.y, truth.high.y, swept.low.y, swept.high.y)}) {
                    CHECK(std::isfinite(wide_low));
                    CHECK(std::isfinite(wide_high));
                    CHECK(low <= high + 1e-12);
                    CHECK(wide_low <= low + 1e-12);
                    CHECK(wide_high >= high - 1e-12);
                }
                for (const HeadHeight& head : lifting.heads(at)) {
                    CHECK(std::isfinite(head.height_mm));
                }
            }
        }
    }
    CHECK(built > 150);
}
