#include "viewer/app/mold_move.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace evenclose;
using test::near;

TEST_CASE("a mold that is dragged stays under the hand, whatever the camera") {
    const Vec3 grabbed{120.0, -40.0, 300.0};
    for (const bool parallel : {false, true}) {
        for (const Vec3& eye :
             {Vec3{900.0, -2500.0, 1600.0}, Vec3{10.0, -20.0, 4000.0}, Vec3{-2000.0, 500.0, 1500.0}}) {
            Camera camera;
            camera.eye_mm = eye;
            camera.target_mm = {0.0, 0.0, 400.0};
            camera.parallel = parallel;
            const Vec3 wanted = grabbed + Vec3{37.0, -12.0, 0.0};
            const auto moved = dragged_by(camera, grabbed, place_of(camera, wanted));
            REQUIRE(moved);
            CHECK(near(moved->x, 37.0, 1e-6));
            CHECK(near(moved->y, -12.0, 1e-6));
        }
    }
}

TEST_CASE("seen from the front a mold moves sideways only") {
    Camera camera;
    camera.eye_mm = {0.0, -3000.0, 400.0};
    camera.target_mm = {0.0, 0.0, 400.0};
    camera.parallel = true;
    const Vec3 grabbed{50.0, 10.0, 400.0};
    const auto moved = dragged_by(camera, grabbed, place_of(camera, grabbed + Vec3{25.0, 0.0, 60.0}));
    REQUIRE(moved);
    CHECK(near(moved->x, 25.0, 1e-9));
    CHECK(near(moved->y, 0.0, 1e-9));
}

TEST_CASE("a length on the screen is so long where the hand holds the mold") {
    Camera camera;
    camera.eye_mm = {0.0, -3000.0, 400.0};
    camera.target_mm = {0.0, 0.0, 400.0};
    camera.vertical_angle_rad = 0.5;
    for (const bool parallel : {false, true}) {
        camera.parallel = parallel;
        const Vec3 grabbed{50.0, parallel ? 700.0 : 0.0, 400.0};
        // Two places a hundredth of the picture's height apart.
        const PicturePlace at = place_of(camera, grabbed);
        const Vec3 other = point_at(camera, {at.across, at.up + 0.02}, grabbed); // places count from -1 to 1
        CHECK(near(length_seen_mm(camera, grabbed, 0.01), std::abs(other.z - grabbed.z), 1e-9));
    }
    CHECK(length_seen_mm(camera, camera.eye_mm, 0.0) == 0.0);
}
