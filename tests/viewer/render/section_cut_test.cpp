// Sections along an axis: how they are written, which side they take away, where their outline stands.
#include "viewer/render/section_cut.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <string>
#include <vector>

using namespace evenclose;
using namespace evenclose::test;

TEST_CASE("a section is written as an axis and a length, in whatever unit, what is none says what would be") {
    struct Row {
        const char* text;
        Axis axis;
        double at_mm;
    };
    for (const Row& row :
         {Row{"x=120", Axis::x, 120}, Row{"Y = -40 mm", Axis::y, -40}, Row{"z=31 1/2 in", Axis::z, 800.1},
          Row{" z =2' 8\"", Axis::z, 812.8}, Row{"x=0", Axis::x, 0}}) {
        CAPTURE(row.text);
        const Read<SectionCut> read = read_section(row.text);
        REQUIRE(std::holds_alternative<SectionCut>(read));
        CHECK(std::get<SectionCut>(read).axis == row.axis);
        CHECK(near(std::get<SectionCut>(read).at_mm, row.at_mm, 1e-9));
        CHECK(!std::get<SectionCut>(read).flipped);
    }
    for (const char* text : {"", "120", "x", "x=", "w=3", "x=12 elephants", "xy=3", "x=nan", "x=1e999", "=3"}) {
        CAPTURE(text);
        const Read<SectionCut> read = read_section(text);
        REQUIRE(std::holds_alternative<Unreadable>(read));
        CHECK(std::get<Unreadable>(read).why.find("x=120") != std::string::npos);
    }
}

TEST_CASE("a section takes away the side to the right, in front, above, flipped the other one") {
    struct Row {
        Axis axis;
        Vec3 taken; // a place that is taken away, from the plane
    };
    for (const Row& row : {Row{Axis::x, {1, 0, 0}}, Row{Axis::y, {0, -1, 0}}, Row{Axis::z, {0, 0, 1}}}) {
        for (const bool flipped : {false, true}) {
            const SectionPlane plane = plane_of({row.axis, 70, flipped});
            CHECK(of(plane.through_mm, row.axis) == 70);
            CHECK(glm::dot(plane.towards, row.taken) == (flipped ? -1.0 : 1.0));
            // Its faces are seen from the side that is taken away only.
            Camera camera;
            camera.target_mm = {0, 0, 0};
            camera.eye_mm = 1000.0 * row.taken;
            CHECK(seen_from({row.axis, 70, flipped}, camera) == !flipped);
            camera.parallel = true;
            CHECK(seen_from({row.axis, 70, flipped}, camera) == !flipped);
        }
    }
}

TEST_CASE("a section's outline lies in its plane and goes round what it cuts") {
    Box box;
    box.add(Vec3{-500, -150, 0});
    box.add(Vec3{700, 160, 1200});
    for (const Axis axis : {Axis::x, Axis::y, Axis::z}) {
        const auto corners = section_outline({axis, 90, false}, box);
        double low[3] = {1e300, 1e300, 1e300};
        double high[3] = {-1e300, -1e300, -1e300};
        for (std::size_t i = 0; i < corners.size(); ++i) {
            CHECK(of(corners[i], axis) == 90);
            const Vec3 side = corners[(i + 1) % 4] - corners[i];
            CHECK(std::count(&side[0], &side[0] + 3, 0.0) == 2); // each side runs along an axis: no diagonal among them
            for (int k = 0; k < 3; ++k) {
                low[k] = std::min(low[k], corners[i][k]);
                high[k] = std::max(high[k], corners[i][k]);
            }
        }
        for (int k = 0; k < 3; ++k) {
            if (k != static_cast<int>(axis)) {
                CHECK(low[k] < box.low_mm[k]);
                CHECK(high[k] > box.high_mm[k]);
            }
        }
    }
}
