#include "viewer/ui/free_place.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

using namespace evenclose;

namespace {

const Rect kPicture{100, 50, 800, 600};

bool same(const Rect& a, const Rect& b) {
    return a.x == b.x && a.y == b.y && a.width == b.width && a.height == b.height;
}

} // namespace

TEST_CASE("free place: where nothing is in the way a slip stays, outside the picture it is moved in") {
    CHECK(same(free_place({300, 200, 90, 30}, kPicture, {}, 4), {300, 200, 90, 30}));
    CHECK(same(free_place({850, 40, 90, 30}, kPicture, {}, 4), {810, 50, 90, 30}));
    CHECK(same(free_place({300, 200, 90, 30}, kPicture, {{500, 500, 50, 50}}, 4), {300, 200, 90, 30}));
}

TEST_CASE("free place: aside by the shortest way, the gap kept") {
    // 12 deep into the lower edge of a row of buttons at the top: down by 12 and the gap.
    CHECK(same(free_place({300, 66, 90, 30}, kPicture, {{108, 50, 400, 28}}, 4), {300, 82, 90, 30}));
    // 10 deep into its right end: aside.
    CHECK(same(free_place({498, 50, 90, 30}, kPicture, {{108, 50, 400, 28}}, 4), {512, 50, 90, 30}));
    // Below the row there is another slip: on to the side of both, or below both, whichever is nearer.
    const std::vector<Rect> two{{108, 50, 400, 28}, {108, 82, 400, 200}};
    CHECK(same(free_place({300, 60, 90, 30}, kPicture, two, 4), {512, 60, 90, 30}));
}

TEST_CASE("free place: without room it stays where it was wanted") {
    CHECK(same(free_place({300, 60, 90, 30}, kPicture, {kPicture}, 4), {300, 60, 90, 30}));
}

TEST_CASE("free place: among random slips none is covered where a place is to be had on a fine raster") {
    std::mt19937 random(20261201);
    std::uniform_real_distribution<float> x(100, 800);
    std::uniform_real_distribution<float> y(50, 560);
    std::uniform_real_distribution<float> size(20, 300);
    int found = 0;
    for (int run = 0; run < 300; ++run) {
        std::vector<Rect> taken;
        for (int i = 0; i < 8; ++i) {
            taken.push_back({x(random), y(random), size(random), 0.5F * size(random)});
        }
        const Rect wanted{x(random), y(random), 90, 30};
        const Rect place = free_place(wanted, kPicture, taken, 4);
        const auto free = [&](const Rect& rect) {
            return std::none_of(taken.begin(), taken.end(), [&](const Rect& other) { return overlap(rect, other); });
        };
        bool any = false;
        for (float left = 104; !any && left + 94 < 900; left += 3) {
            for (float top = 54; !any && top + 34 < 650; top += 3) {
                any = free({left - 4, top - 4, 98, 38});
            }
        }
        if (any) {
            ++found;
            CHECK(free(place));
        }
        CHECK(place.x >= 100.0F);
        CHECK(place.right() <= 900.01F);
    }
    CHECK(found > 200);
}
