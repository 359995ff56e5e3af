// A section plane takes away one side, closes solids where it cuts them, and is known to picking. Also tints.
#include "scene/mesh/shapes.hpp"
#include "tests/viewer/render/picture.hpp"
#include "tests/within.hpp"
#include "viewer/render/ray_pick.hpp"
#include "viewer/render/renderer.hpp"
#include "viewer/render/section_lines.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <limits>
#include <memory>

using namespace evenclose;
using namespace evenclose::test;

namespace {

constexpr int kWidth = 400;
constexpr int kHeight = 300;

/// A pipe along Y, radius 200, bore 120, seen along its axis, from z = -300 up to 300 turned to lie along Y.
Frame pipe() {
    Frame frame;
    frame.camera = {{0, -2000, 0}, {0, 0, 0}, {0, 0, 1}, 0.6, true};
    frame.floor = false;
    Pose lying;
    lying.rotation = Mat3{Vec3{1, 0, 0}, Vec3{0, 0, 1}, Vec3{0, -1, 0}}; // mesh Z becomes -Y
    lying.translation_mm = {0, 300, 0};
    frame.bodies = {
        {std::make_shared<TriangleMesh>(tube_shape(200, 120, 600, 96)), lying, {0.6F, 0.8F, 0.6F}, Emphasis::plain, 4}};
    return frame;
}

double pixels_per_mm() { return 0.5 * kHeight / (2000 * std::tan(0.3)); }
Pixel at(const Image& image, double x_mm, double z_mm) {
    return pixel(image, static_cast<int>(0.5 * kWidth + x_mm * pixels_per_mm()),
                 static_cast<int>(0.5 * kHeight - z_mm * pixels_per_mm()));
}

} // namespace

TEST_CASE("a section lengthwise through a pipe shows two hatched walls and the bore between them") {
    // Seen from +Z on a plane through the axis: walls from |x| = 120 to 200, the bore's inside between.
    Frame frame = pipe();
    frame.camera = {{0, 0, 2000}, {0, 0, 0}, {0, 1, 0}, 0.6, true};
    const Image whole = draw_offscreen(frame, kWidth, kHeight);
    frame.section = SectionPlane{{0, 0, 0}, {0, 0, 1}};
    const Image cut = draw_offscreen(frame, kWidth, kHeight);
    // Dark stripes along a row of the wall, none along the bore.
    const auto stripes = [&](double from_mm, double to_mm) {
        int least = 255;
        int most = 0;
        for (double y = from_mm; y < to_mm; y += 1.0) {
            for (const double x : {-160.0, 160.0}) {
                least = std::min(least, brightness(at(cut, x, y)));
                most = std::max(most, brightness(at(cut, x, y)));
            }
        }
        return most - least;
    };
    CHECK(stripes(-200, 200) > 50);
    // The bore's bottom is 120 deeper: level, not hatched, the same all along.
    for (double y = -250; y <= 250; y += 10) {
        CHECK(difference(at(cut, 0, y), at(cut, 0, 0)) <= 3);
    }
    CHECK(difference(at(cut, 150, 0), at(whole, 150, 0)) > 5);
    // What the plane does not reach is as before: the ground beside the pipe.
    CHECK(at(cut, 240, 0) == at(whole, 240, 0));
}

TEST_CASE("a section across takes what is towards its normal, and nothing else") {
    Frame frame = pipe();
    const auto plate = std::make_shared<TriangleMesh>(box_shape({-50, 500, -50}, {50, 520, 50}));
    frame.bodies.push_back({plate, {}, {0.2F, 0.2F, 0.3F}, Emphasis::plain, 5}); // behind, seen through the bore
    const Image whole = draw_offscreen(frame, kWidth, kHeight);
    frame.section = SectionPlane{{0, 0, 0}, {0, -1, 0}};
    const Image cut = draw_offscreen(frame, kWidth, kHeight);
    CHECK(difference(at(cut, 0, 0), at(whole, 0, 0)) <= 1); // the bore stays open: no face is drawn over it
    Frame without = frame;
    without.bodies.erase(without.bodies.begin());
    without.section.reset();
    frame.section = SectionPlane{{0, 400, 0}, {0, -1, 0}}; // the pipe wholly away
    CHECK(draw_offscreen(frame, kWidth, kHeight).rgba == draw_offscreen(without, kWidth, kHeight).rgba);
    frame.section = SectionPlane{{0, -400, 0}, {0, -1, 0}}; // nothing away
    CHECK(draw_offscreen(frame, kWidth, kHeight).rgba == whole.rgba);
    for (const Vec3& no_direction : {Vec3{0.0}, Vec3{std::numeric_limits<double>::quiet_NaN()}}) {
        frame.section = SectionPlane{{0, 0, 0}, no_direction}; // no plane: nothing away
        CHECK(draw_offscreen(frame, kWidth, kHeight).rgba == whole.rgba);
    }
}

