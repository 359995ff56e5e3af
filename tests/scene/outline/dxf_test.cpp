// Areas are closed forms. Group codes: the published "DXF Reference". A full circle as a quadratic NURBS of nine points:
// L. Piegl & W. Tiller, The NURBS Book, 1997, sec. 7.5.
#include "scene/outline/dxf.hpp"

#include "tests/scene/outline/drawings.hpp"
#include "tests/scene/outline/outlines.hpp"
#include "tests/scene/outline/wounded.hpp"
#include "tests/within.hpp"

#include <algorithm>
#include <numbers>
#include <random>

using namespace evenclose;
using namespace evenclose::test;
using std::numbers::pi;

namespace {

DrawingResult read(const std::string& entities) { return read_dxf(dxf(entities), {kFine}); }

std::string rounded(double x, double y, double r) {
    const double b = std::tan(pi / 8); // a quarter circle: tan of a quarter of 90 degrees
    return entity("LWPOLYLINE", {{90, 8}, {70, 1}, {10, r},     {20, 0}, {10, x - r}, {20, 0}, {42, b}, {10, x},
                                 {20, r}, {10, x}, {20, y - r}, {42, b}, {10, x - r}, {20, y}, {10, r}, {20, y},
                                 {42, b}, {10, 0}, {20, y - r}, {10, 0}, {20, r},     {42, b}});
}

double lowest(const OutermostLine& line) {
    return std::min_element(line.places.begin(), line.places.end(), [](Vec2 a, Vec2 b) { return a.y < b.y; })->y;
}

} // namespace

TEST_CASE("DXF: closed forms of what encloses by itself") {
    check_area(outermost(read(entity("CIRCLE", {{10, 30}, {20, -7}, {40, 100}}))), pi * 1e4);
    check_area(outermost(read(rounded(800, 220, 40))), 800 * 220 - (4 - pi) * 1600);
    check_area(outermost(read(entity("ELLIPSE", {{10, 1}, {20, 2}, {11, 120}, {21, 160}, {40, 0.4}}))), pi * 200 * 80);
    // A bulge of 1 is a half circle, counter-clockwise from its corner: below the chord that runs to +X.
    const std::string half = entity("LWPOLYLINE", {{90, 2}, {70, 1}, {10, 0}, {20, 0}, {42, 1}, {10, 100}, {20, 0}});
    check_area(outermost(read(half)), pi * 2500 / 2);
    CHECK(near(lowest(outermost(read(half))), -50, 0.01));
    const std::string other = entity("LWPOLYLINE", {{90, 2}, {70, 1}, {10, 0}, {20, 0}, {42, -1}, {10, 100}, {20, 0}});
    CHECK(near(lowest(outermost(read(other))), 0, 1e-9));
    // A bulge of 2 is more than half a circle: 4 atan 2 = 253.74 degrees over a chord of 80, r = 80 (1 + 4) / (4 * 2).
    const double r = 50, sweep = 4 * std::atan(2.0);
    check_area(outermost(read(entity("LWPOLYLINE", {{70, 1}, {10, 0}, {20, 0}, {42, 2}, {10, 80}, {20, 0}}))),
               r * r * (sweep - std::sin(sweep)) / 2);
}

TEST_CASE("DXF: corners lie on the circle, chords at most the deviation within it, and not needlessly many") {
    for (const double r : {1.0, 40.0, 900.0}) {
        CAPTURE(r);
        const OutermostLine line = outermost(read(entity("CIRCLE", {{10, 5}, {20, 6}, {40, r}})));
        for (std::size_t i = 0; i < line.places.size(); ++i) {
            const Vec2 next = line.places[(i + 1) % line.places.size()];
            CHECK(within(glm::length(line.places[i] - Vec2{5, 6}), r, 1e-12));
            CHECK(glm::length(0.5 * (line.places[i] + next) - Vec2{5, 6}) >= r - kFine - 1e-9);
        }
        CHECK(static_cast<double>(line.places.size()) <= pi / std::acos(1 - kFine / r) + 4);
    }
}

