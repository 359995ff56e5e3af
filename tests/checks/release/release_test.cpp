#include "checks/release/release.hpp"

#include "checks/phrase.hpp"
#include "scene/mesh/shapes.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/checks/cavity/field_half.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>

namespace evenclose {

using test::BlockSetup;
using test::near;
using test::within;

namespace {

const double kDegree = std::acos(-1.0) / 180;

/// A profile in X and Z, 0 to `width_mm` along Y.
TriangleMesh extruded_along_y(const std::vector<Vec2>& profile, double width_mm) {
    // The shape is raised along Z; turned about X by a quarter, its Y becomes Z and its Z becomes -Y.
    return placed(extruded_shape({profile, {}}, 0, width_mm),
                  Pose{Mat3{{1, 0, 0}, {0, 0, 1}, {0, -1, 0}}, {0, width_mm, 0}});
}

/// Base 200 long and 40 high, with a trench 60 wide and 15 deep whose walls lean by `draft` (below 0: undercut).
TriangleMesh trench(double draft_rad) {
    const double out = 15 * std::tan(draft_rad);
    return extruded_along_y(
        {{0, 0}, {200, 0}, {200, 40}, {130 + out, 40}, {130, 25}, {70, 25}, {70 - out, 40}, {0, 40}}, 100);
}

std::vector<Finding> judged(BlockSetup& blocks) {
    const Setup& setup = blocks.made();
    const Assembly assembly = assemble(setup);
    Progress progress;
    return judge(measure_release(setup, assembly, progress), setup, assembly);
}

} // namespace

TEST_CASE("release: a trench's walls, by the angle they were drawn with") {
    const std::vector<Vec2> deck{{10, 10}, {190, 10}, {190, 90}, {10, 90}};
    for (const double degrees : {20.0, 5.0, 2.5}) {
        CAPTURE(degrees);
        const HalfRelease open = release_of(trench(degrees * kDegree), 1, {}, 2 * kDegree);
        CHECK(open.undercut_mm2 == 0);
        CHECK(open.steep_mm2 == 0);
        CHECK(near(open.least_draft_rad, degrees * kDegree, 1e-6));
    }
    const HalfRelease steep = release_of(trench(1 * kDegree), 1, deck, 2 * kDegree);
    CHECK(steep.undercut_mm2 == 0);
    CHECK(within(steep.steep_mm2, 2 * 100 * 15 / std::cos(1 * kDegree), 1e-6)); // whole walls, end to end
    CHECK(near(steep.least_draft_rad, 1 * kDegree, 1e-6));
    CHECK(near(steep.steep_at_mm.z, 32.5, 5.1)); // of a triangle of the wall
}

TEST_CASE("release: walls that lean inward are an undercut, in the lower half as in the upper") {
    const TriangleMesh dovetail = trench(-20 * kDegree);
    const HalfRelease caught = release_of(dovetail, 1, {}, 2 * kDegree);
    CHECK(within(caught.undercut_mm2, 2 * 100 * 15 / std::cos(20 * kDegree), 1e-6));
    CHECK(caught.undercut_high_mm > 4);
    CHECK(caught.undercut_high_mm < 15);
    CHECK(caught.undercut_at_mm.z > 25);

    // Turned over it is an upper half, and the same is told.
    const TriangleMesh over = placed(dovetail, Pose{Mat3{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}, {0, 100, 100}});
    CHECK(within(release_of(over, -1, {}, 2 * kDegree).undercut_mm2, caught.undercut_mm2, 1e-9));
    // Drawn off the way it opens not at all, it is the back that is seen.
    CHECK(release_of(over, 1, {}, 2 * kDegree).undercut_mm2 == 0);

    // Inside out, as some exports are.
    TriangleMesh turned = dovetail;
    for (TriangleCorners& t : turned.triangles) {
        std::swap(t[1], t[2]);
    }
    CHECK(within(release_of(turned, 1, {}, 2 * kDegree).undercut_mm2, caught.undercut_mm2, 1e-9));
}

TEST_CASE("release: what is under the back, in a bore or beside the deck holds nothing") {
    // A bore right through along Y, a foot that stands out below, a handle's groove in the side.
    const TriangleMesh grooved =
        extruded_along_y({{0, 0}, {200, 0}, {200, 10}, {190, 12}, {190, 20}, {200, 22}, {200, 40}, {0, 40}}, 100);
    CHECK(release_of(grooved, 1, {{10, 10}, {180, 10}, {180, 90}, {10, 90}}, 2 * kDegree).undercut_mm2 == 0);
    TriangleMesh bored =
        extruded_shape({{{0, 0}, {200, 0}, {200, 40}, {0, 40}}, {{90, 10}, {90, 30}, {110, 30}, {110, 10}}}, 0, 100);
    bored = placed(bored, Pose{Mat3{{1, 0, 0}, {0, 0, 1}, {0, -1, 0}}, {0, 100, 0}});
    CHECK(release_of(bored, 1, {}, 2 * kDegree).undercut_mm2 == 0);
    CHECK(release_of(box_shape({0, 0, 0}, {200, 100, 40}), 1, {}, 2 * kDegree).undercut_mm2 == 0);
    CHECK(release_of(box_shape({0, 0, 0}, {200, 100, 40}), 1, {}, 2 * kDegree).steep_mm2 == 0);
}

TEST_CASE("release: the seam of two printed pieces is no wall") {
    TriangleMesh pieces = box_shape({0, 0, 0}, {100, 100, 40});
    append(pieces, box_shape({100.1, 0, 0}, {200, 100, 40.05}));
    const HalfRelease half = release_of(pieces, 1, {}, 2 * kDegree);
    CHECK(half.steep_mm2 == 0);
    CHECK(half.undercut_mm2 == 0);
}

TEST_CASE("release: findings say how high, how large, and what to do") {
    BlockSetup blocks;
    const std::vector<Finding> good = judged(blocks);
    REQUIRE(good.size() == 1);
    CHECK(good.front().verdict == Verdict::go);
    CHECK(shown(good.front().title) ==
          "Both halves come off the deck: 90\u00b0 of draft at the steepest place, 2.0\u00b0 wanted");

    const auto as_lower = [&](const TriangleMesh& mesh) {
        blocks.mold.lower.shape = MeshHalf{"lower.stl", {}, {}, 0, false};
        blocks.mold.lower.mesh = test::share(placed(mesh, Pose{Mat3{1.0}, {-100, -50, 40}}));
    };
    as_lower(trench(-20 * kDegree));
    const std::vector<Finding> caught = judged(blocks);
    CHECK(caught.front().verdict == Verdict::no_go);
    CHECK(caught.front().bodies == std::vector<std::string>{"block mold lower half"});
    CHECK(shown(caught.front().title).find("has an undercut of 32 cm\u00b2") != std::string::npos);
    CHECK(caught.front().at_mm.has_value());

    as_lower(trench(1 * kDegree));
    const std::vector<Finding> steep = judged(blocks);
    CHECK(steep.front().verdict == Verdict::marginal);
    CHECK(shown(steep.front().remedy) == "Lean it 1.0\u00b0 more.");
    blocks.setup.limits.least_draft_rad = 0.5 * kDegree;
    CHECK(judged(blocks).front().verdict == Verdict::go);
}

} // namespace evenclose
