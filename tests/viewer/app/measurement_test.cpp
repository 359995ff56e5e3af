// Measures between points and faces against closed forms, and as they are written.
#include "viewer/app/measurement.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <numbers>
#include <random>

using namespace evenclose;
using namespace evenclose::test;

namespace {

/// A unit normal turned by `angle` about X, from Z towards -Y.
Vec3 leaning(double angle) { return {0.0, -std::sin(angle), std::cos(angle)}; }

} // namespace

TEST_CASE("from point to point: Pythagoras, and the way along each axis, the same from the other end") {
    // 3-4-12-13 is a Pythagorean quadruple.
    const PointsMeasured measured = measure_points({10, 20, 30}, {13, 16, 42});
    CHECK(measured.distance_mm == 13.0);
    CHECK(measured.along_mm == Vec3{3, 4, 12});
    const PointsMeasured back = measure_points({13, 16, 42}, {10, 20, 30});
    CHECK(back.distance_mm == 13.0);
    CHECK(back.along_mm == Vec3{3, 4, 12});
    CHECK(measure_points({1, 2, 3}, {1, 2, 3}).distance_mm == 0.0);
    CHECK(words_of(measured, UnitSystem::metric).value == "13 mm");
    CHECK(words_of(measured, UnitSystem::metric).note == "X 3 mm, Y 4 mm, Z 12 mm");
    CHECK(words_of(measure_points({0, 0, 0}, {0, 0, 38.1}), UnitSystem::inch).value == "1 1/2 in");
}

TEST_CASE("faces in one plane are told to be, lest 0 mm be taken for bodies that touch") {
    const FacesMeasured measured = measure_faces({{0, -50, 300}, {0, -1, 0}}, {{0, -50, 610}, {0, -1, 0}});
    REQUIRE(measured.parallel);
    CHECK(words_of(measured, UnitSystem::metric).note.starts_with("both faces lie in one plane"));
    const FacesMeasured apart = measure_faces({{0, -50, 300}, {0, -1, 0}}, {{0, -50.1, 610}, {0, -1, 0}});
    CHECK(words_of(apart, UnitSystem::metric).value == "0.1 mm");
    CHECK(words_of(apart, UnitSystem::metric).note == "between parallel faces");
}

TEST_CASE("parallel faces are as far apart wherever they are clicked, whichever way their normals look") {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> anywhere(-800.0, 800.0);
    for (const double sign : {1.0, -1.0}) {
        for (int trial = 0; trial < 200; ++trial) {
            const FacePlane first{{anywhere(random), anywhere(random), 240}, {0, 0, 1}};
            const FacePlane second{{anywhere(random), anywhere(random), 251.1}, {0, 0, sign}};
            const FacesMeasured measured = measure_faces(first, second);
            REQUIRE(measured.distance_mm);
            CHECK(measured.parallel);
            CHECK(near(*measured.distance_mm, 11.1, 1e-10));
            CHECK(near(*measure_faces(second, first).distance_mm, 11.1, 1e-10));
            CHECK(near(measured.foot_mm.z, 240, 1e-10)); // on the first face
            CHECK(near(glm::length(measured.foot_mm - second.through_mm), 11.1, 1e-10));
        }
    }
    CHECK(words_of(measure_faces({{0, 0, 0}, {0, 0, 1}}, {{5, 5, 11.1}, {0, 0, -1}}), UnitSystem::metric).value ==
          "11.1 mm");
}

TEST_CASE(
    "the angle between faces is that of their planes, from nothing to a right angle, small ones keep their digits") {
    for (const double deg : {0.001, 0.01, 0.29, 3.0, 9.9, 10.1, 45.0, 60.0, 89.0, 90.0}) {
        CAPTURE(deg);
        const double angle = deg * std::numbers::pi / 180.0;
        const FacesMeasured measured = measure_faces({{0, 0, 0}, {0, 0, 1}}, {{0, 0, 50}, leaning(angle)});
        CHECK(within(measured.leaning_rad, angle, 1e-9));
        // Turned over it is the same plane.
        CHECK(within(measure_faces({{0, 0, 0}, {0, 0, 1}}, {{0, 0, 50}, -leaning(angle)}).leaning_rad, angle, 1e-9));
        CHECK(measured.distance_mm.has_value() == (deg < 10));
        CHECK(measured.parallel == (deg < 0.0029)); // 5e-5 rad are 0.00286 degrees
    }
    // More than a right angle between normals is less between planes.
    CHECK(near(measure_faces({{}, {0, 0, 1}}, {{}, leaning(std::numbers::pi - 0.3)}).leaning_rad, 0.3, 1e-12));
}

TEST_CASE("faces nearly parallel tell the distance at the second place and the lean as a shop sets it") {
    // A fall of 1 in 200: atan(1 / 200) = 0.28648 degrees.
    const FacesMeasured measured = measure_faces({{0, 0, 0}, {0, 0, 1}}, {{100, 0, 24}, leaning(std::atan(1.0 / 200))});
    const MeasureWords words = words_of(measured, UnitSystem::metric);
    CHECK(words.value == "24 mm");
    CHECK(words.note == "at the second place; 0.286° out of parallel, 1 in 200");
    const MeasureWords square = words_of(measure_faces({{}, {0, 0, 1}}, {{}, {0, 1, 0}}), UnitSystem::metric);
    CHECK(square.value == "90.00°");
    CHECK(square.note == "between the faces");
}
