// From assembly to picture data: cameras that fit, emphasis, poses.
#include "tests/viewer/render/shop_press.hpp"
#include "tests/within.hpp"
#include "viewer/render/camera_fit.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/render/ray_pick.hpp"
#include "viewer/render/view.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <cmath>
#include <limits>
#include <random>

using namespace evenclose;
using namespace evenclose::test;

namespace {

const Assembly& shop() {
    static const Assembly assembly = assemble(shop_setup(24, 8));
    return assembly;
}

struct Spread {
    double left = 1e300, right = -1e300, top = 1e300, bottom = -1e300;
};

/// Where all vertices of all bodies fall, as shares of the picture, 0 to 1.
Spread spread_of(const Frame& frame, double aspect, const auto& wanted) {
    Spread spread;
    const int height = 1000;
    const int width = static_cast<int>(std::lround(height * aspect));
    for (const DrawnBody& body : frame.bodies) {
        if (!wanted(body)) {
            continue;
        }
        for (const Vec3& vertex : body.mesh->vertices_mm) {
            const auto at = pixel_of(frame.camera, width, height, body.pose.apply(vertex));
            REQUIRE(at); // none behind the eye
            spread.left = std::min(spread.left, at->x / width);
            spread.right = std::max(spread.right, at->x / width);
            spread.top = std::min(spread.top, at->y / height);
            spread.bottom = std::max(spread.bottom, at->y / height);
        }
    }
    return spread;
}

std::size_t body_named(const Assembly& assembly, const std::string& name) {
    for (std::size_t i = 0; i < assembly.bodies.size(); ++i) {
        if (assembly.bodies[i].name == name) {
            return i;
        }
    }
    FAIL(name);
    return 0;
}

} // namespace

TEST_CASE("every view shows the whole press, at both ends of the stroke, in any shape of picture, and fills it") {
    for (const std::string& view : view_names()) {
        for (const double aspect : {0.4, 1.0, 1.6, 2.4, 5.0}) {
            Spread all;
            for (const double travel : {0.0, shop().last.mm}) {
                CAPTURE(view);
                CAPTURE(aspect);
                CAPTURE(travel);
                const Frame frame = frame_of(shop(), {.at = {travel}, .view = view, .aspect = aspect});
                const Spread spread = spread_of(frame, aspect, [&](const DrawnBody& body) {
                    const Part part = shop().bodies[body.body].part;
                    return view != "mold" || part == Part::mold_lower || part == Part::mold_upper;
                });
                CHECK(spread.left > 0.03);
                CHECK(spread.right < 0.97);
                CHECK(spread.top > 0.03);
                CHECK(spread.bottom < 0.97);
                all = {std::min(all.left, spread.left), std::max(all.right, spread.right),
                       std::min(all.top, spread.top), std::max(all.bottom, spread.bottom)};
            }
            CAPTURE(view);
            CAPTURE(aspect);
            CHECK(std::max(all.right - all.left, all.bottom - all.top) > 0.75);
        }
    }
}

TEST_CASE("the fit touches its margins exactly: nothing nearer would do") {
    std::mt19937 random(4711);
    std::uniform_real_distribution<double> anywhere(-1000, 1000);
    for (int trial = 0; trial < 200; ++trial) {
        CAPTURE(trial);
        std::vector<Vec3> places(2 + static_cast<std::size_t>(trial % 9));
        for (Vec3& place : places) {
            place = {anywhere(random), anywhere(random), anywhere(random)};
        }
        FitRequest request;
        request.towards_viewer = {anywhere(random), anywhere(random), anywhere(random)};
        request.aspect = 0.5 + (trial % 7) * 0.4;
        request.parallel = trial % 2 == 0;
        request.margin = 0.1;
        const Camera camera = fit_camera(places, request);
        const double width = 1000 * request.aspect;
        double least_room = 1;
        for (const Vec3& place : places) {
            const auto at = pixel_of(camera, static_cast<int>(std::lround(width)), 1000, place);
            REQUIRE(at);
            for (const double share : {at->x / width, 1 - at->x / width, at->y / 1000, 1 - at->y / 1000}) {
                least_room = std::min(least_room, share);
            }
        }
        CHECK(near(least_room, 0.1, 1e-3));
    }
}

TEST_CASE("one place, or many at one, is looked at from near by") {
    const std::vector<Vec3> places(3, Vec3{10, 20, 30});
    for (const bool parallel : {false, true}) {
        const Camera camera = fit_camera(places, {.parallel = parallel});
        CHECK(near(glm::length(camera.target_mm - places[0]), 0, 1e-9));
        CHECK(near(glm::length(camera.eye_mm - camera.target_mm), 100, 1e-9));
    }
}

