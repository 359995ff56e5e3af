// Joints of print pieces against the tightest radius of the forming face. Places are worked out by hand.
#include "checks/print/near_joint.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <functional>

using namespace evenclose;
using test::near;
using test::within;

namespace {

/// A face of 700 x 100 looked at every 10 mm, bent along the deck to the radius that `radius_mm` gives at each X.
BentFace bent(const std::function<double(double x_mm)>& radius_mm) {
    BentFace face;
    for (double x = -345; x < 350; x += 10) {
        for (double y = -45; y < 50; y += 10) {
            BendSample sample;
            sample.at_mm = {x, y, 80};
            sample.face.known = true;
            sample.face.normal = {0, 0, 1};
            sample.face.first = {1, 0, 0};
            sample.face.greatest = radius_mm(x) > 0 ? 1 / radius_mm(x) : 0;
            face.samples.push_back(sample);
        }
    }
    return face;
}

const Box kHalf{{-350, -50, 0}, {350, 50, 80}};

std::optional<NearJoint> nearest(const BentFace& face, double room_mm) {
    return nearest_joint(face, kHalf, pieces_of(kHalf.size_mm(), {room_mm, 210, 90}));
}

} // namespace

TEST_CASE("a joint beside the tightest radius is told with its distance, and how far to shift it") {
    // 700 in pieces of 250: joints at -116.67 and 116.67. Tightest at 115 alone.
    const BentFace face = bent([](double x) { return std::abs(x - 115) < 1 ? 80 : 400; });
    const auto joint = nearest(face, 250);
    REQUIRE(joint);
    CHECK(joint->axis == 0);
    CHECK(within(joint->at_mm, 350.0 / 3, 1e-12));
    CHECK(within(joint->off_mm, 350.0 / 3 - 115, 1e-9));
    CHECK(within(joint->radius_mm, 80, 1e-12));
    CHECK(joint->tight_mm.x == 115);
    CHECK(joint->too_near());
    // To stand at 130 it moves by 13.33, told to half a millimetre; the other way 100 asks for 16.67 of 16.67 there are.
    REQUIRE(joint->shift_mm);
    CHECK(*joint->shift_mm == 13.5);
    CHECK_FALSE(joint->count);

    // The same mirrored: the other way.
    const auto mirrored = nearest(bent([](double x) { return std::abs(x + 115) < 1 ? 80 : 400; }), 250);
    REQUIRE(mirrored);
    REQUIRE(mirrored->shift_mm);
    CHECK(*mirrored->shift_mm == -13.5);

    // A printer with no room to spare: one piece more has its joints at -175, 0 and 175.
    const auto tight = nearest(face, 234);
    REQUIRE(tight);
    CHECK_FALSE(tight->shift_mm);
    CHECK(tight->count == 4);
}

TEST_CASE("a shift keeps every joint off, not the nearest alone") {
    // Two tight places: 115, and 15 beyond where the left joint would come by +13.5.
    const auto joint =
        nearest(bent([](double x) { return std::abs(x - 115) < 1 || std::abs(x + 95) < 1 ? 80 : 400; }), 260);
    REQUIRE(joint);
    REQUIRE(joint->shift_mm);
    for (const double at : {-350.0 / 3 + *joint->shift_mm, 350.0 / 3 + *joint->shift_mm}) {
        CHECK(std::abs(at - 115) >= kOffTightest_mm);
        CHECK(std::abs(at + 95) >= kOffTightest_mm);
    }
    CHECK(near(*joint->shift_mm, -17, 1e-12)); // to 99.67 and -133.67
}

TEST_CASE("no joint, a flat face, a face bent alike all over") {
    const auto some = [](double x) { return std::abs(x) < 6 ? 80.0 : 400.0; };
    CHECK_FALSE(nearest(bent(some), 700));                       // one piece
    CHECK_FALSE(nearest(bent([](double) { return 0.0; }), 250)); // flat
    const auto far = nearest(bent(some), 250);
    REQUIRE(far);
    CHECK(within(far->off_mm, 350.0 / 3 - 5, 1e-9));
    CHECK_FALSE(far->too_near());
    CHECK_FALSE(far->shift_mm);
    const auto round = nearest(bent([](double) { return 300.0; }), 250);
    REQUIRE(round);
    CHECK(round->all_over);
    CHECK_FALSE(round->too_near());
    CHECK(within(round->radius_mm, 300, 1e-12));
}
