// The scale bar: a round length, true where it says.
#include "viewer/app/scale_bar.hpp"

#include "tests/within.hpp"
#include "viewer/render/view.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <limits>
#include <set>

using namespace evenclose;
using namespace evenclose::test;

TEST_CASE("the bar is as long as its length is seen to be: in parallel at any depth, in perspective at the target's") {
    for (const bool parallel : {true, false}) {
        for (const double distance : {30.0, 400.0, 2600.0, 41000.0}) {
            const Camera camera{
                {0.3 * distance, -0.9 * distance, 0.2 * distance}, {10, 20, 30}, {0, 0, 1}, 0.5, parallel};
            for (const UnitSystem units : {UnitSystem::metric, UnitSystem::inch}) {
                CAPTURE(distance);
                const auto bar = scale_bar(camera, 800, 150, units);
                REQUIRE(bar);
                CHECK(bar->length_px <= 150);
                CHECK(bar->length_px > 150 / 5.1); // the next longer round one would be too long: 1, 2, 5; 12, 60 in
                CHECK(bar->words == show_length(bar->length_mm, units));
                // The same length laid across the picture through the target, and 20 % nearer.
                const EyeAxes axes = eye_axes(camera);
                const auto a = pixel_of(camera, 1200, 800, camera.target_mm);
                const auto b = pixel_of(camera, 1200, 800, camera.target_mm + bar->length_mm * axes.right);
                REQUIRE(a);
                REQUIRE(b);
                CHECK(within(glm::length(*b - *a), bar->length_px, 1e-9));
                const Vec3 nearer = camera.target_mm + 0.2 * (camera.eye_mm - camera.target_mm);
                const auto c = pixel_of(camera, 1200, 800, nearer);
                const auto d = pixel_of(camera, 1200, 800, nearer + bar->length_mm * axes.right);
                CHECK(within(glm::length(*d - *c), bar->length_px, 1e-9) == parallel);
                CHECK((bar->holds.find("everywhere") != std::string::npos) == parallel);
            }
        }
    }
}

TEST_CASE("the bar's length is a round one of the unit") {
    std::set<std::string> metric;
    std::set<std::string> inch;
    for (double distance = 3; distance < 2e5; distance *= 1.07) {
        const Camera camera{{0, -distance, 0}, {0, 0, 0}, {0, 0, 1}, 0.5, true};
        metric.insert(scale_bar(camera, 800, 150, UnitSystem::metric)->words);
        if (const auto bar = scale_bar(camera, 800, 150, UnitSystem::inch)) {
            inch.insert(bar->words);
        }
    }
    for (const char* words : {"0.2 mm", "1 mm", "50 mm", "100 mm", "200 mm", "1000 mm"}) {
        CHECK(metric.contains(words));
    }
    for (const char* words : {"1/16 in", "1/2 in", "1 in", "6 in", "12 in", "24 in"}) {
        CHECK(inch.contains(words));
    }
    for (const std::string& words : metric) { // 1, 2 or 5, and noughts
        CAPTURE(words);
        std::string digits;
        for (const char c : words.substr(0, words.find(' '))) {
            if (c != '0' && c != '.') {
                digits += c;
            }
        }
        CHECK((digits == "1" || digits == "2" || digits == "5"));
    }
}

TEST_CASE("a camera that cannot see has no scale") {
    Camera camera;
    camera.eye_mm = camera.target_mm;
    CHECK(!scale_bar(camera, 800, 150, UnitSystem::metric));
    camera.eye_mm.x = std::numeric_limits<double>::quiet_NaN();
    CHECK(!scale_bar(camera, 800, 150, UnitSystem::metric));
    CHECK(!scale_bar({{0, -1e-6, 0}, {0, 0, 0}, {0, 0, 1}, 0.5, true}, 800, 150, UnitSystem::metric));
}
