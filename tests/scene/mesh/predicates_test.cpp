#include "scene/mesh/predicates.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

using namespace evenclose;

namespace {

__extension__ typedef __int128 Wide; // 128 bits: no standard name

int sign(Wide value) { return value > 0 ? 1 : value < 0 ? -1 : 0; }

} // namespace

// Truth from outside: integer arithmetic of 128 bits, exact for whole-numbered corners of this size.
TEST_CASE("orientation has the sign of the exact integer determinant") {
    std::mt19937_64 random(4711);
    int zeros = 0;
    for (int trial = 0; trial < 200'000; ++trial) {
        const int bits = static_cast<int>(trial % 50) + 2;
        const auto draw = [&] { return static_cast<long long>(random() >> (64 - bits)) - (1LL << (bits - 1)); };
        long long p[6];
        for (long long& value : p) {
            value = draw();
        }
        if (trial % 3 == 0) { // nearly in line: c = a + k (b - a), off by at most one
            const long long k = static_cast<long long>(random() % 5) - 2;
            p[4] = p[0] + k * (p[2] - p[0]) + static_cast<long long>(random() % 3) - 1;
            p[5] = p[1] + k * (p[3] - p[1]);
        }
        const Wide exact = Wide(p[0] - p[4]) * (p[3] - p[5]) - Wide(p[1] - p[5]) * (p[2] - p[4]);
        const auto at = [&](int i) { return Vec2{static_cast<double>(p[i]), static_cast<double>(p[i + 1])}; };
        CAPTURE(trial);
        REQUIRE(orientation(at(0), at(2), at(4)) == sign(exact));
        zeros += exact == 0 ? 1 : 0;
    }
    CHECK(zeros > 1000); // the hard case did occur
}

TEST_CASE("side_of_plane has the sign of the exact integer determinant") {
    std::mt19937_64 random(4712);
    int zeros = 0, off_by_one = 0;
    for (int trial = 0; trial < 200'000; ++trial) {
        const int bits = static_cast<int>(trial % 34) + 2;
        const auto draw = [&] { return static_cast<long long>(random() >> (64 - bits)) - (1LL << (bits - 1)); };
        long long p[4][3];
        for (auto& point : p) {
            for (long long& value : point) {
                value = draw();
            }
        }
        if (trial % 2 == 0) { // in the plane, or one unit off it
            const long long j = static_cast<long long>(random() % 5) - 2, k = static_cast<long long>(random() % 5) - 2;
            for (int axis = 0; axis < 3; ++axis) {
                p[3][axis] = p[0][axis] + j * (p[1][axis] - p[0][axis]) + k * (p[2][axis] - p[0][axis]);
            }
            if (trial % 4 == 0) {
                p[3][2] += 1;
                ++off_by_one;
            }
        }
        const auto u = [&](int row, int axis) { return Wide(p[row][axis] - p[3][axis]); };
        const Wide determinant = u(0, 0) * (u(1, 1) * u(2, 2) - u(1, 2) * u(2, 1)) -
                                 u(0, 1) * (u(1, 0) * u(2, 2) - u(1, 2) * u(2, 0)) +
                                 u(0, 2) * (u(1, 0) * u(2, 1) - u(1, 1) * u(2, 0));
        const auto at = [&](int i) {
            return Vec3{static_cast<double>(p[i][0]), static_cast<double>(p[i][1]), static_cast<double>(p[i][2])};
        };
        CAPTURE(trial);
        REQUIRE(side_of_plane(at(0), at(1), at(2), at(3)) == -sign(determinant));
        zeros += determinant == 0 ? 1 : 0;
    }
    CHECK(zeros > 10'000);
    CHECK(off_by_one > 10'000);
}

TEST_CASE("side_of_plane: above is where the corners turn counter-clockwise") {
    const Vec3 a{0, 0, 0}, b{1, 0, 0}, c{0, 1, 0};
    CHECK(side_of_plane(a, b, c, {0.2, 0.2, 1e-300}) == 1);
    CHECK(side_of_plane(a, b, c, {0.2, 0.2, -5}) == -1);
    CHECK(side_of_plane(a, b, c, {7, -3, 0}) == 0);
    // 0.1 + 0.2 is not 0.3 in doubles: exactly one place apart, and seen.
    CHECK(side_of_plane({0, 0, 0.3}, {1, 0, 0.3}, {0, 1, 0.3}, {5, 5, 0.1 + 0.2}) == 1);
}
