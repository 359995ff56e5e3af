#include "checks/seat/registration.hpp"

#include "checks/phrase.hpp"
#include "checks/seat/seat.hpp"
#include "scene/mesh/shapes.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <memory>

namespace evenclose {

using test::BlockSetup;
using test::near;
using test::within;

namespace {

std::vector<Vec2> ring(Vec2 at, double diameter, int sides) {
    std::vector<Vec2> corners;
    for (int i = 0; i < sides; ++i) {
        const double turn = 2 * std::acos(-1.0) * i / sides;
        corners.push_back(at + 0.5 * diameter * Vec2{std::cos(turn), std::sin(turn)});
    }
    return corners;
}

/// A block 700 x 200 with one hole from `from_z` up to `to_z`, on top of or under solid.
TriangleMesh holed(Vec2 at, double diameter, double solid_from, double solid_to, double hole_from, double hole_to) {
    TriangleMesh mesh = box_shape({-350, -100, solid_from}, {350, 100, solid_to});
    append(mesh, extruded_shape({{{-350, -100}, {350, -100}, {350, 100}, {-350, 100}}, ring(at, diameter, 48)},
                                hole_from, hole_to));
    return mesh;
}

struct Pinned : BlockSetup {
    /// Lower half: block of 80 with a pin 12 thick and `tall` high at (300, 80). Upper half: a hole of `hole` at `at`, 15 deep.
    Pinned(double tall, Vec2 at, double hole) {
        mold.lower.shape = mold.upper.shape = MeshHalf{"half.stl", {}, {}, 0, false};
        auto lower = std::make_shared<TriangleMesh>(box_shape({-350, -100, 0}, {350, 100, 80}));
        append(*lower, cylinder_shape(6, tall, 48), Pose{Mat3{1.0}, {300, 80, 80}});
        mold.lower.mesh = lower;
        mold.upper.mesh = std::make_shared<TriangleMesh>(holed(at, hole, 105, 160, 90, 105));
    }
    [[nodiscard]] std::vector<Finding> judged() {
        const Setup& set = made();
        return check_seat(set, assemble(set));
    }
};

const Finding* about_pin(const std::vector<Finding>& findings) {
    const auto found = std::find_if(findings.begin(), findings.end(), [](const Finding& finding) {
        return finding.title.find("registration pin") != std::string::npos;
    });
    return found == findings.end() ? nullptr : &*found;
}

} // namespace

TEST_CASE("registration: pins and holes by place, diameter and depth, other round or flat things are none") {
    TriangleMesh half = box_shape({-100, -50, 0}, {100, 50, 40});
    append(half, cylinder_shape(6, 15, 32), Pose{Mat3{1.0}, {80, 30, 40}});
    append(half, cone_shape(6, 15, 32), Pose{Mat3{1.0}, {-80, 30, 40}});     // no upright side
    append(half, cylinder_shape(100, 15, 64), Pose{Mat3{1.0}, {0, 0, 40}});  // too thick for a pin
    append(half, box_shape({-90, -40, 40}, {-80, -25, 50}));                 // square
    append(half, tube_shape(10, 4, 12, 32), Pose{Mat3{1.0}, {80, -30, 40}}); // a boss of 20 with a hole of 8 in it
    const std::vector<RoundFeature> found = round_features(half);
    REQUIRE(found.size() == 3);
    CHECK(found[0].pin);
    CHECK(near(found[0].diameter_mm, 12, 1e-9));
    CHECK(near(found[0].centre_mm.x, 80, 1e-9));
    CHECK(near(found[0].from_z_mm, 40, 1e-9));
    CHECK(near(found[0].to_z_mm, 55, 1e-9));
    const auto hole = std::find_if(found.begin(), found.end(), [](const RoundFeature& f) { return !f.pin; });
    REQUIRE(hole != found.end());
    CHECK(near(hole->diameter_mm, 8, 1e-9));
    // Inside out, as some exports are, pins stay pins.
    for (TriangleCorners& t : half.triangles) {
        std::swap(t[1], t[2]);
    }
    CHECK(round_features(half)[0].pin);
}

TEST_CASE("registration: a pin that goes into its hole is a go with what it has to spare") {
    Pinned good(20, {300.1, 80}, 12.5); // the halves stand 10 apart, so 10 of it goes into the hole of 15
    const std::vector<Finding> findings = good.judged();
    const Finding* met = about_pin(findings);
    REQUIRE(met != nullptr);
    CHECK(shown(met->title) == "1 registration pin is met by its hole, the tightest with 0.15 mm to spare");
    CHECK(met->verdict == Verdict::go);
    CHECK(near(*met->value, 0.25 - 0.1, 1e-6));
}

TEST_CASE("registration: beside its hole, too thick, too long, or without a hole") {
    struct Row {
        double tall;
        Vec2 at;
        double hole;
        const char* words;
        const char* remedy;
    };
    const Row rows[] = {
        {20, {300.7, 80}, 12.5, "stands 0.7 mm beside its hole, 0.25 mm would pass", "Bore the hole to 13.8 mm."},
        {20, {300, 80}, 11.9, "is no thinner than its hole of 11.9 mm", "Bore the hole to 12.4 mm."},
        {26,
         {300, 80},
         12.5,
         "grounds in its hole 1 mm before the mold is closed",
         "Shorten the pin by 1.2 mm, or deepen the hole."},
        {20,
         {-300, 80},
         12.5,
         "meets no hole in block mold upper half",
         "Give block mold upper half a hole of 12.4 mm there, or take the pin off."},
    };
    for (const Row& row : rows) {
        CAPTURE(row.words);
        Pinned pinned(row.tall, row.at, row.hole);
        const std::vector<Finding> findings = pinned.judged();
        const Finding* pin = about_pin(findings);
        REQUIRE(pin != nullptr);
        CHECK(pin->verdict == Verdict::no_go);
        CAPTURE(shown(pin->title));
        CHECK(shown(pin->title).find(row.words) != std::string::npos);
        CHECK(shown(pin->remedy) == row.remedy);
        CHECK(near(pin->at_mm->x, 300, 1e-6));
        CHECK(near(pin->at_mm->z, 340 + 100 + 80 + row.tall, 1e-6)); // closed: BlockSetup has risen by 100
    }
}

TEST_CASE("registration: halves without pins say nothing of them") {
    BlockSetup blocks;
    const Setup& setup = blocks.made();
    for (const Finding& finding : check_seat(setup, assemble(setup))) {
        CHECK(finding.title.find("registration") == std::string::npos);
    }
}

} // namespace evenclose
