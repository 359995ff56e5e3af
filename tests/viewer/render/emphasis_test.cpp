// What is lit, dimmed or foul must be found at a glance: by lightness, pattern and outline, not by hue alone.
#include "scene/mesh/shapes.hpp"
#include "tests/viewer/render/picture.hpp"
#include "viewer/render/renderer.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <memory>

using namespace evenclose;
using namespace evenclose::test;

namespace {

constexpr int kWidth = 400;
constexpr int kHeight = 300;

/// Two plates side by side, a third wholly behind the left one.
Frame plates() {
    Frame frame;
    frame.camera = {{0, -2000, 0}, {0, 0, 0}, {0, 0, 1}, 0.6, true};
    frame.floor = false;
    const auto plate = [](double left, double right, double depth, double half) {
        return std::make_shared<TriangleMesh>(box_shape({left, depth, -half}, {right, depth + 10, half}));
    };
    const Colour grey{0.5F, 0.52F, 0.54F};
    frame.bodies = {{plate(-400, -100, 0, 300), {}, grey, Emphasis::plain, 0},
                    {plate(100, 400, 0, 300), {}, grey, Emphasis::plain, 1},
                    {plate(-350, -150, 200, 100), {}, grey, Emphasis::plain, 2}};
    return frame;
}

Image drawn(Frame frame, Emphasis left, Emphasis right, Emphasis behind) {
    frame.bodies[0].emphasis = left;
    frame.bodies[1].emphasis = right;
    frame.bodies[2].emphasis = behind;
    return draw_offscreen(frame, kWidth, kHeight);
}

double pixels_per_mm() { return 0.5 * kHeight / (2000 * std::tan(0.3)); }
int column(double x_mm) { return static_cast<int>(0.5 * kWidth + x_mm * pixels_per_mm()); }
int row(double z_mm) { return static_cast<int>(0.5 * kHeight - z_mm * pixels_per_mm()); }

} // namespace

TEST_CASE("emphasis changes its own body's pixels and no others") {
    const Image plain = drawn(plates(), Emphasis::plain, Emphasis::plain, Emphasis::plain);
    for (const Emphasis emphasis : {Emphasis::lit, Emphasis::dimmed, Emphasis::foul}) {
        CAPTURE(static_cast<int>(emphasis));
        const Rectangle touched = changed(drawn(plates(), Emphasis::plain, emphasis, Emphasis::plain), plain, 4);
        REQUIRE(!touched.empty());
        // The plate from x = 100 to 400, and the outline round it.
        CHECK(touched.left >= column(100) - 5);
        CHECK(touched.right <= column(400) + 6);
        CHECK(touched.left <= column(100) + 2);
        CHECK(touched.right >= column(400) - 2);
    }
}

TEST_CASE("lit is brighter than plain, dimmed is nearer to the ground's tone") {
    const Image plain = drawn(plates(), Emphasis::plain, Emphasis::plain, Emphasis::plain);
    const Image lit = drawn(plates(), Emphasis::plain, Emphasis::lit, Emphasis::plain);
    const Image dimmed = drawn(plates(), Emphasis::plain, Emphasis::dimmed, Emphasis::plain);
    const int x = column(250);
    const int y = row(50);
    CHECK(brightness(pixel(lit, x, y)) > brightness(pixel(plain, x, y)) + 15);
    const Pixel ground = pixel(plain, column(0), y);
    CHECK(difference(pixel(dimmed, x, y), ground) * 3 < difference(pixel(plain, x, y), ground));
}

TEST_CASE("what is lit is found behind what is dimmed, with its outline") {
    const Image with = drawn(plates(), Emphasis::dimmed, Emphasis::dimmed, Emphasis::lit);
    Frame without = plates();
    without.bodies.pop_back();
    without.bodies[0].emphasis = without.bodies[1].emphasis = Emphasis::dimmed;
    const Rectangle found = changed(with, draw_offscreen(without, kWidth, kHeight), 25);
    REQUIRE(!found.empty());
    CHECK(std::abs(found.left - column(-350)) <= 4);
    CHECK(std::abs(found.right - column(-150)) <= 4);
    CHECK(std::abs(found.top - row(100)) <= 4);
    CHECK(std::abs(found.bottom - row(-100)) <= 4);
    // The outline is much darker than the plate and than what is round it.
    int darkest = 255;
    for (int x = column(-350) - 4; x < column(-350) + 2; ++x) {
        darkest = std::min(darkest, brightness(pixel(with, x, row(0))));
    }
    CHECK(darkest + 50 < brightness(pixel(with, column(-250), row(0))));
    CHECK(darkest + 50 < brightness(pixel(with, column(-380), row(0))));
}

TEST_CASE("a plain body hides one behind it, but the chosen one's outline shows through") {
    const Image hidden = drawn(plates(), Emphasis::plain, Emphasis::plain, Emphasis::lit);
    const Image plain = drawn(plates(), Emphasis::plain, Emphasis::plain, Emphasis::plain);
    CHECK(difference(pixel(hidden, column(-250), row(0)), pixel(plain, column(-250), row(0))) <= 1);
    CHECK(!changed(hidden, plain, 40).empty());
}

TEST_CASE("a foul shows light and dark stripes: told without any colour") {
    const Image foul = drawn(plates(), Emphasis::plain, Emphasis::foul, Emphasis::plain);
    const int y = row(20);
    int changes = 0;
    int least = 255;
    int most = 0;
    for (int x = column(150); x < column(350); ++x) {
        least = std::min(least, brightness(pixel(foul, x, y)));
        most = std::max(most, brightness(pixel(foul, x, y)));
    }
    const int middle = (least + most) / 2;
    for (int x = column(150); x < column(350); ++x) {
        changes += (brightness(pixel(foul, x, y)) < middle) != (brightness(pixel(foul, x + 1, y)) < middle) ? 1 : 0;
    }
    CHECK(most - least > 60);
    CHECK(changes >= 6); // three stripes across 200 mm, 48 pixels
}
