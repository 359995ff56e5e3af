// What is under a pixel, held against closed forms for planes and spheres.
#include "scene/mesh/shapes.hpp"
#include "tests/within.hpp"
#include "viewer/render/ray_pick.hpp"
#include "viewer/render/view.hpp"

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

Frame two_plates() {
    Frame frame;
    frame.camera = {{0, -2000, 0}, {0, 0, 0}, {0, 0, 1}, 0.6, false};
    const auto near_one = std::make_shared<TriangleMesh>(box_shape({50, 0, 20}, {250, 10, 200}));
    const auto far_one = std::make_shared<TriangleMesh>(box_shape({-300, 300, -300}, {300, 310, 300}));
    frame.bodies = {{far_one, {}, {}, Emphasis::plain, 7}, {near_one, {}, {}, Emphasis::dimmed, 3}};
    return frame;
}

} // namespace

TEST_CASE("picking finds the nearest body and the place on its face") {
    for (const bool parallel : {false, true}) {
        CAPTURE(parallel);
        Frame frame = two_plates();
        frame.camera.parallel = parallel;
        const double k = 0.5 * kHeight / (2000 * std::tan(0.3)); // pixels a mm in the plane y = 0
        const auto near_one = ray_pick(frame, kWidth, kHeight, 200 + 150 * k, 150 - 100 * k);
        REQUIRE(near_one);
        CHECK(near_one->body == 3);
        CHECK(near(near_one->at_mm.x, 150, 1e-6));
        CHECK(near(near_one->at_mm.y, 0, 1e-6));
        CHECK(near(near_one->at_mm.z, 100, 1e-6));
        const auto far_one = ray_pick(frame, kWidth, kHeight, 200 - 150 * k, 150 - 100 * k);
        REQUIRE(far_one);
        CHECK(far_one->body == 7);
        CHECK(near(far_one->at_mm.y, 300, 1e-6));
        CHECK(near(far_one->at_mm.x, parallel ? -150 : -150 * 2300.0 / 2000.0, 1e-6));
    }
}

TEST_CASE("beside all bodies, outside the picture and with nothing there, nothing is picked") {
    const Frame frame = two_plates();
    CHECK(!ray_pick(frame, kWidth, kHeight, 2.5, 2.5));
    CHECK(!ray_pick(frame, kWidth, kHeight, -40, 150));
    CHECK(!ray_pick(frame, kWidth, kHeight, 200, 301));
    CHECK(!ray_pick({}, kWidth, kHeight, 200, 150));
}

TEST_CASE("a sphere far from the origin, turned and moved, is met where the quadratic says") {
    Frame frame;
    const Vec3 middle{3e5, -2e5, 1e5};
    const double radius = 100;
    frame.camera = {middle + Vec3{400, -900, 300}, middle, {0, 0, 1}, 0.5, false};
    Pose pose;
    pose.rotation = glm::mat3_cast(glm::angleAxis(0.7, glm::normalize(Vec3{1, 2, 3})));
    pose.translation_mm = middle;
    frame.bodies = {{std::make_shared<TriangleMesh>(icosphere_shape(radius, 6)), pose, {}, Emphasis::plain, 0}};
    for (const double x : {180.5, 200.5, 215.5}) {
        for (const double y : {140.5, 150.5, 170.5}) {
            const SightLine line = sight_line(frame.camera, kWidth, kHeight, x, y);
            const Vec3 from = line.from_mm - middle;
            const double b = glm::dot(from, line.along);
            const double c = glm::dot(from, from) - radius * radius;
            REQUIRE(b * b > c);
            const auto hit = ray_pick(frame, kWidth, kHeight, x, y);
            REQUIRE(hit);
            // An icosphere of 6 splits lies at most 0.02 mm inside its sphere of 100 (sagitta of a 1.1 degree arc).
            CHECK(near(glm::length(hit->at_mm - line.from_mm), -b - std::sqrt(b * b - c), 0.05));
        }
    }
}

TEST_CASE("a ray along a shared edge or corner never slips through") {
    // Straight at the diagonal and the corners' middle of a finely cut plane.
    Frame frame;
    frame.camera = {{0, -1000, 0}, {0, 0, 0}, {0, 0, 1}, 0.5, true};
    auto plane = std::make_shared<TriangleMesh>();
    for (int i = 0; i <= 20; ++i) {
        for (int k = 0; k <= 20; ++k) {
            plane->vertices_mm.emplace_back(10.0 * (i - 10), 0.0, 10.0 * (k - 10));
        }
    }
    for (std::uint32_t i = 0; i < 20; ++i) {
        for (std::uint32_t k = 0; k < 20; ++k) {
            const std::uint32_t a = i * 21 + k;
            plane->triangles.push_back({a, a + 21, a + 22});
            plane->triangles.push_back({a, a + 22, a + 1});
        }
    }
    frame.bodies = {{plane, {}, {}, Emphasis::plain, 0}};
    for (int i = -18; i <= 18; ++i) {
        for (int k = -18; k <= 18; ++k) {
            const auto at = pixel_of(frame.camera, 1000, 1000, {5.0 * i, 0.0, 5.0 * k});
            REQUIRE(at);
            CHECK(ray_pick(frame, 1000, 1000, at->x, at->y));
        }
    }
}

TEST_CASE("spoiled bodies are passed over by picking too") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    Frame frame = two_plates();
    auto spoiled = std::make_shared<TriangleMesh>(*frame.bodies[1].mesh);
    spoiled->vertices_mm.emplace_back(nan, nan, nan);
    spoiled->triangles.push_back({0, 1, static_cast<std::uint32_t>(spoiled->vertices_mm.size() - 1)});
    frame.bodies[1].mesh = spoiled;
    frame.bodies.push_back({spoiled, {Mat3{1.0}, {nan, 0, 0}}, {}, Emphasis::plain, 8});
    frame.bodies.push_back({nullptr, {}, {}, Emphasis::plain, 9});
    const auto hit = ray_pick(frame, kWidth, kHeight, 235, 120);
    REQUIRE(hit);
    CHECK(hit->body == 3);
}
