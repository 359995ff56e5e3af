// Areas are closed forms. Units and viewBox: SVG 2, section 8; a px is 1/96 inch (CSS values and units, 6.2).
#include "scene/outline/svg.hpp"

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

DrawingResult read(const std::string& inside, const char* page = R"(viewBox="0 0 200 100")") {
    return read_svg(svg(inside, page), {kFine});
}
std::string path(const std::string& d) { return "<path d=\"" + d + "\"/>"; }

} // namespace

TEST_CASE("SVG: closed forms of the shapes") {
    check_area(outermost(read(R"(<circle cx="50" cy="50" r="40"/>)")), pi * 1600);
    check_area(outermost(read(R"(<ellipse cx="50" cy="50" rx="40" ry="20"/>)")), pi * 800);
    check_area(outermost(read(R"(<rect x="5" y="6" width="80" height="22"/>)")), 80 * 22);
    check_area(outermost(read(R"(<rect width="80" height="22" rx="4"/>)")), 80 * 22 - (4 - pi) * 16);
    check_area(outermost(read(R"(<rect width="80" height="22" rx="4" ry="8"/>)")), 80 * 22 - (4 - pi) * 32);
    check_area(outermost(read(R"(<polygon points="0,0 30,0 30,40"/>)")), 600);
    check_area(outermost(read(R"(<polyline points="0 0 30 0 30 40 0 0"/>)")), 600); // its ends meet
    check_area(outermost(read(R"(<line x1="0" y1="0" x2="30" y2="0"/><line x1="30" x2="30" y2="40"/>)"
                              R"(<line x1="0" y1="0" x2="30" y2="40"/>)")),
               600);
}

TEST_CASE("SVG: closed forms of paths, every command") {
    // Half circles: r 50 over 100; both sweeps of one chord make a circle.
    check_area(outermost(read(path("M 0 50 A 50 50 0 0 1 100 50 Z"))), pi * 2500 / 2);
    check_area(outermost(read(path("M0 50a50 50 0 01100 0a50 50 0 01-100 0"))), pi * 2500); // flags packed
    // The large arc over a chord of 80 of r 50: the sweep is 2 pi - 2 asin 0.8.
    const double sweep = 2 * pi - 2 * std::asin(0.8);
    check_area(outermost(read(path("M0 0A50 50 0 1 0 80 0z"))), 1250 * (sweep - std::sin(sweep)));
    // An ellipse tilted by 30 degrees, as two halves: its ends at (-40, -23.094) and back.
    const double c = 80 * std::cos(pi / 6), s = 80 * std::sin(pi / 6);
    check_area(
        outermost(read(path(fmt::format("M{} {}A80 20 30 0 1 {} {}A80 20 30 0 1 {} {}z", -c, -s, c, s, -c, -s)))),
        pi * 80 * 20);
    // A radius too small is grown: a chord of 100 makes r 50 of r 1 (SVG 2, 9.5.1).
    check_area(outermost(read(path("M0 0A1 1 0 0 1 100 0z"))), pi * 2500 / 2);
    // Parabola: two thirds of base times height. Cubic with handles straight up from both ends: 0.6 b h.
    check_area(outermost(read(path("M0 0Q50 100 100 0Z"))), 2.0 / 3 * 100 * 50);
    check_area(outermost(read(path("M0 0q25 50 50 0t50 0H100V-60H0z"))), 100 * 60); // what bows in bows out again
    check_area(outermost(read(path("M0 0C0 50 100 50 100 0z"))), 0.6 * 100 * 50);
}

TEST_CASE("SVG: an open path is closed only where its ends meet") {
    CHECK(why_not(read(path("M0 0 30 0 30 40"))) ==
          "line 3: no closed line: the longest begins at (0, 100) and ends at (30, 60), 50 away; close the outline: "
          "ends may be 0.05 apart");
    check_area(outermost(read(path("M0 0 30 0 30 40 0.01 0.02"))), 600);
    check_area(outermost(read(path("M0 0 L30,0 l0,40 z"))), 600);
    check_area(outermost(read(path("M0 0 30 0 30 40Zm1 1"))), 600); // relative to where z led back
}

