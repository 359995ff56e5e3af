// Where a mold in the hand is drawn to: places worked by hand.
#include "viewer/app/mold_snap.hpp"

#include "scene/mesh/shapes.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <memory>

using namespace evenclose;
using namespace evenclose::test;

namespace {

RoundFeature pin(Vec2 at, double diameter) { return {at, diameter, 0, 15, true}; }
RoundFeature hole(Vec2 at, double diameter) { return {at, diameter, -20, 0, false}; }

bool at_place(Vec2 at, Vec2 expected, double within_mm) {
    return near(at.x, expected.x, within_mm) && near(at.y, expected.y, within_mm);
}

constexpr double kQuarter = 1.5707963267948966;

/// A plate as drawn: its working face at z 0, with a pin 12 thick and 15 high at each place; for the head hanging down.
SharedMesh plate_with_pins(const std::vector<Vec2>& places, bool down = false) {
    auto mesh = std::make_shared<TriangleMesh>(down ? box_shape({-500, -150, 0}, {500, 150, 50})
                                                    : box_shape({-500, -150, -40}, {500, 150, 0}));
    for (const Vec2& at : places) {
        append(*mesh, cylinder_shape(6, 15, 48), Pose{Mat3{1.0}, {at.x, at.y, down ? -15 : 0}});
    }
    return mesh;
}

std::vector<Vec2> ring(Vec2 at, double diameter) {
    std::vector<Vec2> corners;
    for (int i = 0; i < 48; ++i) {
        const double turn = 4 * kQuarter * i / 48;
        corners.push_back(at + 0.5 * diameter * Vec2{std::cos(turn), std::sin(turn)});
    }
    return corners;
}

/// 700 x 200 from `low` to `high`, in two lengths with a hole of `diameter` through each, at `left` and at `right`.
SharedMesh half_with_holes(double low, double high, Vec2 left, Vec2 right, double diameter) {
    auto mesh = std::make_shared<TriangleMesh>(
        extruded_shape({{{-350, -100}, {0, -100}, {0, 100}, {-350, 100}}, ring(left, diameter)}, low, high));
    append(*mesh, extruded_shape({{{0, -100}, {350, -100}, {350, 100}, {0, 100}}, ring(right, diameter)}, low, high));
    return mesh;
}

struct PinnedPress : BlockSetup {
    PinnedPress(Vec2 left, Vec2 right) {
        press.platen.mesh = plate_with_pins({{-100, 20}, {100, 20}});
        mold.lower.shape = mold.upper.shape = MeshHalf{"half.stl", {}, {}, 0, false};
        mold.lower.mesh = half_with_holes(0, 80, left, right, 12.5);
    }
};

} // namespace

TEST_CASE("a mold's holes go onto the pins of its platen, in one place where two of them must") {
    // Pins 200 apart about the middle, holes 200 apart about x = 30: 30 to the left brings them together.
    auto places = registered_places({pin({-100, 0}, 12), pin({100, 0}, 12)},
                                    {hole({-70, 5}, 12.5), hole({130, 5}, 12.5)}, 0, "platen's");
    REQUIRE(places.size() == 1);
    CHECK(at_place(places[0].at_mm, Vec2{-30, -5}, 1e-9));
    CHECK(places[0].words == "at the platen's pins");
    // Turned by a quarter, what lay along X lies along Y: (-70, 5) becomes (-5, -70).
    places = registered_places({pin({10, -90}, 12), pin({10, 110}, 12)}, {hole({-70, 5}, 12.5), hole({130, 5}, 12.5)},
                               kQuarter, "platen's");
    REQUIRE(places.size() == 1);
    CHECK(at_place(places[0].at_mm, Vec2{15, -20}, 1e-9));
    // Of a row of holes 50 apart, two of the mold's, 100 apart, fit in three places; one of them alone is no place.
    places = registered_places(
        {hole({-100, 0}, 10), hole({-50, 0}, 10), hole({0, 0}, 10), hole({50, 0}, 10), hole({100, 0}, 10)},
        {hole({-50, 0}, 10), hole({50, 0}, 10)}, 0, "platen's");
    REQUIRE(places.size() == 3);
    CHECK(at_place(places[0].at_mm, Vec2{-50, 0}, 1e-9));
    CHECK(at_place(places[1].at_mm, Vec2{0, 0}, 1e-9));
    CHECK(at_place(places[2].at_mm, Vec2{50, 0}, 1e-9));
    CHECK(places[0].words == "at the platen's holes");
    // A quarter of a millimetre off each way is shared between them.
    places = registered_places({pin({-100, 0}, 12), pin({100, 0}, 12)},
                               {hole({-100.1, 0}, 12.5), hole({100.1, 0}, 12.5)}, 0, "platen's");
    REQUIRE(places.size() == 1);
    CHECK(at_place(places[0].at_mm, Vec2{0, 0}, 1e-9));
    // One pin and one hole: one place.
    places = registered_places({pin({3, 4}, 12)}, {hole({1, 1}, 12.2)}, 0, "head's");
    REQUIRE(places.size() == 1);
    CHECK(at_place(places[0].at_mm, Vec2{2, 3}, 1e-9));
    CHECK(places[0].words == "at the head's pin");
}