TEST_CASE("picking a section meets its face, or what is behind where the solid is cut away") {
    Frame frame = pipe();
    frame.section = SectionPlane{{0, 0, 0}, {0, -1, 0}};
    const double k = pixels_per_mm();
    const auto wall = ray_pick(frame, kWidth, kHeight, 200 + 160 * k, 150);
    REQUIRE(wall);
    CHECK(wall->body == 4);
    CHECK(near(wall->at_mm.y, 0, 1e-6));                // the cut, not the pipe's end at -300
    CHECK(!ray_pick(frame, kWidth, kHeight, 200, 150)); // through the bore
    frame.section = SectionPlane{{0, 0, 0}, {0, 1, 0}}; // the far side away: the near end is met
    CHECK(near(ray_pick(frame, kWidth, kHeight, 200 + 160 * k, 150)->at_mm.y, -300, 1e-6));
    frame.section = SectionPlane{{0, 400, 0}, {0, -1, 0}};
    CHECK(!ray_pick(frame, kWidth, kHeight, 200 + 160 * k, 150));
}

TEST_CASE("the border of a section has the length that geometry says") {
    struct Row {
        const char* which;
        TriangleMesh mesh;
        CuttingPlane plane;
        double length_mm, relative;
    };
    const double slant = std::sqrt(0.5);
    const Row rows[] = {
        {"a box across: its perimeter", box_shape({-10, -20, -30}, {10, 20, 30}), {{0, 0, 1}, 7}, 120, 1e-6},
        {"a cube at 45 degrees through its middle: two sides, two diagonals",
         box_shape({-10, -10, -10}, {10, 10, 10}),
         {{slant, 0, slant}, 0},
         40 + 40 / slant,
         1e-6},
        {"a sphere of 50 at height 30: a circle of radius 40",
         icosphere_shape(50, 6),
         {{0, 0, 1}, 30},
         2 * 3.14159265358979 * 40,
         1e-3},
        {"beside it: nothing", icosphere_shape(50, 3), {{0, 0, 1}, 51}, 0, 0},
        {"corners in the plane: a box cut at its very top gives its rim",
         box_shape({-10, -20, -30}, {10, 20, 30}),
         {{0, 0, 1}, 30},
         120,
         1e-6},
    };
    for (const Row& row : rows) {
        CAPTURE(std::string(row.which));
        const DrawableMesh made = make_drawable(row.mesh);
        double length = 0;
        for (const SectionLine& line : section_lines(made.full, row.plane)) {
            length += glm::length(line.to_mm - line.from_mm);
            CHECK(near(glm::dot(line.from_mm, row.plane.normal), row.plane.offset_mm, 1e-5));
            CHECK(near(glm::dot(line.to_mm, row.plane.normal), row.plane.offset_mm, 1e-5));
        }
        CHECK(within(length, row.length_mm, row.relative));
    }
}

TEST_CASE("a tint colours its vertices, by its alpha, and shades with the body") {
    Frame frame;
    frame.camera = {{0, -2000, 0}, {0, 0, 0}, {0, 0, 1}, 0.6, true};
    frame.floor = false;
    auto sheet = std::make_shared<TriangleMesh>();
    sheet->vertices_mm = {{-400, 0, -300}, {0, 0, -300}, {400, 0, -300}, {-400, 0, 300}, {0, 0, 300}, {400, 0, 300}};
    sheet->triangles = {{0, 1, 4}, {0, 4, 3}, {1, 2, 5}, {1, 5, 4}};
    frame.bodies = {{sheet, {}, {0.5F, 0.5F, 0.5F}, Emphasis::plain, 0}};
    const Image bare = draw_offscreen(frame, kWidth, kHeight);
    const Colour blue{0.1F, 0.2F, 0.9F};
    const Colour none{1.0F, 0.0F, 0.0F, 0.0F};
    frame.bodies[0].tint = std::make_shared<Tint>(Tint{blue, none, none, blue, none, none});
    const Image tinted = draw_offscreen(frame, kWidth, kHeight);
    CHECK(difference(at(tinted, 200, 0), at(bare, 200, 0)) <= 1); // alpha 0: the body's own colour
    const Pixel left = at(tinted, -390, 0);
    CHECK(left[2] > left[0] + 80);
    const Pixel between = at(tinted, -200, 0);
    CHECK(between[2] - between[0] > 15);
    CHECK(between[2] - between[0] < left[2] - left[0]);
    // An equal tint laid on at full strength is the same as a body of that colour.
    frame.bodies[0].tint = std::make_shared<Tint>(Tint(6, blue));
    const Image full = draw_offscreen(frame, kWidth, kHeight);
    frame.bodies[0].tint = nullptr;
    frame.bodies[0].colour = blue;
    frame.surroundings.edge_darkness = 1; // the edges' colour is the body's own darkened: the same black
    const Image plain = draw_offscreen(frame, kWidth, kHeight);
    CHECK(difference(at(full, -200, 100), at(plain, -200, 100)) <= 2);
    frame.bodies[0].tint = std::make_shared<Tint>(Tint(5, blue));
    CHECK_THROWS_WITH_AS((void)draw_offscreen(frame, kWidth, kHeight),
                         "body 0 is tinted with 5 colours, its mesh has 6 vertices", std::invalid_argument);
}
