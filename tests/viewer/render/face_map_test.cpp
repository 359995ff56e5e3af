// What was measured over the deck, as colours, a scale and a cut.
#include "viewer/render/face_map.hpp"

#include "checks/bend/bend.hpp"
#include "checks/cavity/cavity.hpp"
#include "scene/mesh/soundness.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/checks/cavity/field_half.hpp"
#include "tests/within.hpp"
#include "viewer/render/cut_stack.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/render/map_spot.hpp"
#include "viewer/render/palette.hpp"
#include "viewer/render/renderer.hpp"

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <algorithm>
#include <cmath>

namespace evenclose {

using test::BlockSetup;
using test::near;
using test::within;

namespace {

struct DeckShop : BlockSetup {
    Assembly assembly;
    CheckResults results;

    /// The deck mold with an upper half made for `upper_mm`, pressed on a stack of `stack_mm`.
    DeckShop(double upper_mm, double stack_mm) {
        mold.lower.shape = mold.upper.shape = MeshHalf{"half.stl", {}, {}, 0, false};
        mold.lower.mesh = test::share(test::deck_lower());
        mold.upper.mesh = test::share(test::deck_upper(upper_mm));
        mold.shut_height_mm.reset();
        mold.deck_size_mm = Vec2{500, 140};
        mold.stack.plies.assign(4, {stack_mm / 4, "birch", Grain::along});
        mold.stack.plies[1].grain = Grain::across;
        made();
        assembly = assemble(setup);
        Progress progress;
        results = run_checks(setup, assembly, {{"cavity", "bend"}, 0}, progress);
    }
};

} // namespace

TEST_CASE("colour scale: darker outward on both sides, a step at the tolerance, ends that hold") {
    const ColourScale scale{"", "", "", 0.3, 1.2, {}};
    for (const double side : {1.0, -1.0}) {
        CAPTURE(side);
        double before = 101;
        for (double value = 0; value < 1.5; value += 0.05) {
            const double now = lightness(scale.at(side * value));
            CHECK(now <= before + 1e-9);
            before = now;
        }
        // Lightness alone, as on a grey print, tells what is out of tolerance.
        CHECK(lightness(scale.at(side * 0.299)) - lightness(scale.at(side * 0.301)) > 8);
        CHECK(lightness(scale.at(side * 1.2)) < 40);
        CHECK(near(lightness(scale.at(side * 1.2)), lightness(scale.at(side * 50)), 1e-9));
    }
    // Too wide is blue, too narrow orange: the pair that every colour vision tells apart.
    CHECK(scale.at(1.2).blue > scale.at(1.2).red + 0.3F);
    CHECK(scale.at(-1.2).red > scale.at(-1.2).blue + 0.3F);
}

TEST_CASE("a cavity map lies on the lower half's forming face over the deck, coloured by the excess") {
    const DeckShop shop(10.5, 10); // half a millimetre too wide, 0.3 allowed
    const auto map = face_map(MapKind::cavity, shop.setup, shop.results, UnitSystem::metric);
    REQUIRE(map);
    REQUIRE(map->tint->size() == map->surface->vertices_mm.size());
    CHECK(map->surface->triangles.size() > 1000);
    for (std::size_t i = 0; i < map->tint->size(); ++i) {
        const Vec3& v = map->surface->vertices_mm[i];
        CHECK(near((*map->tint)[i].red, map->scale.at(0.5).red, 0.03));
        CHECK(near(v.z, test::deck_z(v.x, v.y), 1.0)); // lies on the face
        CHECK((std::abs(v.x) < 251 && std::abs(v.y) < 71));
    }
    CHECK(within(surface_area_mm2(*map->surface), shop.results.cavity->normal.faced_mm2, 0.05));
    CHECK(map->scale.tolerance == 0.3);
    CHECK(std::count_if(map->scale.ticks.begin(), map->scale.ticks.end(),
                        [](const ScaleTick& t) { return t.tolerance; }) == 2);
    CHECK(map->scale.ticks.back().words == "+0.6 mm");

    const auto bend = face_map(MapKind::bend, shop.setup, shop.results, UnitSystem::metric);
    REQUIRE(bend);
    CHECK(bend->tint->size() == bend->surface->vertices_mm.size());
    CHECK(within(surface_area_mm2(*bend->surface), shop.results.cavity->normal.faced_mm2, 0.1));
    CHECK_FALSE(face_map(MapKind::none, shop.setup, shop.results, UnitSystem::metric).has_value());
    CHECK_FALSE(face_map(MapKind::cavity, shop.setup, CheckResults{}, UnitSystem::metric).has_value());
    CHECK(map_named("bend") == MapKind::bend);
    CHECK_FALSE(map_named("bent").has_value());
}

TEST_CASE("joints between print pieces lie on the face of the curvature map, and the scale says what they are") {
    DeckShop shop(10, 10);
    CHECK(face_map(MapKind::bend, shop.setup, shop.results, UnitSystem::metric)->joints.empty()); // no printer stated
    shop.mold.print = PrintJob{};
    shop.mold.print->build_volume_mm = Vec3{210, 190, 200}; // 600 x 180: three pieces along X, joints at -100 and 100
    shop.made();
    const auto map = face_map(MapKind::bend, shop.setup, shop.results, UnitSystem::metric);
    REQUIRE(map);
    double length[2] = {0, 0};
    for (const auto& [from, to] : map->joints) {
        for (const Vec3& at : {from, to}) {
            CHECK(near(std::abs(at.x), 100, 0.5)); // a little aside, for it is lifted off along the normal
            CHECK(at.z > test::deck_z(at.x, at.y) + 0.5);
            CHECK(at.z < test::deck_z(at.x, at.y) + 3);
        }
        length[from.x > 0 ? 1 : 0] += std::abs(to.y - from.y);
    }
    for (const double across : length) {
        CHECK(near(across, 140, 2 * shop.results.bend->lower.grid.step_mm)); // over the deck and no farther
    }
    CHECK(map->scale.lines == "joint of the print");
    CHECK(face_map(MapKind::cavity, shop.setup, shop.results, UnitSystem::metric)->joints.empty());
    FrameRequest request;
    request.at = shop.assembly.last;
    Frame frame = frame_of(shop.assembly, request);
    const std::size_t lines = frame.lines.size();
    lay_map(frame, shop.assembly, *map);
    CHECK(frame.lines.size() == lines + map->joints.size());
}

TEST_CASE("the worst spot of a map, and the one nearest to a place, with their numbers") {
    const DeckShop shop(10.5, 10); // half a millimetre too wide everywhere
    const auto gap = map_spot(MapKind::cavity, shop.results, UnitSystem::metric);
    REQUIRE(gap);
    CHECK(near(gap->value, 0.5, 0.05));
    CHECK(gap->words.starts_with("worst: +0."));
    CHECK(gap->words.ends_with(" mm, too wide"));
    for (std::size_t i = 0; i < shop.results.cavity->map.samples.size(); ++i) {
        if (shop.results.cavity->map.samples[i].seen == Seen::faced) {
            CHECK(std::abs(shop.results.cavity->map.excess_mm(i)) <= std::abs(gap->value));
        }
    }
    const auto there = map_spot(MapKind::cavity, shop.results, UnitSystem::metric, Vec3{-100, 30, 0});
    REQUIRE(there);
    CHECK(near(there->at_mm.x, -100, 8));
    CHECK(near(there->at_mm.y, 30, 8));
    CHECK(near(there->at_mm.z, test::deck_z(there->at_mm.x, there->at_mm.y), 0.1));

    // Hollow everywhere: the nose's parabola z = x^2 / 500 bends the most where it begins, to R 250; across R 350.
    const auto bend = map_spot(MapKind::bend, shop.results, UnitSystem::metric);
    REQUIRE(bend);
    CHECK(bend->value > 0);
    CHECK(within(1 / bend->value, 250, 0.15));
    CHECK(bend->at_mm.x > 120);
    CHECK(bend->words.starts_with("tightest: R "));
    CHECK(bend->words.ends_with(", hollow"));
    CHECK_FALSE(map_spot(MapKind::none, shop.results, UnitSystem::metric).has_value());
    CHECK_FALSE(map_spot(MapKind::cavity, CheckResults{}, UnitSystem::metric).has_value());

    // Seen so that a thumb's breadth fills the loupe, whatever the distance to the press.
    const Camera camera = camera_for_spot({1, 2, 3}, 60);
    CHECK(camera.parallel);
    CHECK(within(2 * glm::length(camera.eye_mm - camera.target_mm) * std::tan(0.5 * camera.vertical_angle_rad), 60,
                 1e-12));
}

TEST_CASE("the plies of a cut are closed solids, as thick as they are pressed") {
    const DeckShop shop(10, 10);
    const std::vector<DrawnPly> plies = ply_solids(*shop.results.cavity, shop.mold.stack);
    REQUIRE(plies.size() == 4);
    CHECK(plies[1].grain == Grain::across);
    double whole = 0;
    for (const DrawnPly& ply : plies) {
        const Soundness soundness = soundness_of(*ply.mesh);
        CHECK(soundness.open_edges.count == 0);
        CHECK(soundness.oriented());
        whole += signed_volume_mm3(*ply.mesh);
    }
    // Area of the deck times the stack; the cut's squares end up to their own width short of the outline.
    CHECK(within(whole, shop.results.cavity->normal.faced_mm2 * 10, 0.05));

    Frame frame = frame_of(shop.assembly, {.at = shop.assembly.last});
    const std::size_t before = frame.bodies.size();
    lay_cut(frame, shop.setup, shop.assembly, plies);
    CHECK(frame.bodies.size() == before + 4);
    REQUIRE(frame.section);
    // Closed, the top of the stack lies against the upper half's face: 10 above the lower one's lowest.
    Box top;
    for (const Vec3& v : plies[3].mesh->vertices_mm) {
        top.add(frame.bodies.back().pose.apply(v));
    }
    Box upper;
    for (const DrawnBody& body : frame.bodies) {
        if (body.body < shop.assembly.bodies.size() && shop.assembly.bodies[body.body].part == Part::mold_upper) {
            upper = bounds_of(*body.mesh, body.pose);
        }
    }
    CHECK(top.low_mm.z < upper.high_mm.z);
}

TEST_CASE("a map is seen in the picture, with its scale in the corner") {
    const DeckShop shop(10.5, 10);
    const auto map = face_map(MapKind::cavity, shop.setup, shop.results, UnitSystem::metric);
    REQUIRE(map);
    FrameRequest request;
    request.at = shop.assembly.last;
    request.camera = camera_for_map(shop.assembly, request.at, false, 1.6);
    Frame frame = frame_of(shop.assembly, request);
    lay_map(frame, shop.assembly, *map);
    for (const DrawnBody& body : frame.bodies) {
        CHECK(shop.assembly.bodies[body.body].part != Part::mold_upper);
    }
    Image image = draw_offscreen(frame, 640, 400);
    const auto blue_over_red = [&](int x, int y) {
        const std::uint8_t* pixel = &image.rgba[4 * (static_cast<std::size_t>(y) * 640 + static_cast<std::size_t>(x))];
        return static_cast<int>(pixel[2]) - static_cast<int>(pixel[0]);
    };
    CHECK(blue_over_red(320, 200) > 25); // the middle of the face: too wide
    const Image bare = image;
    paint_scale(image, map->scale, 1);
    CHECK(image.rgba != bare.rgba);
    // Only the corner changed.
    bool elsewhere = false;
    for (int y = 0; y < 100; ++y) {
        for (int x = 300; x < 640; ++x) {
            const std::size_t i = 4 * (static_cast<std::size_t>(y) * 640 + static_cast<std::size_t>(x));
            elsewhere = elsewhere || image.rgba[i] != bare.rgba[i];
        }
    }
    CHECK_FALSE(elsewhere);
}

} // namespace evenclose
