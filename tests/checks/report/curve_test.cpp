#include "checks/report/curve.hpp"

#include "checks/report/curves_of.hpp"
#include "tests/checks/block_setup.hpp"

#include <doctest/doctest.h>
#include <pugixml.hpp>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <string>

namespace evenclose {
namespace {

pugi::xml_document parsed(const std::string& svg) {
    pugi::xml_document document;
    const pugi::xml_parse_result result = document.load_string(svg.c_str());
    CAPTURE(result.description());
    REQUIRE(result);
    return document;
}

} // namespace

TEST_CASE("scale steps are 1, 2 or 5 times a power of ten and at most as many as asked") {
    CHECK(scale_step(10, 10) == doctest::Approx(1));
    CHECK(scale_step(10.1, 10) == doctest::Approx(2));
    CHECK(scale_step(150, 10) == doctest::Approx(20));
    CHECK(scale_step(0.6, 6) == doctest::Approx(0.1));
    CHECK(scale_step(3.1e-5, 6) == doctest::Approx(1e-5));
    for (double range = 1e-6; range < 1e7; range *= 1.7) {
        CAPTURE(range);
        CHECK(range / scale_step(range, 6) <= 6 * (1 + 1e-12));
        CHECK(range / scale_step(range, 6) >= 2.3); // never so coarse that nothing can be read
    }
}

TEST_CASE("a diagram draws its points where its own numbers stand, and cuts no name") {
    Curve curve;
    curve.title = "a < b";
    curve.x_words = "travel, mm";
    curve.y_words = "distance, mm";
    const std::string name = "A rather long name of a part & another rather long name of the part beside it";
    curve.lines.push_back({name, {{{0, 0}, {100, 50}}}, {}, {}, false});
    curve.lines.push_back({"fouls", {}, {}, {{20, 30}}, false});
    curve.limits.push_back({25, "limit"});
    const Drawing drawing = drawn(curve);
    const pugi::xml_document document = parsed(drawing.svg);
    const pugi::xml_node svg = document.child("svg");

    // Where the axes say that a number is.
    std::map<std::string, double> x_at;
    std::map<std::string, double> y_at;
    bool named = false;
    for (const pugi::xml_node text : svg.children("text")) {
        const std::string words = text.text().get();
        const std::string anchor = text.attribute("text-anchor").value();
        if (anchor == "middle") {
            x_at[words] = text.attribute("x").as_double();
        } else if (anchor == "end") {
            y_at[words] = text.attribute("y").as_double() - 4;
        }
        named = named || words == name;
    }
    const double x0 = x_at.at("0");
    const double x100 = x_at.at("100");
    const double y0 = y_at.at("0");
    const double y50 = y_at.at("50");
    CHECK(y_at.count("limit") == 1);
    CHECK(named);
    double x = NAN;
    double y = NAN;
    const std::string path = svg.child("path").attribute("d").value();
    REQUIRE(std::sscanf(path.c_str() + path.find('L'), "L%lf %lf", &x, &y) == 2);
    CHECK(x == doctest::Approx(x100).epsilon(1e-4));
    CHECK(y == doctest::Approx(y50).epsilon(1e-4));
    REQUIRE(std::sscanf(path.c_str(), "M%lf %lf", &x, &y) == 2);
    CHECK(x == doctest::Approx(x0).epsilon(1e-4));
    CHECK(y == doctest::Approx(y0).epsilon(1e-4));

    // The foul lies on the axis, a fifth of the way along and a tenth of it long.
    bool foul = false;
    for (const pugi::xml_node line : svg.children("line")) {
        if (line.attribute("stroke-width").as_double() == 7 && line.attribute("y1").as_double() < y0 + 1) {
            foul = true;
            CHECK(line.attribute("x1").as_double() == doctest::Approx(x0 + 0.2 * (x100 - x0)).epsilon(1e-3));
            CHECK(line.attribute("x2").as_double() == doctest::Approx(x0 + 0.3 * (x100 - x0)).epsilon(1e-3));
        }
    }
    CHECK(foul);
}

TEST_CASE("the curves of a block press: a bolt beside the mold keeps its distance, the platen stays level") {
    test::BlockSetup blocks;
    blocks.press.members.push_back(
        test::bolt("bolt", {450, 0, 500}, {363, 0, 500}, 10)); // 13 from the upper half's end
    const Setup& setup = blocks.made();
    const Assembly assembly = assemble(setup);
    Progress progress;
    const CheckResults results = run_checks(setup, assembly, {{"travel", "level"}, 1}, progress);
    const std::vector<Curve> curves = curves_of(setup, assembly, results, UnitSystem::metric);
    REQUIRE(curves.size() == 2);
    CHECK(curves[0].title == "Clearance over the travel");
    CHECK(curves[0].limits.front().y == 5);
    const auto bolt = std::find_if(curves[0].lines.begin(), curves[0].lines.end(), [](const CurveLine& line) {
        return line.name.find("bolt") != std::string::npos && line.name.find("lower") != std::string::npos;
    });
    REQUIRE(bolt != curves[0].lines.end());
    // The lower half's end passes 13 mm beside the bolt's end from where its top reaches the bolt.
    double least = 1e9;
    for (const auto& run : bolt->runs) {
        for (const Vec2& point : run) {
            least = std::min(least, point.y);
        }
    }
    CHECK(least <= 13);
    CHECK(least > 12.9);
    for (const CurveLine& line : curves[1].lines) {
        for (const Vec2& point : line.upper_edge) {
            CHECK(std::abs(point.y) < 1e-9);
        }
    }
    const std::vector<Curve> inch = curves_of(setup, assembly, results, UnitSystem::inch);
    CHECK(inch[0].limits.front().y == doctest::Approx(5 / 25.4));
    CHECK(inch[0].x_words == "travel, in");
}

} // namespace evenclose
