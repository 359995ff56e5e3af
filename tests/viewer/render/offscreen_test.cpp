// Pictures drawn without a display, held against where projective geometry says things must be (pinhole camera, from
// memory; the projection is worked out here again, by similar triangles).
#include "scene/mesh/shapes.hpp"
#include "tests/viewer/render/picture.hpp"
#include "tests/within.hpp"
#include "viewer/render/renderer.hpp"

#include <doctest/doctest.h>
#include <stb_image.h>

#include <cmath>
#include <filesystem>
#include <limits>
#include <memory>

using namespace evenclose;
using namespace evenclose::test;

namespace {

SharedMesh box(const Vec3& low, const Vec3& high) { return std::make_shared<TriangleMesh>(box_shape(low, high)); }

/// Looks along +Y from 2000 mm before the origin: 1 mm in the plane y = 0 is k pixels.
Frame front_frame() {
    Frame frame;
    frame.camera = {{0, -2000, 0}, {0, 0, 0}, {0, 0, 1}, 0.6, false};
    frame.floor = false;
    return frame;
}

DrawnBody body(SharedMesh mesh, const Colour& colour, std::uint32_t number, const Vec3& at = {0, 0, 0}) {
    return {std::move(mesh), {Mat3{1.0}, at}, colour, Emphasis::plain, number};
}

constexpr int kWidth = 400;
constexpr int kHeight = 300;

/// Similar triangles: half the picture's height is tan(angle / 2) times the depth.
double pixels_per_mm(double depth_mm, double angle_rad = 0.6, int height = kHeight) {
    return 0.5 * height / (depth_mm * std::tan(0.5 * angle_rad));
}

Image bare(Frame frame) {
    frame.bodies.clear();
    return draw_offscreen(frame, kWidth, kHeight);
}

const Colour kWood{0.85F, 0.75F, 0.6F};
const Colour kSteel{0.3F, 0.4F, 0.5F};

} // namespace

TEST_CASE("a plate covers the pixels that similar triangles say, and no others") {
    for (const bool parallel : {false, true}) {
        CAPTURE(parallel);
        Frame frame = front_frame();
        frame.camera.parallel = parallel;
        // A sheet in the plane y = 0; off the middle on both axes, so that a mirror or a swap shows.
        auto sheet = std::make_shared<TriangleMesh>();
        sheet->vertices_mm = {{100, 0, 50}, {350, 0, 50}, {350, 0, 230}, {100, 0, 230}};
        sheet->triangles = {{0, 1, 2}, {0, 2, 3}};
        frame.bodies = {body(sheet, kWood, 0)};
        const Image image = draw_offscreen(frame, kWidth, kHeight);
        // Its dark edges are drawn on the silhouette, half a pixel over; pixels that they cover less than half do not count.
        const Rectangle covered = changed(image, bare(frame), 110);
        const double k = pixels_per_mm(2000);
        CHECK(std::abs(covered.left - (0.5 * kWidth + 100 * k)) <= 1.0);
        CHECK(std::abs(covered.right - (0.5 * kWidth + 350 * k)) <= 1.0);
        CHECK(std::abs(covered.top - (0.5 * kHeight - 230 * k)) <= 1.0);
        CHECK(std::abs(covered.bottom - (0.5 * kHeight - 50 * k)) <= 1.0);
    }
}

TEST_CASE("operator at -Y looking toward +Y sees +X on the right and +Z on top") {
    Frame frame = front_frame();
    frame.bodies = {body(box({300, -10, 200}, {400, 10, 300}), kWood, 0)};
    const Rectangle covered = changed(draw_offscreen(frame, kWidth, kHeight), bare(frame));
    REQUIRE(!covered.empty());
    CHECK(covered.left > kWidth / 2);
    CHECK(covered.bottom < kHeight / 2);
}

TEST_CASE("the nearer body hides the farther, in whichever order they are given") {
    const DrawnBody far_one = body(box({-300, 100, -300}, {300, 120, 300}), kWood, 0);
    const DrawnBody near_one = body(box({-100, 0, -100}, {100, 20, 100}), kSteel, 1);
    Frame only_near = front_frame();
    only_near.bodies = {near_one};
    const Pixel near_tone = pixel(draw_offscreen(only_near, kWidth, kHeight), kWidth / 2, kHeight / 2);
    for (const auto& bodies : {std::vector{far_one, near_one}, std::vector{near_one, far_one}}) {
        Frame frame = front_frame();
        frame.bodies = bodies;
        const Image image = draw_offscreen(frame, kWidth, kHeight);
        CHECK(difference(pixel(image, kWidth / 2, kHeight / 2), near_tone) <= 1);
        CHECK(difference(pixel(image, kWidth / 2 - 40, kHeight / 2), near_tone) > 40); // beside it, the far one
    }
}

TEST_CASE("a hundredth of a millimetre decides what lies before what, 2 m away") {
    Frame frame = front_frame();
    frame.bodies = {body(box({-300, 0.05, -200}, {300, 20, 200}), kWood, 0),
                    body(box({-100, 0.0, -100}, {100, 20, 100}), kSteel, 1)};
    const Image image = draw_offscreen(frame, kWidth, kHeight);
    Frame only = front_frame();
    only.bodies = {frame.bodies[1]};
    const Pixel steel = pixel(draw_offscreen(only, kWidth, kHeight), kWidth / 2, kHeight / 2);
    for (int y = kHeight / 2 - 15; y <= kHeight / 2 + 15; ++y) {
        for (int x = kWidth / 2 - 15; x <= kWidth / 2 + 15; ++x) {
            REQUIRE(difference(pixel(image, x, y), steel) <= 1);
        }
    }
}

