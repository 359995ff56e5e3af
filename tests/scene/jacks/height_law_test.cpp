#include "scene/jacks/height_law.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace evenclose;
using evenclose::test::near;
using evenclose::test::within;

namespace {

PowerScrew screw() {
    PowerScrew screw = trapezoidal_screw(20, 4, 1, 0.15);
    screw.collar_friction = 0.1;
    screw.collar_diameter_mm = 30;
    return screw;
}

struct Kind {
    const char* name;
    HeightLaw law;
    double from_rise, to_rise;
};

const Kind kKinds[] = {
    {"screw", ScrewLaw{screw()}, 0, 150},
    {"rhombus, both ends", RhombusLaw{200, 380, true, screw()}, 0, 240},
    {"rhombus, one end", RhombusLaw{200, 380, false, screw()}, 0, 240},
    {"X stages", StageLaw{3, 400, 390, screw()}, 0, 600},
    {"cylinder", CylinderLaw{{80, 45}}, 0, 200},
    {"hose", HoseLaw{{100, 800}, 12}, 0, 80},
};

} // namespace

TEST_CASE("energy: over the stroke of every law, work in times efficiency is work out") {
    const double load = 15000;
    for (const Kind& kind : kKinds) {
        CAPTURE(kind.name);
        // Simpson's rule over the drive, which knows nothing of how the law was derived.
        const double full = drive_for(kind.law, kind.to_rise);
        const int steps = 4000;
        const double h = full / steps;
        double sum = 0;
        for (int i = 0; i <= steps; ++i) {
            const double weight = i == 0 || i == steps ? 1 : (i % 2 == 1 ? 4 : 2);
            sum += weight * effort(kind.law, rise_mm(kind.law, i * h), load);
        }
        const double a_drive = drive_of(kind.law) == DriveKind::turns ? 2 * std::numbers::pi : 1.0;
        const double work_in = a_drive * sum * h / 3;
        CHECK(within(work_in * efficiency(kind.law), load * kind.to_rise, 1e-6));
        CHECK(efficiency(kind.law) > 0);
        CHECK(efficiency(kind.law) <= 1);
    }
}

TEST_CASE("rise and drive undo each other, the rate is their slope, force and effort undo each other") {
    for (const Kind& kind : kKinds) {
        CAPTURE(kind.name);
        CHECK(near(rise_mm(kind.law, 0), 0, 1e-9));
        double before = -1;
        for (int i = 1; i < 10; ++i) {
            const double rise = kind.to_rise * i / 10;
            CAPTURE(rise);
            const double drive = drive_for(kind.law, rise);
            CHECK(drive > before); // it only goes up
            before = drive;
            CHECK(near(rise_mm(kind.law, drive), rise, 1e-9));
            const double step = 1e-5 * drive;
            const double slope = (rise_mm(kind.law, drive + step) - rise_mm(kind.law, drive - step)) / (2 * step);
            CHECK(within(rate(kind.law, rise), slope, 1e-5));
            CHECK(within(force_N(kind.law, rise, effort(kind.law, rise, 12345)), 12345, 1e-12));
            CHECK(rise < most_rise_mm(kind.law));
        }
    }
}

TEST_CASE("how force and rate change with height is what sets the kinds apart") {
    const HeightLaw rhombus = RhombusLaw{200, 380, true, screw()};
    CHECK(rate(rhombus, 10) > 2 * rate(rhombus, 150));                 // fast at first, slow when high
    CHECK(effort(rhombus, 10, 1000) > 2 * effort(rhombus, 150, 1000)); // and hard at first, easy when high
    CHECK(within(most_rise_mm(rhombus), 400 - 124.899960, 1e-7));      // REFERENCE 2.1: closed at 124.899960
    const HeightLaw hose = HoseLaw{{100, 800}, 10};
    CHECK(near(force_N(hose, 10, 0.5), 50265.5, 0.05)); // REFERENCE 2.9: h 20
    CHECK(near(force_N(hose, 70, 0.5), 12566.4, 0.05)); // h 80
    CHECK(near(force_N(hose, 90, 0.5), 0, 1e-9));
    CHECK(effort(hose, 90, 0) == 0);
    const HeightLaw cylinder = CylinderLaw{{80, 45}};
    CHECK(force_N(cylinder, 0, 16) == force_N(cylinder, 150, 16));
    CHECK(near(force_N(cylinder, 0, 16), 80425, 0.5)); // REFERENCE 2.7
    CHECK(std::isinf(most_rise_mm(cylinder)));
}

TEST_CASE("2.2 in the rhombus law: torque of two nuts, each with the pull W w/h") {
    const PowerScrew plain = square_screw(20, 2, 1, 0.15); // lead 2
    const HeightLaw law = RhombusLaw{200, 320, true, plain};
    CHECK(within(rate(law, 0), 16.0 / 3, 1e-9));
    CHECK(within(effort(law, 0, 3000), 2 * thread_raising_torque(plain, 4000), 1e-9));
}

TEST_CASE("what holds the load when the drive lets go") {
    CHECK(holding_of(HeightLaw{ScrewLaw{screw()}}) == Holding::thread_holds);
    PowerScrew steep = square_screw(32, 4, 2, 0.08); // REFERENCE 1.2: only the collar holds
    steep.collar_friction = 0.08;
    steep.collar_diameter_mm = 40;
    CHECK(holding_of(HeightLaw{ScrewLaw{steep}}) == Holding::collar_holds);
    CHECK(holding_of(HeightLaw{RhombusLaw{200, 320, false, steep}}) == Holding::collar_holds);
    CHECK(holding_of(HeightLaw{RhombusLaw{200, 320, true, steep}}) == Holding::runs_down); // two nuts, no collar
    CHECK(holding_of(HeightLaw{CylinderLaw{{80, 45}}}) == Holding::runs_down);
    CHECK(holding_of(HeightLaw{HoseLaw{{100, 800}, 10}}) == Holding::runs_down);
}

TEST_CASE("time to close: turns over speed") {
    const HeightLaw law = RhombusLaw{200, 320, true, square_screw(20, 2, 1, 0.15)};
    CHECK(within(seconds_between(law, 0, 80, 2.0), 10, 1e-9)); // REFERENCE 2.5: 20 turns
}
