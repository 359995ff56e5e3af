// Contact that is said to last is held against the triangles' distance at many moments, corners straying.
#include "checks/clearance/lasting_contact.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <cstddef>
#include <random>

namespace evenclose {
namespace {

TEST_CASE("a contact said to last is there at every moment, however the corners stray") {
    std::mt19937 random(20'260'411);
    const auto uniform = [&](double from, double to) {
        return from + (to - from) * std::uniform_real_distribution<double>(0, 1)(random);
    };
    const auto vector = [&](double size) {
        return Vec3{uniform(-size, size), uniform(-size, size), uniform(-size, size)};
    };
    int lasting = 0;
    int touched_at_both_ends_only = 0;
    for (int trial = 0; trial < 20'000; ++trial) {
        Triangle a;
        Triangle b;
        Triangle a_end;
        Triangle b_end;
        const double far = uniform(0, 6);
        const Vec3 shift = vector(far);
        for (std::size_t i = 0; i < 3; ++i) {
            a[i] = vector(10);
            b[i] = vector(10);
            a_end[i] = a[i] + shift + vector(0.3 * far); // not rigid, which it need not be
            b_end[i] = b[i] + vector(0.3 * far);
        }
        const double stray = trial % 2 == 0 ? 0 : 0.05;
        const bool lasts = contact_lasts(a, a_end, b, b_end, stray);
        lasting += lasts ? 1 : 0;
        bool always = true;
        for (int moment = 0; moment <= 16; ++moment) {
            const double share = moment / 16.0;
            Triangle a_now;
            Triangle b_now;
            for (std::size_t i = 0; i < 3; ++i) {
                a_now[i] = a[i] + share * (a_end[i] - a[i]) + stray * glm::normalize(vector(1));
                b_now[i] = b[i] + share * (b_end[i] - b[i]) + stray * glm::normalize(vector(1));
            }
            always = always && nearest_points(a_now, b_now).distance == 0;
        }
        if (lasts) {
            REQUIRE(always);
        }
        touched_at_both_ends_only +=
            !always && nearest_points(a, b).distance == 0 && nearest_points(a_end, b_end).distance == 0 ? 1 : 0;
    }
    CHECK(lasting > 1000);
    CHECK(touched_at_both_ends_only > 10); // what looking at the ends alone would have got wrong
}

TEST_CASE("a contact that ends on the way, or is a mere touch, is not said to last") {
    const Triangle flat{Vec3{-10, -10, 0}, Vec3{10, -10, 0}, Vec3{0, 15, 0}};
    const Triangle spike{Vec3{0, 0, -1}, Vec3{0, 1, 5}, Vec3{1, 0, 5}};
    const auto moved = [](Triangle t, const Vec3& by) {
        for (Vec3& corner : t) {
            corner += by;
        }
        return t;
    };
    CHECK(contact_lasts(spike, spike, flat, flat, 0));
    CHECK(contact_lasts(spike, moved(spike, {0, 0, 0.9}), flat, flat, 0));
    CHECK_FALSE(contact_lasts(spike, moved(spike, {0, 0, 0.9}), flat, flat, 0.2));
    CHECK_FALSE(contact_lasts(spike, moved(spike, {0, 0, 1.1}), flat, flat, 0));
    CHECK_FALSE(contact_lasts(moved(spike, {0, 0, 1}), moved(spike, {0, 0, 1}), flat, flat, 0)); // its tip on the face
    CHECK_FALSE(contact_lasts(spike, moved(spike, {40, 0, 0}), flat, flat, 0));
}

} // namespace
} // namespace evenclose