TEST_CASE("DXF: lines and arcs in any order and direction make one outline") {
    // A stadium 300 x 100 with round ends; the second straight is drawn the wrong way, ends off by what CAD rounds.
    const std::vector<std::string> parts{dxf_line(0, 0, 300, 0.00002), dxf_line(300, 100, 0, 100.01),
                                         entity("ARC", {{10, 300}, {20, 50}, {40, 50}, {50, 270}, {51, 90}}),
                                         entity("ARC", {{10, 0}, {20, 50}, {40, 50}, {50, 90}, {51, 270}})};
    for (const auto& order : {std::vector{0, 1, 2, 3}, std::vector{3, 1, 0, 2}, std::vector{2, 0, 1, 3}}) {
        std::string text;
        for (const int part : order) {
            text += parts[static_cast<std::size_t>(part)];
        }
        const OutermostLine line = outermost(read(text));
        CHECK(std::abs(area(line.places) - (300 * 100 + pi * 2500)) < 0.02 * perimeter(line.places));
        CHECK(line.open == 0);
    }
    // Drawn twice, as happens: once backward.
    const OutermostLine twice = outermost(read(parts[0] + parts[1] + parts[2] + parts[3] + dxf_line(300, 0, 0, 0)));
    CHECK(within(area(twice.places), 300 * 100 + pi * 2500, 1e-3));
    // Half an ellipse over a straight, and an old POLYLINE with its vertices.
    const OutermostLine half =
        outermost(read(entity("ELLIPSE", {{10, 0}, {20, 0}, {11, 100}, {21, 0}, {40, 0.5}, {41, 0}, {42, pi}}) +
                       dxf_line(-100, 0, 100, 0)));
    check_area(half, pi * 100 * 50 / 2);
    const OutermostLine old =
        outermost(read(entity("POLYLINE", {{66, 1}, {70, 1}}) + entity("VERTEX", {{10, 0}, {20, 0}}) +
                       entity("VERTEX", {{10, 200}, {20, 0}, {42, 1}}) + entity("VERTEX", {{10, 200}, {20, 100}}) +
                       entity("VERTEX", {{10, 99}, {20, 999}, {70, 16}}) + // the frame of a spline: not on the line
                       entity("VERTEX", {{10, 0}, {20, 100}}) + entity("SEQEND", {})));
    check_area(old, 200 * 100 + pi * 2500 / 2);
}

TEST_CASE("DXF: a circle as a NURBS, and a plain spline that is a parabola") {
    const double w = std::numbers::sqrt2 / 2;
    Pairs circle{{70, 1}, {71, 2}};
    for (const double knot : {0., 0., 0., 1., 1., 2., 2., 3., 3., 4., 4., 4.}) {
        circle.emplace_back(40, knot);
    }
    const double corners[9][3] = {{100, 0, 1},     {100, 100, w}, {0, 100, 1},    {-100, 100, w}, {-100, 0, 1},
                                  {-100, -100, w}, {0, -100, 1},  {100, -100, w}, {100, 0, 1}};
    for (const auto& corner : corners) {
        circle.insert(circle.end(), {{10, corner[0]}, {20, corner[1]}, {41, corner[2]}});
    }
    const OutermostLine line = outermost(read(entity("SPLINE", circle)));
    check_area(line, pi * 1e4);
    for (const Vec2& place : line.places) {
        CHECK(within(glm::length(place), 100, 1e-12));
    }
    // The parabola of three control points over a base of 100, 50 high: two thirds of the rectangle.
    const std::string parabola = entity("SPLINE", {{71, 2},
                                                   {40, 0},
                                                   {40, 0},
                                                   {40, 0},
                                                   {40, 1},
                                                   {40, 1},
                                                   {40, 1},
                                                   {10, 0},
                                                   {20, 0},
                                                   {10, 50},
                                                   {20, 100},
                                                   {10, 100},
                                                   {20, 0}});
    check_area(outermost(read(parabola + dxf_line(0, 0, 100, 0))), 2.0 / 3 * 100 * 50);
}