TEST_CASE("SVG: Y runs up from the page's lower left corner") {
    const OutermostLine line = outermost(read(path("M 10 20 H 60 V 30 L 10 80 Z"), R"(viewBox="5 -10 200 100")"));
    // (10, 20) on a page that reaches from -10 to 90 stands 70 above its foot, 5 from its left edge.
    REQUIRE(line.places.size() == 4);
    const auto holds = [&](Vec2 place) {
        return std::any_of(line.places.begin(), line.places.end(),
                           [&](Vec2 at) { return glm::length(at - place) < 1e-9; });
    };
    CHECK(holds({5, 70}));
    CHECK(holds({55, 70}));
    CHECK(holds({55, 60}));
    CHECK(holds({5, 10}));
}

TEST_CASE("SVG: transforms, in their order, and groups") {
    const double unit = pi * 100; // a circle of r 10
    const auto round = [](const char* transform) {
        return fmt::format(R"(<g transform="{}"><circle r="10"/></g>)", transform);
    };
    check_area(outermost(read(round("translate(50,50) scale(3)"))), 9 * unit);
    check_area(outermost(read(round("scale(2 3) rotate(30)"))), 6 * unit);
    check_area(outermost(read(round("matrix(2 0 1 2 7 8)"))), 4 * unit);
    check_area(outermost(read(round("skewX(30)skewY(10)"))), unit); // a shear keeps the area
    const OutermostLine moved = outermost(
        read(R"x(<g transform="translate(100)"><rect transform="rotate(90 10 10)" width="20" height="10"/></g>)x"));
    // About (10, 10) by 90 degrees clockwise as seen, (x, y) -> (20 - y, x): 10..20 by 0..20, then 100 to the right.
    for (const Vec2& place : moved.places) {
        CHECK(place.x >= 110 - 1e-9);
        CHECK(place.x <= 120 + 1e-9);
        CHECK(place.y <= 100 + 1e-9);
        CHECK(place.y >= 80 - 1e-9);
    }
    check_area(moved, 200);
}

TEST_CASE("SVG: what is hidden, defined or no line is left out") {
    const std::string inside =
        R"(<defs><rect width="999" height="999"/></defs><clipPath><circle r="99"/></clipPath>)"
        R"(<g style="opacity:1; display : none"><rect width="999" height="999"/></g>)"
        R"(<rect display="none" width="999" height="999"/><text>Deck</text><circle cx="50" cy="50" r="40"/>)";
    check_area(outermost(read(inside)), pi * 1600);
    CHECK(why_not(read("<text>Deck</text><use/>")) ==
          "holds no line that could be an outline, only 1 text, 1 use; blocks and clones are not followed: break them "
          "up into lines");
    CHECK(why_not(read("<circle cx='50' cy='50' r='4'/>\n<circle cx='90' cy='50' r='5'/>")) ==
          "holds closed lines beside each other: 10 x 10 (line 4) and 8 x 8 (line 3); leave the deck's outline in it; "
          "only what lies inside it may stay");
}

TEST_CASE("SVG: what a user unit is") {
    const auto unit = [](const char* page) { return unit_of_svg(svg("", page)); };
    CHECK(within(unit("width='210mm' height='297mm' viewBox='0 0 210 297'").mm, 1, 1e-12));
    CHECK(within(unit("width='8in' viewBox='0 0 800 400'").mm, 0.254, 1e-12));
    CHECK(within(unit("width='20cm'").mm, 25.4 / 96, 1e-12)); // without a viewBox a user unit is a px
    CHECK(within(unit("width='200mm' height='50mm' viewBox='0 0 100 50'").mm, 1, 1e-12)); // fitted in: the tighter way
    CHECK(unit("width='210mm' viewBox='0 0 210 297'").stated);
    CHECK(within(unit("width='192px' viewBox='0 0 96 96'").mm, 25.4 / 48, 1e-12));
    CHECK_FALSE(unit("width='192' viewBox='0 0 96 96'").stated);
    CHECK_FALSE(unit("viewBox='0 0 96 96'").stated);
    CHECK_FALSE(unit("width='100%'").stated);
    CHECK(within(unit("").mm, 25.4 / 96, 1e-12));
}

