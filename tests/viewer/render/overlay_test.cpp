#include "viewer/render/overlay.hpp"

#include "viewer/cli/picture_words.hpp"
#include "viewer/render/camera_fit.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/render/name_anchors.hpp"

#include "tests/viewer/render/shop_press.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <set>

namespace evenclose {
namespace {

Image blank(int width, int height) {
    Image image{width, height, {}};
    image.rgba.assign(4 * static_cast<std::size_t>(width) * static_cast<std::size_t>(height), 255);
    return image;
}
std::array<int, 3> at(const Image& image, int x, int y) {
    const std::uint8_t* pixel = &image.rgba[4 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(image.width) +
                                                 static_cast<std::size_t>(x))];
    return {pixel[0], pixel[1], pixel[2]};
}
/// Pixels that are not white.
int inked(const Image& image, int left, int top, int right, int bottom) {
    int count = 0;
    for (int y = top; y < bottom; ++y) {
        for (int x = left; x < right; ++x) {
            count += at(image, x, y) != std::array{255, 255, 255} ? 1 : 0;
        }
    }
    return count;
}

} // namespace

TEST_CASE("overlay: a filled box has its colour, its place and nothing around it, half a colour lets half through") {
    Image image = blank(101, 60); // rows that are no multiple of anything
    {
        Overlay over(image);
        over.fill(10, 20, 30, 10, {1, 0, 0, 1});
        over.fill(60, 20, 30, 10, {0, 0, 1, 0.5F});
    }
    CHECK(at(image, 10, 20) == std::array{255, 0, 0});
    CHECK(at(image, 39, 29) == std::array{255, 0, 0});
    CHECK(at(image, 9, 20) == std::array{255, 255, 255});
    CHECK(at(image, 40, 29) == std::array{255, 255, 255});
    CHECK(inked(image, 0, 0, 101, 60) == 600);
    const auto half = at(image, 70, 25);
    CHECK(std::abs(half[0] - 127) <= 1);
    CHECK(half[2] == 255);
    CHECK(image.rgba[3] == 255); // the picture itself stays as opaque as it was
}

TEST_CASE(
    "overlay: words stand on one line whatever is in them, end in dots where there is no room, and may be any bytes") {
    Image image = blank(600, 40);
    double wide = 0;
    {
        Overlay over(image);
        wide = over.width_of("gap less stack", 16);
        over.words(10, 5, 16, "gap less stack", {0, 0, 0, 1});
        CHECK(over.width_of("gap less stack", 32) == doctest::Approx(2 * wide).epsilon(0.02));
        CHECK(over.width_of("+0.30 mm – \xc3\xb8 200", 16) > 0);
        over.words(300, 5, 16, "\xff\xfe not text", {0, 0, 0, 1});
        over.words(450, 5, 16, "a name much longer than its room", {0, 0, 0, 1}, false, 60);
    }
    CHECK(wide > 80);
    CHECK(wide < 160);
    CHECK(inked(image, 10, 5, 10 + static_cast<int>(wide), 5 + 22) > 200);
    CHECK(inked(image, 0, 0, 600, 5) == 0);   // nothing above the line
    CHECK(inked(image, 0, 28, 600, 40) == 0); // nor below
    CHECK(inked(image, 300, 5, 420, 28) > 50);
    CHECK(inked(image, 450, 5, 512, 28) > 50);
    CHECK(inked(image, 513, 0, 600, 40) == 0);
}

TEST_CASE("overlay: what lies outside the picture is left out") {
    Image image = blank(20, 20);
    const Image before = image;
    {
        Overlay over(image);
        over.fill(-50, -50, 40, 40, {0, 0, 0, 1});
        over.words(1e7, -1e7, 16, "far away", {0, 0, 0, 1});
    }
    CHECK(image.rgba == before.rgba);
}

TEST_CASE("names: each thing that can be seen is pointed at where it can be seen, and nothing that is covered") {
    const Setup setup = test::shop_setup();
    const Assembly assembly = assemble(setup);
    FrameRequest request;
    request.aspect = 1.6;
    const Frame frame = frame_of(assembly, request);
    const auto anchors = name_anchors(frame, assembly, 640, 400, [](double, double) { return false; });
    std::set<std::string> names;
    for (const NameAnchor& anchor : anchors) {
        CHECK(names.insert(anchor.name).second); // each once
        CHECK(anchor.seen > 0.0F);
    }
    CHECK(names.size() > 5);
    CHECK(name_anchors(frame, assembly, 640, 400, [](double, double) { return true; }).empty());
    const auto right = name_anchors(frame, assembly, 640, 400, [](double x, double) { return x < 320; });
    CHECK_FALSE(right.empty());
    CHECK(right.size() <= anchors.size());

    Image image = blank(640, 400);
    const std::size_t left_out = write_names(image, frame, assembly, {}, 1);
    CHECK(left_out < anchors.size());
    CHECK(inked(image, 0, 0, 640, 400) > 1000);
    Image small = blank(640, 60); // room for few
    CHECK(write_names(small, frame, assembly, {}, 1) > left_out);
    Image taken = blank(640, 400);
    CHECK(write_names(taken, frame, assembly, {{0, 0, 640, 400}}, 1) == 0); // all is covered: nobody is pointed at
    CHECK(inked(taken, 0, 0, 640, 400) == 0);
}

TEST_CASE("names and scale: the bar's length is that of a length in the picture") {
    const Setup setup = test::shop_setup();
    const Assembly assembly = assemble(setup);
    FrameRequest request;
    request.aspect = 1.6;
    request.view = "front";
    const Frame frame = frame_of(assembly, request);
    REQUIRE(frame.camera.parallel);
    Image image = blank(640, 400);
    const PictureBox box = write_scale_bar(image, frame.camera, 1);
    CHECK(box.width > 50);
    CHECK(inked(image, static_cast<int>(box.left), static_cast<int>(box.top), 640, 400) > 500);
    CHECK(inked(image, 0, 0, static_cast<int>(box.left) - 1, 400) == 0);
}

} // namespace evenclose
