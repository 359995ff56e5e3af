// Labels beside what they name: none over another, none over what is taken, leaders in the order of what they name.
#include "viewer/ui/label_places.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <set>

using namespace evenclose;

namespace {

bool overlap(const Rect& a, const Rect& b) {
    return a.x < b.right() - 1e-3F && b.x < a.right() - 1e-3F && a.y < b.bottom() - 1e-3F && b.y < a.bottom() - 1e-3F;
}

} // namespace

TEST_CASE("labels never overlap each other, what is taken, or the picture's rim, 400 random pictures") {
    std::mt19937 random(2031);
    const auto between = [&](float low, float high) {
        return std::uniform_real_distribution<float>(low, high)(random);
    };
    std::size_t placed_all = 0;
    std::size_t left_out = 0;
    for (int trial = 0; trial < 400; ++trial) {
        LabelRoom room;
        room.picture = {between(0, 300), between(0, 200), between(200, 1600), between(120, 1300)};
        room.height = between(14, 50);
        room.gap = between(1, 8);
        room.most_width = 0.36F * room.picture.width;
        for (int i = static_cast<int>(between(0, 6)); i > 0; --i) {
            room.taken.push_back({between(room.picture.x, room.picture.right()),
                                  between(room.picture.y, room.picture.bottom()), between(10, 400), between(10, 200)});
        }
        std::vector<WantedLabel> wanted(static_cast<std::size_t>(between(0, 60)));
        for (WantedLabel& label : wanted) {
            // Some crowd at one place, as bolts on a plate do.
            label = {trial % 3 == 0 ? room.picture.middle_x() : between(room.picture.x, room.picture.right()),
                     trial % 5 == 0 ? room.picture.middle_y() : between(room.picture.y, room.picture.bottom()),
                     between(20, 260), between(0, 1)};
        }
        const auto placed = place_labels(wanted, room);
        CAPTURE(trial);
        std::set<std::size_t> once;
        for (std::size_t i = 0; i < placed.size(); ++i) {
            const Rect& a = placed[i].rect;
            CHECK(once.insert(placed[i].label).second);
            CHECK(a.x >= room.picture.x);
            CHECK(a.right() <= room.picture.right() + 0.01F);
            CHECK(a.y >= room.picture.y);
            CHECK(a.bottom() <= room.picture.bottom() + 0.01F);
            for (std::size_t j = i + 1; j < placed.size(); ++j) {
                CHECK(!overlap(a, placed[j].rect));
                if (placed[i].left == placed[j].left) { // as what they name, from above
                    const float by = wanted[placed[i].label].y - wanted[placed[j].label].y;
                    CHECK((by == 0 || (by < 0) == (a.y < placed[j].rect.y)));
                }
            }
            for (const Rect& taken : room.taken) {
                CHECK(!overlap(a, taken));
            }
        }
        placed_all += placed.size();
        left_out += wanted.size() - placed.size();
    }
    CHECK(placed_all > 4'000); // not by leaving all of them out
    CHECK(left_out > 0);
}

TEST_CASE("with room for all, each label is level with its body, on the nearer side") {
    LabelRoom room;
    room.picture = {0, 0, 800, 600};
    room.height = 20;
    room.gap = 4;
    const auto placed = place_labels({{100, 100, 80, 1}, {700, 104, 80, 1}, {120, 500, 60, 1}}, room);
    REQUIRE(placed.size() == 3);
    CHECK(placed[0].left);
    CHECK(!placed[1].left);
    CHECK(placed[2].left);
    CHECK(placed[1].rect.right() == 800 - room.margin); // flush with its side
    const float heights[] = {100, 104, 500};
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(std::abs(placed[i].rect.middle_y() - heights[i]) <= 0.5F * (room.height + room.gap) + 0.01F);
    }
}

TEST_CASE("without room for all, the least important go") {
    LabelRoom room;
    room.picture = {0, 0, 400, 100};
    room.height = 20;
    room.gap = 4;
    std::vector<WantedLabel> wanted;
    for (int i = 0; i < 20; ++i) {
        wanted.push_back({150, 5.0F * static_cast<float>(i), 60, static_cast<float>(i)});
    }
    const auto placed = place_labels(wanted, room);
    REQUIRE(placed.size() == 6); // three rows of 24 on each side in 84
    for (const PlacedLabel& label : placed) {
        CHECK(label.label >= 14);
    }
    CHECK(place_labels({}, room).empty());
    room.picture = {0, 0, 60, 100}; // narrower than two labels
    CHECK(place_labels(wanted, room).empty());
}