TEST_CASE("SVG: one clear line for what cannot be read") {
    CHECK(why_not(read(path("M0 0L30 oak"))) ==
          "line 3: <path>: \"oak\" where a number should be; save it anew, as plain SVG");
    CHECK(why_not(read("\n" + path("L30 0"))) == "line 4: <path>: a path begins with M; save it anew, as plain SVG");
    CHECK(why_not(read(path("M0 0L30"))) ==
          "line 3: <path>: it ends where a number should be; save it anew, as plain SVG");
    CHECK(why_not(read(path("M0 0A5 5 0 2 0 9 9"))) ==
          "line 3: <path>: an arc's flag is 0 or 1; save it anew, as plain SVG");
    CHECK(why_not(read(path("M0 0L1e9 0"))) ==
          "line 3: <path>: \"1e9\" is farther out than any deck; save it anew, as plain SVG");
    CHECK(why_not(read("<circle r=\"5em\"/>")) ==
          "line 3: <circle>: the unit \"em\"; read are px, mm, cm, in, pt and pc; save it anew, as plain SVG");
    CHECK(why_not(read("<g transform=\"spin(3)\"/>")) ==
          "line 3: <g>: no transform: \"spin\" with 1 numbers; save it anew, as plain SVG");
    CHECK(why_not(read("", "viewBox='0 0 0 9'")) ==
          "line 2: <svg>: a viewBox without an extent; save it anew, as plain SVG");
    CHECK(why_not(read_svg("<html/>", {})) ==
          "is no SVG: its first element is no <svg>; save the outline as plain SVG");
    CHECK(why_not(read_svg("\x1F\x8B\x08", {})) == "is a compressed SVG; save it as plain SVG");
    std::string deep;
    for (int i = 0; i < 5000; ++i) {
        deep += "<g>";
    }
    CHECK(why_not(read(deep)).find("is no sound XML") != std::string::npos);
    for (int i = 0; i < 5000; ++i) {
        deep += "</g>";
    }
    CHECK(why_not(read(deep)) == "line 3: groups nested more than 200 deep; ungroup the outline");
}

TEST_CASE("SVG: cut at any byte it is refused, spoiled at random it is read or refused") {
    const std::string whole = svg(R"x(<g transform="rotate(3) scale(2,3)">)x" +
                                  path("M0 0h30q4 5 6 7t3 4C1 2 3 4 5 6s7 8 9 9A5 6 7 0 1 9 8z") +
                                  R"(<rect x="1mm" width="9" height="8" rx="2"/></g><polygon points="0,0 9,0 9,9"/>)");
    REQUIRE(std::holds_alternative<Drawing>(read_svg(whole, {kFine})));
    for (std::size_t size = 0; size + 2 < whole.size(); ++size) {
        CAPTURE(size);
        REQUIRE(std::holds_alternative<DrawingFault>(read_svg(whole.substr(0, size), {kFine})));
    }
    std::mt19937 random(4712);
    int read = 0;
    for (int trial = 0; trial < 3000; ++trial) {
        const std::string text = test::wounded(whole, random, 1000);
        CAPTURE(trial);
        const DrawingResult result = read_svg(text, {kFine});
        if (const auto* drawing = std::get_if<Drawing>(&result)) {
            ++read;
            for (const PlanLine& line : drawing->lines) {
                for (const Vec2& place : line.places) {
                    REQUIRE(std::isfinite(place.x));
                    REQUIRE(std::isfinite(place.y));
                }
            }
            (void)outermost_line(*drawing, 0.05);
        }
        (void)unit_of_svg(text);
    }
    CHECK(read > 200);
    CHECK(read < 2900);
}
