#include "viewer/app/camera_control.hpp"

#include "viewer/app/flight.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <glm/geometric.hpp>

#include <cmath>
#include <numbers>
#include <random>

using namespace evenclose;
using test::near;

namespace {

Camera corner_camera(bool parallel = false) {
    Camera camera;
    camera.eye_mm = {-1800.0, -2500.0, 1700.0};
    camera.target_mm = {20.0, -40.0, 700.0};
    camera.parallel = parallel;
    return camera;
}

bool same_place(PicturePlace a, PicturePlace b, double within) {
    return near(a.across, b.across, within) && near(a.up, b.up, within);
}

} // namespace

// What is asked here follows from central projection alone: a camera turned about a point, or brought nearer to it along
// the lines of sight, sees it where it was.

TEST_CASE("a point straight ahead is in the picture's middle, one at the half angle on its edge") {
    Camera camera;
    camera.eye_mm = {0.0, -1000.0, 500.0};
    camera.target_mm = {0.0, 0.0, 500.0};
    camera.vertical_angle_rad = 0.5;
    for (bool parallel : {false, true}) {
        CAPTURE(parallel);
        camera.parallel = parallel;
        CHECK(same_place(place_of(camera, {0.0, 0.0, 500.0}), {0.0, 0.0}, 1e-12));
        const double half = 1000.0 * std::tan(0.25);
        CHECK(same_place(place_of(camera, {0.0, 0.0, 500.0 + half}), {0.0, 1.0}, 1e-12));
        CHECK(same_place(place_of(camera, {half, 0.0, 500.0}), {1.0, 0.0}, 1e-12)); // right is +X for the operator
    }
    camera.parallel = true;
    const double half = 1000.0 * std::tan(0.25);
    CHECK(same_place(place_of(camera, {half, 700.0, 500.0}), {1.0, 0.0}, 1e-12)); // whatever the depth
}

TEST_CASE("a place of the picture and the point seen there belong together") {
    std::mt19937 random(17);
    std::uniform_real_distribution<double> some(-400.0, 400.0);
    for (bool parallel : {false, true}) {
        for (int trial = 0; trial < 200; ++trial) {
            const Vec3 point{some(random), some(random), 700.0 + some(random)};
            const Camera camera = corner_camera(parallel);
            CHECK(glm::distance(point_at(camera, place_of(camera, point), point), point) < 1e-8);
        }
    }
}

TEST_CASE("an orbit leaves its pivot where it is seen, keeps its distance and never rolls") {
    std::mt19937 random(4711);
    std::uniform_real_distribution<double> some(-1.0, 1.0);
    for (int trial = 0; trial < 500; ++trial) {
        CAPTURE(trial);
        const Camera before = corner_camera(trial % 2 == 1);
        const Vec3 pivot{400.0 * some(random), 400.0 * some(random), 700.0 + 300.0 * some(random)};
        const Camera after = orbited(before, pivot, 3.0 * some(random), 3.0 * some(random));
        CHECK(same_place(place_of(after, pivot), place_of(before, pivot), 1e-9));
        CHECK(near(glm::distance(after.eye_mm, pivot), glm::distance(before.eye_mm, pivot), 1e-8));
        const CameraAxes axes = axes_of(after);
        CHECK(near(axes.right.z, 0.0, 1e-9));
        CHECK(axes.up.z >= -1e-9); // not upside down
    }
}

TEST_CASE("an orbit turns by as much as asked, rises no further than straight above, and comes back down") {
    const Camera before = corner_camera();
    const Vec3 pivot = before.target_mm;
    const Vec3 arm = before.eye_mm - pivot;
    const Camera quarter = orbited(before, pivot, 0.5 * std::numbers::pi, 0.0);
    CHECK(glm::distance(quarter.eye_mm - pivot, Vec3{-arm.y, arm.x, arm.z}) < 1e-9);

    const Camera above = orbited(before, pivot, 0.0, 10.0);
    CHECK(near(above.eye_mm.z - pivot.z, glm::length(arm), 1e-6));
    const Camera below = orbited(before, pivot, 0.0, -10.0);
    CHECK(near(below.eye_mm.z - pivot.z, -glm::length(arm), 1e-6));
    const Camera down_again = orbited(above, pivot, 0.0, -0.5 * std::numbers::pi);
    CHECK(near(down_again.eye_mm.z, pivot.z, 1e-6));
    const double facing = std::atan2(arm.y, arm.x);
    const Vec3 again = down_again.eye_mm - pivot;
    CHECK(near(std::atan2(again.y, again.x), facing, 1e-6)); // the way it came, not the other side
}

