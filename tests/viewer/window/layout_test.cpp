#include "viewer/ui/layout.hpp"

#include "tests/within.hpp"
#include "viewer/app/rail_scale.hpp"

#include <doctest/doctest.h>

#include <array>
#include <limits>

using namespace evenclose;
using test::near;

TEST_CASE("panels fill the window without a gap or an overlap, whatever its size") {
    for (const float width : {640.0F, 1080.0F, 1280.0F, 1919.0F, 2560.0F, 5120.0F}) {
        for (const float height : {400.0F, 640.0F, 800.0F, 1081.0F, 1440.0F, 2880.0F}) {
            for (const float display : {1.0F, 1.25F, 2.0F, 3.0F}) {
                CAPTURE(width);
                CAPTURE(height);
                CAPTURE(display);
                const float scale = fitting_scale(width, height, display);
                CHECK(scale <= display);
                const Layout l = layout_for(width, height, scale);
                double area = 0;
                for (const Rect& r : {l.header, l.bench, l.picture, l.rail, l.ledger}) {
                    CHECK(r.x >= 0);
                    CHECK(r.y >= 0);
                    CHECK(r.right() <= width + 0.01F);
                    CHECK(r.bottom() <= height + 0.01F);
                    area += static_cast<double>(r.width) * r.height;
                }
                CHECK(near(area, static_cast<double>(width) * height, 1.0));
                CHECK(l.picture.width > 0.2F * width);
                CHECK(l.rail.height == l.picture.height);
            }
        }
    }
}

TEST_CASE("the scale is the display's where there is room, less where there is not, never below half") {
    CHECK(fitting_scale(2560, 1440, 2.0F) == 2.0F);
    CHECK(fitting_scale(3840, 2160, 3.0F) == 3.0F);
    CHECK(fitting_scale(1280, 800, 1.0F) == 1.0F);
    CHECK(fitting_scale(1280, 800, 2.0F) == 1.125F);
    CHECK(fitting_scale(300, 200, 3.0F) == 0.5F);
}

TEST_CASE(
    "height on the rail and travel are each other's inverse, the rail reaches the end of stroke and a near closed") {
    Assembly assembly;
    assembly.end_of_stroke = {180.0};
    assembly.closed = {110.0};
    assembly.last = {110.0};
    CHECK(rail_top(assembly).mm == 180.0);
    assembly.closed = {200.0}; // out of reach, but not far
    CHECK(rail_top(assembly).mm == 200.0);
    assembly.closed = {900.0};
    CHECK(rail_top(assembly).mm == 180.0);
    assembly.closed = {std::numeric_limits<double>::infinity()};
    CHECK(rail_top(assembly).mm == 180.0);
    assembly.end_of_stroke = assembly.last = {0.0};
    CHECK(rail_top(assembly).mm > 0.0);

    const RailScale scale{{180.0}, 500.0F, 140.0F};
    CHECK(scale.y_of({0.0}) == 500.0F);
    CHECK(scale.y_of({180.0}) == 140.0F);
    for (const double mm : {0.0, 1.0, 77.3, 180.0}) {
        CHECK(near(scale.travel_at(scale.y_of({mm})).mm, mm, 1e-4));
    }
}