TEST_CASE(
    "a pin goes into no hole that is too narrow or far too wide, nor onto a pin, a dowel wants holes of one width") {
    struct Row {
        RoundFeature plate, mold;
        bool go;
    };
    const Row rows[] = {
        {pin({0, 0}, 12), hole({0, 0}, 12), true},     {pin({0, 0}, 12), hole({0, 0}, 15.5), true},
        {pin({0, 0}, 12), hole({0, 0}, 15.6), false},  {pin({0, 0}, 12), hole({0, 0}, 11.7), false},
        {hole({0, 0}, 12.5), pin({0, 0}, 12), true},   {hole({0, 0}, 11.7), pin({0, 0}, 12), false},
        {pin({0, 0}, 12), pin({0, 0}, 12), false},     {hole({0, 0}, 10), hole({0, 0}, 10.4), true},
        {hole({0, 0}, 10), hole({0, 0}, 10.6), false},
    };
    for (const Row& row : rows) {
        CAPTURE(row.plate.diameter_mm);
        CAPTURE(row.mold.diameter_mm);
        CHECK(registered_places({row.plate}, {row.mold}, 0, "platen's").size() == (row.go ? 1 : 0));
    }
    CHECK(registered_places({}, {hole({0, 0}, 10)}, 0, "platen's").empty());
    CHECK(registered_places({hole({0, 0}, 10)}, {}, 0, "platen's").empty());
}

TEST_CASE("registration is read off the meshes of platen, head and mold, each from its own middle") {
    PinnedPress press({-60, 0}, {140, 0});
    SnapTargets targets = snap_targets(press.made(), 0);
    REQUIRE(targets.places.size() == 1);
    CHECK(at_place(targets.places[0].at_mm, Vec2{-40, 20}, 0.01));
    CHECK(targets.places[0].words == "at the platen's pins");
    // 200.6 apart on the mold: more than lines up, so either hole by itself is as good.
    PinnedPress off({-60, 0}, {141.2, 0});
    CHECK(snap_targets(off.made(), 0).places.size() == 4);
    // The head stands 10 to the right of the platen; its one pin at (50, 0) of its own.
    BlockSetup head;
    head.press.head.centre_mm = {10, 0};
    head.press.head.mesh = plate_with_pins({{50, 0}}, true);
    head.mold.lower.shape = head.mold.upper.shape = MeshHalf{"half.stl", {}, {}, 0, false};
    head.mold.upper.mesh = half_with_holes(90, 160, {-200, 30}, {200, -40}, 12.5);
    targets = snap_targets(head.made(), 0);
    REQUIRE(targets.places.size() == 2);
    CHECK(at_place(targets.places[0].at_mm, {10 + 50 + 200, -30}, 0.01));
    CHECK(at_place(targets.places[1].at_mm, {10 + 50 - 200, 40}, 0.01));
    CHECK(targets.places[0].words == "at the head's pin");
}