TEST_CASE("a pan brings the grabbed point under the cursor") {
    std::mt19937 random(99);
    std::uniform_real_distribution<double> some(-1.0, 1.0);
    for (int trial = 0; trial < 200; ++trial) {
        const Camera before = corner_camera(trial % 2 == 1);
        const Vec3 grabbed{400.0 * some(random), 400.0 * some(random), 700.0 + 300.0 * some(random)};
        const PicturePlace from = place_of(before, grabbed);
        const PicturePlace to{some(random), some(random)};
        CHECK(same_place(place_of(panned(before, grabbed, from, to), grabbed), to, 1e-9));
    }
}

TEST_CASE("a zoom leaves the point under the cursor where it is and makes its surroundings larger") {
    for (bool parallel : {false, true}) {
        CAPTURE(parallel);
        const Camera before = corner_camera(parallel);
        const Vec3 about{300.0, -200.0, 900.0};
        const Camera after = zoomed(before, about, 0.5);
        CHECK(same_place(place_of(after, about), place_of(before, about), 1e-9));
        const Vec3 beside = about + axes_of(before).right;
        const double wide_before = place_of(before, beside).across - place_of(before, about).across;
        const double wide_after = place_of(after, beside).across - place_of(after, about).across;
        CHECK(near(wide_after / wide_before, 2.0, 1e-6));
    }
}

TEST_CASE("zooming on and on ends at the nearest and the furthest, and a factor that is no number does nothing") {
    Camera camera = corner_camera();
    const Vec3 about = camera.target_mm;
    for (int i = 0; i < 200; ++i) {
        camera = zoomed(camera, about, 0.8);
    }
    CHECK(glm::distance(camera.eye_mm, camera.target_mm) >= kNearest_mm);
    CHECK(glm::distance(camera.eye_mm, camera.target_mm) < 2.0 * kNearest_mm);
    for (int i = 0; i < 200; ++i) {
        camera = zoomed(camera, about, 1.25);
    }
    CHECK(glm::distance(camera.eye_mm, camera.target_mm) <= kFurthest_mm);
    const Camera same = zoomed(camera, about, std::nan(""));
    CHECK(same.eye_mm == camera.eye_mm);
}

TEST_CASE("a flight begins where the camera was, ends exactly where it should, and takes the short way round") {
    Flight flight{corner_camera(), corner_camera()};
    flight.to = orbited(flight.from, flight.from.target_mm, 1.2, 0.3);
    flight.to = zoomed(flight.to, flight.to.target_mm, 0.25);

    CHECK(glm::distance(camera_on(flight).eye_mm, flight.from.eye_mm) < 1e-6);
    flight.elapsed_s = 0.5 * flight.duration_s;
    const Camera half = camera_on(flight);
    // Half way in time is half way round and the geometric mean in distance, by the symmetry of the easing.
    const auto facing = [&](const Camera& camera) {
        const Vec3 arm = camera.eye_mm - camera.target_mm;
        return std::atan2(arm.y, arm.x);
    };
    CHECK(facing(half) > facing(flight.from));
    CHECK(facing(half) < facing(flight.to));
    CHECK(near(glm::distance(half.eye_mm, half.target_mm),
               std::sqrt(glm::distance(flight.from.eye_mm, flight.from.target_mm) *
                         glm::distance(flight.to.eye_mm, flight.to.target_mm)),
               1e-6));
    flight.elapsed_s = flight.duration_s;
    CHECK(flight.over());
    CHECK(camera_on(flight).eye_mm == flight.to.eye_mm);
    CHECK(camera_on(flight).up == flight.to.up);
}