TEST_CASE("front view: what is at +X is on the right, what is at -Y in front") {
    const Frame frame = frame_of(shop(), {.view = "front", .aspect = 1.6});
    const auto left = pixel_of(frame.camera, 1600, 1000, {-560, -210, 600});
    const auto right = pixel_of(frame.camera, 1600, 1000, {560, -210, 600});
    REQUIRE(left);
    REQUIRE(right);
    CHECK(left->x < right->x);
    const auto hit = ray_pick(frame, 1600, 1000, right->x, right->y);
    REQUIRE(hit);
    CHECK(shop().bodies[hit->body].name == "front right post");
    const Frame back = frame_of(shop(), {.view = "back", .aspect = 1.6});
    CHECK(pixel_of(back.camera, 1600, 1000, {560, 0, 600})->x < 800);
    const Frame from_left =
        frame_of(shop(), {.view = "left", .aspect = 1.6}); // seen from -X: the front is on the right
    CHECK(pixel_of(from_left.camera, 1600, 1000, {0, -300, 600})->x > 800);
    const Frame top = frame_of(shop(), {.view = "top", .aspect = 1.6});
    CHECK(pixel_of(top.camera, 1600, 1000, {560, 0, 600})->x > 800);
    CHECK(pixel_of(top.camera, 1600, 1000, {0, 300, 600})->y < 500);
}

TEST_CASE("an unknown view is refused with the names that there are") {
    CHECK_THROWS_WITH_AS((void)camera_for(shop(), "sideways", 1.6),
                         "there is no view \"sideways\"; choose one of corner, front, back, left, right, top, mold",
                         std::invalid_argument);
}

TEST_CASE("bodies stand where the ride brings them, a magnified tilt is that many times as steep") {
    const Assembly& assembly = shop();
    const std::size_t platen = body_named(assembly, "platen");
    const Travel at{100};
    const Slope slope{0.001, -0.0005};
    const Frame real = frame_of(assembly, {.at = at, .slope = slope});
    const Frame drawn = frame_of(assembly, {.at = at, .slope = slope, .tilt_magnified = 40});
    for (std::size_t i = 0; i < real.bodies.size(); ++i) {
        const Body& body = assembly.bodies[real.bodies[i].body];
        const bool tilts = body.ride == 1; // the platen's; screws only rise
        Pose expected = pose_at(assembly.rides[body.ride], body.placement, at, tilts ? slope : Slope{});
        if (body.of_jack) { // a screw's head stands where the drawn platen is, level before it rose
            const Vec2 from_pivot = body.of_jack->at_mm - Vec2{assembly.rides[1].pivot_mm};
            expected.translation_mm.z = body.placement.translation_mm.z + assembly.rides[1].lift_mm(at) +
                                        slope.x * from_pivot.x + slope.y * from_pivot.y;
        }
        const Vec3 place = body.turning ? body.turning->from_mm : Vec3{0.0}; // a screw turns about its axis
        CHECK(glm::length(real.bodies[i].pose.apply(place) - expected.apply(place)) < 1e-9);
        const Vec3 normal = drawn.bodies[i].pose.turn(inverse(body.placement).turn({0, 0, 1}));
        CHECK(
            near(-normal.x / normal.z, tilts ? 0.04 : 0.0, 1e-12)); // a plane z = sx x + sy y has normal (-sx, -sy, 1)
        CHECK(near(-normal.y / normal.z, tilts ? -0.02 : 0.0, 1e-12));
    }
    const Vec3 pivot = assembly.rides[assembly.bodies[platen].ride].pivot_mm;
    const Pose& placement = assembly.bodies[platen].placement;
    const Vec3 in_platen = inverse(placement).apply(pivot);
    const double lift = assembly.rides[assembly.bodies[platen].ride].lift_mm(at);
    CHECK(glm::length(drawn.bodies[platen].pose.apply(in_platen) - (pivot + Vec3{0, 0, lift})) < 1e-9);
}

TEST_CASE("a tilt is looked at square to the way the platen falls, and whole") {
    Finding finding;
    finding.check = "level";
    finding.bodies = {"platen"};
    finding.at_mm = Vec3{0, 0, 600};
    finding.slope = Slope{0.004, -0.001};
    CHECK(camera_for(shop(), finding, 1.6).eye_mm == camera_for(shop(), "front", 1.6).eye_mm);
    finding.slope = Slope{0.001, -0.004};
    CHECK(camera_for(shop(), finding, 1.6).eye_mm == camera_for(shop(), "left", 1.6).eye_mm);
}