TEST_CASE("what is no registration: blocks, pins that do not reach the back, holes that open elsewhere") {
    BlockSetup blocks;
    blocks.press.platen.mesh = plate_with_pins({{-100, 20}, {100, 20}});
    CHECK(snap_targets(blocks.made(), 0).places.empty()); // a block has no holes
    PinnedPress press({-60, 0}, {140, 0});
    press.press.platen.mesh = nullptr;
    CHECK(snap_targets(press.made(), 0).places.empty());
    // Bores that begin 30 above the back.
    PinnedPress blind({-60, 0}, {140, 0});
    auto mesh = std::make_shared<TriangleMesh>(box_shape({-350, -100, 0}, {350, 100, 30}));
    append(*mesh, *half_with_holes(30, 80, {-60, 0}, {140, 0}, 12.5));
    blind.mold.lower.mesh = mesh;
    CHECK(snap_targets(blind.made(), 0).places.empty());
}

TEST_CASE("the nearest place within reach draws both ways at once, beyond it the lines, each way by itself") {
    SnapTargets targets;
    targets.places = {{{40, 3}, "at the platen's pins"}, {{60, 0}, "at the platen's pins too"}};
    targets.lines = {{false, 0, "in the platen's middle"},
                     {true, 0, "in the platen's middle"},
                     {false, 30, "over the jacks' middle"}};
    SnappedMold to = snapped_mold({37, -1}, targets, 8);
    CHECK(to.at_mm == Vec2{40, 3});
    CHECK(to.words == "at the platen's pins");
    CHECK(snapped_mold({52, 1}, targets, 10).words == "at the platen's pins too");
    to = snapped_mold({33, 20.4}, targets, 8);
    CHECK(to.at_mm == Vec2{30, 20});
    CHECK(to.words == "over the jacks' middle along");
    to = snapped_mold({2, -3}, targets, 8);
    CHECK(to.at_mm == Vec2{0, 0});
    CHECK(to.words == "in the platen's middle");
    to = snapped_mold({-90.6, 2}, targets, 8);
    CHECK(to.at_mm == Vec2{-91, 0});
    CHECK(to.words == "in the platen's middle across");
    to = snapped_mold({-90.6, 55.5}, targets, 8);
    CHECK(to.at_mm == Vec2{-91, 56});
    CHECK(to.words.empty());
    to = snapped_mold({5.9, -6.0}, {}, 6);
    CHECK(to.at_mm == Vec2{6, -6});
}

TEST_CASE("without registration there are the middle, the jacks' middle, other openings' molds and where it stood") {
    BlockSetup blocks;
    blocks.press.jacks.back().foot_mm.x = 440; // jacks' middle at 20
    blocks.setup.openings.resize(2);
    blocks.setup.openings[0].at_mm = {70, -8};
    Setup setup = blocks.made();
    setup.openings.push_back(setup.openings.front());
    setup.openings[1].at_mm = {-33, 5};
    setup.intermediate_platens.push_back({blocks.press.platen, true, {}});
    setup.intermediate_platens[0].plate.centre_mm = {2, 0};
    const SnapTargets targets = snap_targets(setup, 1);
    const auto at = [&](double x, double y) { return snapped_mold({x, y}, targets, 6); };
    CHECK(at(1, 1).at_mm == Vec2{0, 0});
    CHECK(at(17, 60).at_mm == Vec2{18, 60}); // 20 less the platen's own 2
    CHECK(at(17, 60).words == "over the jacks' middle along");
    CHECK(at(70, -9).at_mm == Vec2{68, -8}); // the other's 70, likewise
    CHECK(at(70, -9).words == "in line with opening 1");
    CHECK(at(-31, 6).at_mm == Vec2{-33, 5});
    CHECK(at(-31, 6).words == "where it stood");
}