TEST_CASE("the same frame gives the same bytes") {
    Frame frame = front_frame();
    frame.floor = true;
    frame.camera.eye_mm = {900, -1500, 700};
    frame.bodies = {body(box({-300, -100, 0}, {300, 100, 200}), kWood, 0),
                    body(std::make_shared<TriangleMesh>(icosphere_shape(120, 4)), kSteel, 1, {0, 0, 320})};
    frame.bodies[1].emphasis = Emphasis::lit;
    frame.bodies[0].emphasis = Emphasis::dimmed;
    const Image first = draw_offscreen(frame, kWidth, kHeight);
    CHECK(first.rgba == draw_offscreen(frame, kWidth, kHeight).rgba);
    const auto both = draw_offscreen({frame, frame}, kWidth, kHeight); // and when everything is kept from the first
    CHECK(both[0].rgba == first.rgba);
    CHECK(both[1].rgba == first.rgba);
}

TEST_CASE("a kilometre from the origin the picture is the same") {
    Frame frame = front_frame();
    frame.bodies = {body(std::make_shared<TriangleMesh>(icosphere_shape(250, 4)), kWood, 0)};
    const Image here = draw_offscreen(frame, kWidth, kHeight);
    // Half of the way in the mesh's own numbers, half in its pose.
    const Vec3 away{4e5, -7e5, 6e5};
    auto moved = std::make_shared<TriangleMesh>(*frame.bodies[0].mesh);
    for (Vec3& vertex : moved->vertices_mm) {
        vertex += away;
    }
    frame.bodies = {body(moved, kWood, 0, away)};
    frame.camera.eye_mm += 2.0 * away;
    frame.camera.target_mm += 2.0 * away;
    const Image there = draw_offscreen(frame, kWidth, kHeight);
    CHECK(changed(here, there, 3).empty());
}

TEST_CASE("nothing to draw, and spoiled data, still give a picture") {
    const Image ground = bare(front_frame());
    CHECK(ground.rgba.size() == 4U * kWidth * kHeight);
    Frame frame = front_frame();
    frame.floor = true;
    CHECK(draw_offscreen(frame, kWidth, kHeight).rgba == ground.rgba); // no bodies: no floor to stand on

    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double infinite = std::numeric_limits<double>::infinity();
    frame = front_frame();
    frame.bodies = {body(box({-100, -10, -100}, {100, 10, 100}), kWood, 0)};
    const Image sound = draw_offscreen(frame, kWidth, kHeight);

    SUBCASE("a mesh with a vertex that is no number loses the triangles on it and no more") {
        auto spoiled = std::make_shared<TriangleMesh>(*frame.bodies[0].mesh);
        for (const double bad : {nan, infinite, -infinite, 1e300}) {
            spoiled->vertices_mm.emplace_back(0, bad, 0);
            spoiled->triangles.push_back({0, 1, static_cast<std::uint32_t>(spoiled->vertices_mm.size() - 1)});
        }
        spoiled->triangles.push_back({0, 1, 4'000'000'000U}); // a corner that there is not
        frame.bodies[0].mesh = spoiled;
        CHECK(draw_offscreen(frame, kWidth, kHeight).rgba == sound.rgba);
    }
    SUBCASE("bodies that are nowhere or nothing are passed over") {
        frame.bodies.push_back(body(nullptr, kSteel, 1));
        frame.bodies.push_back(body(std::make_shared<TriangleMesh>(), kSteel, 2));
        frame.bodies.push_back(body(box({0, 0, 0}, {1, 1, 1}), kSteel, 3, {0, nan, 0}));
        frame.bodies.push_back(body(box({0, 0, 0}, {1, 1, 1}), kSteel, 4, {0, infinite, 0}));
        frame.lines.push_back({{0, 0, nan}, {1, 1, 1}, kSteel});
        frame.spots.push_back({{0, nan, 0}, kSteel});
        CHECK(draw_offscreen(frame, kWidth, kHeight).rgba == sound.rgba);
    }
    SUBCASE("a camera that cannot see shows the bare ground") {
        for (const Vec3& eye : {Vec3{0, 0, 0}, Vec3{nan, 0, 0}, Vec3{0, infinite, 0}}) {
            frame.camera.eye_mm = eye;
            CHECK(draw_offscreen(frame, kWidth, kHeight).rgba == ground.rgba);
        }
    }
}

TEST_CASE("a size without pixels is refused in words") {
    CHECK_THROWS_AS((void)draw_offscreen(front_frame(), 0, 100), std::invalid_argument);
    CHECK_THROWS_AS((void)draw_offscreen(front_frame(), 1'000'000, 10), std::runtime_error);
}

TEST_CASE("a PNG reads back as it was written (stb_image as the outside reader)") {
    Frame frame = front_frame();
    frame.bodies = {body(box({-100, -10, -100}, {100, 10, 100}), kWood, 0)};
    const Image image = draw_offscreen(frame, 123, 45);
    const auto file = std::filesystem::temp_directory_path() / "evenclose render test.png";
    write_png(image, file.string());
    int width = 0;
    int height = 0;
    int channels = 0;
    stbi_uc* read = stbi_load(file.string().c_str(), &width, &height, &channels, 4);
    REQUIRE(read != nullptr);
    CHECK(width == 123);
    CHECK(height == 45);
    CHECK(std::equal(image.rgba.begin(), image.rgba.end(), read));
    stbi_image_free(read);
    std::filesystem::remove(file);

    CHECK_THROWS_WITH_AS(write_png(image, "/no such folder/a.png"),
                         "/no such folder/a.png: there is no folder /no such folder",
                         std::runtime_error);
    CHECK_THROWS_AS(write_png({3, 3, {}}, file.string()), std::runtime_error);
    CHECK(!std::filesystem::exists(file));
}
