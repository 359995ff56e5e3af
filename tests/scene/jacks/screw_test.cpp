#include "scene/jacks/screw.hpp"

#include "scene/units/units.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace evenclose;
using evenclose::test::near;
using evenclose::test::within;

namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kClosed = 1e-9;
double degrees(double rad) { return rad * 180 / kPi; }

/// REFERENCE 1.1: d 32, p 4, two starts, f = fc = 0.08, dc 40.
PowerScrew shigley() {
    PowerScrew screw = square_screw(32, 4, 2, 0.08);
    screw.collar_friction = 0.08;
    screw.collar_diameter_mm = 40;
    return screw;
}

} // namespace

TEST_CASE("1.1 raising and lowering a load on a square thread [Shigley, power-screw example 8-1, from memory]") {
    const PowerScrew screw = shigley();
    CHECK(screw.mean_diameter_mm == 30);
    CHECK(screw.lead_mm() == 8);
    CHECK(near(thread_raising_torque(screw, 6400), 15936.95, 5e-3));
    CHECK(within(collar_torque(screw, 6400), 10240, kClosed));
    CHECK(near(raising_torque(screw, 6400), 26176.95, 5e-3));
    CHECK(near(thread_lowering_torque(screw, 6400), -465.57, 5e-3));
    CHECK(near(lowering_torque(screw, 6400), 9774.43, 5e-3));
    CHECK(near(efficiency(screw), 0.311294, 5e-7));
    // As the book prints them.
    CHECK(near(raising_torque(screw, 6400) / 1000, 26.18, 5e-3));
    CHECK(near(lowering_torque(screw, 6400) / 1000, 9.77, 5e-3));
    CHECK(near(efficiency(screw), 0.311, 5e-4));
}

TEST_CASE("1.2 a lowering torque above 0 is not self-locking: here only the collar holds [REFERENCE 1, derived]") {
    PowerScrew screw = shigley();
    CHECK(near(degrees(screw.lead_angle_rad()), 4.85179, 5e-6));
    CHECK(screw.lead_angle_rad() > std::atan(0.08)); // steeper than the friction angle
    CHECK(near(thread_efficiency(screw), 0.51131, 5e-6));
    CHECK(lowering_torque(screw, 6400) > 0);
    CHECK(holding_of(screw) == Holding::collar_holds);
    screw.collar_friction = 0.0; // a thrust bearing in its place
    CHECK(holding_of(screw) == Holding::runs_down);
    screw.thread_friction = 0.09; // above tan(4.85 deg) = 0.0849
    CHECK(holding_of(screw) == Holding::thread_holds);
}

TEST_CASE("a self-locking thread has an efficiency below one half, whatever its size [REFERENCE 1, derived]") {
    for (const double friction : {0.05, 0.08, 0.12, 0.15, 0.2}) {
        for (const int starts : {1, 2, 3}) {
            CAPTURE(friction);
            CAPTURE(starts);
            const PowerScrew screw = trapezoidal_screw(32, 6, starts, friction);
            if (holding_of(screw) == Holding::thread_holds) {
                CHECK(thread_efficiency(screw) < 0.5);
            }
            // f sec(alpha) > tan(lambda) is the same question asked of the angles.
            const bool by_angle = friction / std::cos(kPi / 12) > std::tan(screw.lead_angle_rad());
            CHECK((holding_of(screw) == Holding::thread_holds) == by_angle);
        }
    }
}

TEST_CASE("1.3 stresses in that screw [Shigley, print from memory, digits recomputed]") {
    const ScrewStress stress = stress_while_raising(shigley(), 6400);
    CHECK(within(stress.torsion_MPa, 6.0732, 1e-3));
    CHECK(within(stress.axial_MPa, -10.3938, 1e-3));
    CHECK(within(stress.bearing_MPa, -12.902, 1e-3));
    CHECK(within(stress.root_bending_MPa, 41.471, 1e-3));
}

TEST_CASE(
    "1.4 Acme 1 1/2-4 [Mott, Machine Elements, ex. 17-1: data and lead angle, torque recomputed, the print is off]") {
    PowerScrew screw = square_screw(1.5 * kMmPerInch, 0.25 * kMmPerInch, 1, 0.15);
    screw.mean_diameter_mm = 1.3429 * kMmPerInch; // as the Acme table has it: less than major - pitch / 2
    screw.flank_angle_rad = 14.5 * kPi / 180;
    const double load = 12500 * kNPerPoundForce;
    const double lbf_in = kNPerPoundForce * kMmPerInch;
    CHECK(near(degrees(screw.lead_angle_rad()), 3.39126, 5e-6));
    CHECK(within(raising_torque(screw, load) / lbf_in, 1814.4, 1e-3));
    CHECK(within(lowering_torque(screw, load) / lbf_in, 795.7, 1e-3));
    CHECK(within(efficiency(screw), 0.2741, 1e-3));
}

TEST_CASE("1.5, 1.6 ISO trapezoidal screws [own arithmetic, REFERENCE 1]") {
    struct Row {
        const char* id;
        PowerScrew screw;
        double mean_mm, raise_Nm, lower_Nm, efficiency;
    };
    const Row rows[] = {
        {"1.5 Tr 32x6", trapezoidal_screw(32, 6, 1, 0.12), 29, 55.5809, 16.7916, 0.343618},
        {"1.5 as square", square_screw(32, 6, 1, 0.12), 29, 54.3279, 15.5783, 0.351543},
        {"1.6 Tr 20x4", trapezoidal_screw(20, 4, 1, 0.15), 18, 41.1367, 15.0547, 0.309514},
    };
    for (const Row& row : rows) {
        CAPTURE(row.id);
        CHECK(row.screw.mean_diameter_mm == row.mean_mm);
        CHECK(near(raising_torque(row.screw, 20000) / 1000, row.raise_Nm, 5e-5));
        CHECK(near(lowering_torque(row.screw, 20000) / 1000, row.lower_Nm, 5e-5));
        CHECK(near(efficiency(row.screw), row.efficiency, 5e-7));
    }
}

TEST_CASE("1.7 square thread, mean 2 in, 2 threads an inch [statics text, screw-thread chapter, print 2840]") {
    PowerScrew screw = square_screw(2.25 * kMmPerInch, 0.5 * kMmPerInch, 1, 0.2);
    CHECK(within(screw.mean_diameter_mm, 2 * kMmPerInch, 1e-12));
    const double lbf_in = raising_torque(screw, 10000 * kNPerPoundForce) / (kNPerPoundForce * kMmPerInch);
    CHECK(within(lbf_in, 2841.0, 5e-4));
}

TEST_CASE("energy: work in times efficiency is work out, and friction takes the rest both ways") {
    const PowerScrew screw = shigley();
    const double load = 6400;
    const double work_out = load * screw.lead_mm();
    CHECK(within(2 * kPi * raising_torque(screw, load) * efficiency(screw), work_out, 1e-12));
    PowerScrew slippery = screw;
    slippery.thread_friction = slippery.collar_friction = 0;
    CHECK(within(efficiency(slippery), 1.0, 1e-12));
    CHECK(within(2 * kPi * raising_torque(slippery, load), work_out, 1e-12));
    CHECK(within(lowering_torque(slippery, load), -raising_torque(slippery, load), 1e-12));
}

TEST_CASE("so much friction on so steep a thread that it jams is told as infinite, not as a torque below 0") {
    const PowerScrew steep = square_screw(20, 10, 6, 0.9);
    CHECK(std::isinf(raising_torque(steep, 100)));
    CHECK(efficiency(steep) == 0);
}