TEST_CASE("DXF: drawn on the back of the plan, X runs the other way") {
    const OutermostLine line = outermost(read(entity(
        "LWPOLYLINE", {{70, 1}, {210, 0}, {220, 0}, {230, -1}, {10, 10}, {20, 0}, {42, 1}, {10, 110}, {20, 0}})));
    check_area(line, pi * 2500 / 2);
    for (const Vec2& place : line.places) {
        CHECK(place.x <= -10 + 1e-9);
        CHECK(place.y <= 1e-9); // below it stays below
    }
    CHECK(why_not(read(entity("CIRCLE", {{10, 0}, {20, 0}, {40, 5}, {210, 1}, {230, 0}}))) ==
          "line 16: a CIRCLE that is tilted out of the plan; draw the outline in the XY plane");
}

TEST_CASE("DXF: the outermost of several closed lines, and a clear word where there is none") {
    const std::string holes = entity("CIRCLE", {{10, 100}, {20, 100}, {40, 5}}) +
                              entity("CIRCLE", {{10, 700}, {20, 100}, {40, 6}}) + dxf_line(-50, 110, 850, 110) +
                              entity("TEXT", {{10, 3}});
    const OutermostLine line = outermost(read(holes + rounded(800, 220, 40)));
    check_area(line, 800 * 220 - (4 - pi) * 1600);
    CHECK(line.inside == 2);
    CHECK(line.open == 1);
    CHECK(line.line == 46);

    CHECK(why_not(read(holes)) == "holds closed lines beside each other: 12 x 12 (line 24) and 10 x 10 (line 16); "
                                  "leave the deck's outline in it; only what lies inside it may stay");
    CHECK(why_not(read("")) == "holds no line at all; draw the deck's outline as lines");
    CHECK(why_not(read(entity("TEXT", {{10, 3}}) + entity("INSERT", {{10, 3}}))) ==
          "holds no line that could be an outline, only 1 INSERT, 1 TEXT; blocks and clones are not followed: break "
          "them up into lines");
    CHECK(why_not(read(dxf_line(0, 0, 100, 0) + dxf_line(100, 0, 100, 50) + dxf_line(3, 4, 100, 50))) ==
          "line 16: no closed line: the longest begins at (0, 0) and ends at (3, 4), 5 away; close the outline: ends "
          "may be 0.05 apart");
    CHECK(why_not(read(dxf_line(0, 0, 100, 0) + dxf_line(100, 0, 100, 50) + dxf_line(0, 0, 100, 50) +
                       dxf_line(0, 0, 200, 200))) ==
          "line 46: no closed line: 3 lines meet at (0, 0); an outline has two at each corner; take away what does not "
          "belong to it");
    // A figure of eight.
    CHECK(
        why_not(read(entity(
            "LWPOLYLINE", {{70, 1}, {10, 0}, {20, 0}, {10, 100}, {20, 100}, {10, 100}, {20, 0}, {10, 0}, {20, 50}}))) ==
        "line 16: the outline crosses itself at (33.3333, 33.3333); draw it once round the deck");
    // In paper space and invisible things are no outline.
    CHECK(why_not(read(entity("CIRCLE", {{67, 1}, {10, 0}, {20, 0}, {40, 5}}) +
                       entity("CIRCLE", {{60, 1}, {10, 0}, {20, 0}, {40, 5}}))) ==
          "holds no line at all; draw the deck's outline as lines");
}

TEST_CASE("DXF: units as $INSUNITS has them") {
    struct Row {
        int code;
        double mm;
    };
    // DXF Reference, header variables.
    for (const Row& row : {Row{1, 25.4}, Row{2, 304.8}, Row{4, 1}, Row{5, 10}, Row{6, 1000}, Row{9, 0.0254}}) {
        CAPTURE(row.code);
        const auto unit = unit_of_dxf(dxf("", row.code));
        REQUIRE(unit);
        CHECK(within(unit->mm, row.mm, 1e-12));
    }
    CHECK_FALSE(unit_of_dxf(dxf("", 0)));  // no unit
    CHECK_FALSE(unit_of_dxf(dxf("", 19))); // light years
    CHECK_FALSE(unit_of_dxf(dxf("", -1)));
}