TEST_CASE("a chosen finding lights its bodies, dims the others and marks its spot") {
    Finding finding;
    finding.check = "level";
    finding.verdict = Verdict::marginal;
    finding.bodies = {"platen", "front left post"};
    finding.at_mm = Vec3{1, 2, 3};
    Frame frame = frame_of(shop(), {.chosen = &finding});
    for (const DrawnBody& body : frame.bodies) {
        const std::string& name = shop().bodies[body.body].name;
        CHECK(body.emphasis == (name == "platen" || name == "front left post" ? Emphasis::lit : Emphasis::dimmed));
    }
    REQUIRE(frame.spots.size() == 1);
    CHECK(frame.spots[0].at_mm == Vec3{1, 2, 3});

    finding.check = "travel";
    finding.verdict = Verdict::no_go;
    frame = frame_of(shop(), {.chosen = &finding});
    CHECK(frame.bodies[body_named(shop(), "platen")].emphasis == Emphasis::foul);

    finding.bodies.clear();
    finding.at_mm.reset();
    frame = frame_of(shop(), {.chosen = &finding});
    CHECK(frame.bodies[0].emphasis == Emphasis::plain);
    CHECK(frame.spots.empty());
}

TEST_CASE("the finding's camera sees its spot, past posts that stand before it") {
    const Assembly& assembly = shop();
    Finding finding;
    finding.check = "travel";
    finding.bodies = {"Dune deck lower half", "platen"};
    finding.travel = TravelInterval{{60}, {60}};
    for (const Vec3& spot : {Vec3{440, -120, 570}, Vec3{-440, -120, 570}, Vec3{440, 120, 570}, Vec3{0, 120, 570}}) {
        CAPTURE(spot.x);
        CAPTURE(spot.y);
        finding.at_mm = spot;
        const Camera camera = camera_for(assembly, finding, 1.6);
        CHECK(glm::length(camera.target_mm - spot) < 1e-9);
        CHECK(glm::length(camera.eye_mm - spot) < 1200);
        Frame frame = frame_of(assembly, {.at = {60}});
        frame.camera = camera;
        const auto hit = ray_pick(frame, 1600, 1000, 800, 500);
        REQUIRE(hit);
        const std::string& name = assembly.bodies[hit->body].name;
        CAPTURE(name);
        CHECK((name == "Dune deck lower half" || name == "platen" || glm::length(hit->at_mm - spot) < 2.0));
    }
    finding.at_mm.reset(); // the bodies themselves
    const Camera camera = camera_for(assembly, finding, 1.6);
    CHECK(glm::length(camera.target_mm - Vec3{0, 0, 600}) < 200);
    finding.bodies.clear();
    const Camera corner = camera_for(assembly, finding, 1.6);
    CHECK(corner.eye_mm == camera_for(assembly, "corner", 1.6).eye_mm);
}

TEST_CASE("an empty assembly and spoiled vertices leave a usable camera") {
    const Assembly empty;
    const Frame frame = frame_of(empty, {});
    CHECK(frame.bodies.empty());
    CHECK(std::isfinite(frame.camera.eye_mm.x));
    Assembly spoiled = shop();
    auto mesh = std::make_shared<TriangleMesh>(*spoiled.bodies[0].mesh);
    mesh->vertices_mm.emplace_back(std::numeric_limits<double>::quiet_NaN(), 0, 0);
    mesh->vertices_mm.emplace_back(0, std::numeric_limits<double>::infinity(), 0);
    spoiled.bodies[0].mesh = mesh;
    const Camera camera = camera_for(spoiled, "corner", 1.6);
    CHECK(glm::length(camera.eye_mm - camera_for(shop(), "corner", 1.6).eye_mm) < 1e-9);
}

TEST_CASE("parts that touch differ in lightness, in both palettes (CIE L*)") {
    for (const Palette* palette : {&light_palette(), &dark_palette()}) {
        struct Pair {
            std::string which;
            Colour a, b;
        };
        const Pair pairs[] = {{"platen, lower half", palette->platen, palette->mold_lower},
                              {"halves", palette->mold_lower, palette->mold_upper},
                              {"upper half, timber head", palette->mold_upper, palette->timber},
                              {"upper half, steel head", palette->mold_upper, palette->steel},
                              {"platen, timber", palette->platen, palette->timber},
                              {"platen, steel", palette->platen, palette->steel},
                              {"timber, steel", palette->timber, palette->steel},
                              {"jack, its screw", palette->jack_body, palette->jack_screw},
                              {"post, sleeve", palette->guide_post, palette->guide_sleeve},
                              {"platen, screw", palette->platen, palette->jack_screw},
                              {"foul, stripe", palette->surroundings.foul, palette->surroundings.foul_stripe}};
        for (const Pair& pair : pairs) {
            CAPTURE(pair.which);
            CHECK(std::abs(lightness(pair.a) - lightness(pair.b)) >= 9);
        }
    }
    CHECK(near(lightness({1, 1, 1, 1}), 100, 1e-6));
    CHECK(near(lightness({0, 0, 0, 1}), 0, 1e-12));
    CHECK(near(lightness({119 / 255.0F, 119 / 255.0F, 119 / 255.0F, 1}), 50.03, 0.01)); // sRGB 119, CIE 15 by hand
}