TEST_CASE("DXF: one clear line for what cannot be read") {
    CHECK(why_not(read_dxf("AutoCAD Binary DXF\r\n\x1A", {})) == "is a binary DXF; save it as ASCII (text)");
    CHECK(why_not(read_dxf("", {})) == "is no DXF: it has no section; save the outline as an ASCII DXF");
    CHECK(why_not(read_dxf("  0\nSECTION\noak\n", {})) ==
          "line 3: \"oak\" where a group code should be; an ASCII DXF is pairs of lines, a whole number and its value");
    CHECK(why_not(read(entity("LINE", {{10, 0}, {20, 0}, {11, 5}}))) ==
          "line 16: a LINE without its group 21; save it anew");
    const std::string circle = dxf(entity("CIRCLE", {{10, 0}, {20, 0}, {40, 5}}));
    std::string spoiled = circle;
    spoiled.replace(spoiled.find("40\n5"), 4, "40\nnan");
    CHECK(why_not(read_dxf(spoiled, {kFine})) == "line 22: \"nan\" is no finite number; save it anew");
    spoiled = circle;
    spoiled.replace(spoiled.find("40\n5"), 4, "40\n1e9");
    CHECK(why_not(read_dxf(spoiled, {kFine})) == "line 22: \"1e9\" is farther out than any deck; draw near the origin");
    CHECK(why_not(read(entity("LWPOLYLINE", {{90, 4}, {10, 0}, {20, 0}}))) ==
          "line 16: a LWPOLYLINE that promises 4 corners and holds 1; save it anew");
    CHECK(why_not(read(entity("SPLINE", {{71, 3}, {11, 0}, {21, 0}, {11, 5}, {21, 5}}))) ==
          "line 16: a SPLINE of degree 3 with 0 control points and 0 knots; it needs as many knots as control points, "
          "degree and 1; or turn it into a polyline");
    std::string many;
    for (int i = 0; i < 50'001; ++i) {
        many += dxf_line(i, 0, i + 1, 0);
    }
    CHECK(why_not(read(many))
              .ends_with("more than 100000 corners, arcs cut into chords; leave the deck's outline in it alone"));
    // CRLF, a byte mark, blank lines after the end.
    std::string windows;
    for (const char c : circle) {
        windows += c == '\n' ? std::string("\r\n") : std::string(1, c);
    }
    check_area(outermost(read_dxf("\xEF\xBB\xBF" + windows + "\r\n\r\n", {kFine})), pi * 25);
}

TEST_CASE("DXF: cut at any byte it is refused, spoiled at random it is read or refused") {
    const std::string whole =
        dxf(rounded(80, 22, 4) + dxf_line(0, 0, 9, 9) + entity("POLYLINE", {{70, 1}}) +
            entity("VERTEX", {{10, 1}, {20, 2}, {42, 0.5}}) + entity("VERTEX", {{10, 5}, {20, 2}}) +
            entity("SEQEND", {}) + entity("ELLIPSE", {{10, 9}, {20, 9}, {11, 3}, {21, 0}, {40, 0.5}}));
    REQUIRE(std::holds_alternative<Drawing>(read_dxf(whole, {kFine})));
    for (std::size_t size = 0; size + 1 < whole.size(); ++size) { // the last byte ends the line EOF
        CAPTURE(size);
        REQUIRE(std::holds_alternative<DrawingFault>(read_dxf(whole.substr(0, size), {kFine})));
    }
    std::mt19937 random(4711);
    int read = 0;
    for (int trial = 0; trial < 3000; ++trial) {
        const std::string text = test::wounded(whole, random, 4294967295);
        CAPTURE(trial);
        const DrawingResult result = read_dxf(text, {kFine});
        if (const auto* drawing = std::get_if<Drawing>(&result)) {
            ++read;
            for (const PlanLine& line : drawing->lines) {
                REQUIRE(line.places.size() >= 1);
                for (const Vec2& place : line.places) {
                    REQUIRE(std::isfinite(place.x));
                    REQUIRE(std::isfinite(place.y));
                }
            }
            (void)outermost_line(*drawing, 0.05);
        }
        (void)unit_of_dxf(text);
    }
    CHECK(read > 300);
    CHECK(read < 2900);
}
